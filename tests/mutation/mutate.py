#!/usr/bin/python3
"""Mutation tester: makes one small mistake at a time and asks whether the tests see it.

    mutate.py [--build build] [--sample 40] [--seed 1] [--file src/statics/hang.c | --room statics | --tables]...
              [--golden] [--acceptance] [--list]

Of C: an operator flipped (+ - * / < <= > >= == != && ||), sin and cos or fmin and fmax swapped, a term or a factor
dropped, a condition negated, a coefficient changed by a tenth, an integer by one; allocations and their checks aside.  Of tables and rule sets: a number
changed by a tenth.  Each mutant is one change of one token in one file.

Method.  A mutant costs one compilation, and a link of every program that is run: its object stands before the archive
of a finished build, from which all else comes.  Sources and build stay as they are.  The programs named for the file's
room run first, then all others, until one fails: then the mutant is killed, as it is by a crash or by passing the time
limit.  What does not compile, or becomes the same object as before, is no mutant and is not counted.  What all programs
pass goes to the golden cases and to the acceptance tests, where asked.

Prints every survivor with its line before and after, then killed and all, per file and in total.  Exit status 0.
"""
import argparse
import filecmp
import glob
import json
import os
import random
import re
import resource
import shlex
import shutil
import subprocess
import sys
import tempfile
import time

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
FIRST = {  # the programs that see a mistake of a room soonest
    "statics": ["test_statics", "test_reference_statics", "test_search", "test_bounds", "test_liar", "test_envelope", "test_property_statics"],
    "runway": ["test_runway", "test_reference_runway", "test_property_runway"],
    "section": ["test_section", "test_reference_section", "test_reference_tables"],
    "hoist": ["test_hoist", "test_reference_hoist", "test_property_hoist", "test_hoist_checks", "test_guarded"],
    "checks": ["test_checks", "test_check_cases", "test_hoist_checks", "test_strength", "test_strength_cases", "test_reference_strength_en", "test_reference_strength_us",
               "test_reference_strength_sweep", "test_reference_strength_edges", "test_reference_ltb", "test_reference_flange", "test_reference_flexible", "test_reference_tackle", "test_gear", "test_guarded"],
    "advice": ["test_advice", "test_guarded"],
    "assessment": ["test_checks", "test_check_cases", "test_hoist_checks", "test_guarded"],
    "cases": ["test_envelope", "test_checks", "test_guarded"],
    "angle": ["test_reference_angle"],
    "quantity": ["test_quantity", "test_reference_units"],
    "tables": ["test_reference_tables", "test_tables", "test_checks", "test_strength", "test_hoist_checks"],
}
WRAPPED = {"test_liar": ["-Wl,--wrap=bk_statics_solve"]}
NOT_RUN = ["test_no_memory", "test_no_memory_runway",  # what only memory that runs out would tell is no mutant here
           "test_quantity_locale", "test_reference_ccx_beam"]
TYPES = set("double float int char void bool size_t unsigned long const struct return case sizeof".split())
TOKEN = re.compile(r'''(?P<skip>/\*.*?\*/|//[^\n]*|^[ \t]*\#(?:[^\n\\]|\\.|\\\n)*|\s+)|(?P<text>"(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*')'''
                   r'''|(?P<num>(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?[fFuUlL]*|0[xX][0-9a-fA-F]+)|(?P<id>[A-Za-z_]\w*)'''
                   r'''|(?P<op>->|\+\+|--|<<|>>|<=|>=|==|!=|&&|\|\||[-+*/%]=|.)''', re.S | re.M)
FLIP = {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*=", "<": "<=", "<=": "<",
        ">": ">=", ">=": ">", "==": "!=", "!=": "==", "&&": "||", "||": "&&"}
TURN = {"<": ">=", "<=": ">", ">": "<=", ">=": "<"}
SWAP = {"sin": "cos", "cos": "sin", "fmin": "fmax", "fmax": "fmin", "floor": "ceil", "ceil": "floor", "bk_vec3_add": "bk_vec3_sub",
        "bk_vec3_sub": "bk_vec3_add"}
STOP = set(", ; ? : < > <= >= == != && || = += -= *= /= { }".split())


def changed(number):
    """A tenth more, or one more; None where that would not be a change of a figure."""
    if re.fullmatch(r"\d+", number):
        return str(int(number) + 1), "integer by one"
    if re.search(r"[xXuUlL]", number):
        return None
    value = float(number.rstrip("fF"))
    return repr(value * 1.1 if value else 0.1), "coefficient by a tenth"


def mutants_of_c(text):
    """(start, end, replacement, kind) of every mutant."""
    tokens = [(m.lastgroup, m.group(), m.start(), m.end()) for m in TOKEN.finditer(text) if m.lastgroup != "skip"]
    brackets, asserted, depth = [], None, 0
    for i, (kind, word, start, end) in enumerate(tokens):
        before = tokens[i - 1] if i else ("op", ";", 0, 0)
        if kind == "op" and word in "([{":
            depth += 1
            brackets.append(word)
        if kind == "op" and word in ")]}":
            depth -= 1
            if brackets:
                brackets.pop()
            if asserted is not None and depth <= asserted:
                asserted = None
        if word in ("assert", "static_assert") and asserted is None:
            asserted = depth
        if asserted is not None or "{" not in brackets and "(" not in brackets and kind != "num":
            continue
        # what only memory that runs out would tell is asked of every allocation by tests/faults
        line = text[text.rfind("\n", 0, start) + 1:text.find("\n", end)]
        if re.search(r"alloc\(|BK_NEW|NOMEM|if \(!\w+(->\w+)* (\|\||&&) !\w+", line) or re.match(r"\s*(![\w>-]+( \|\| )?)+\)", line):
            continue
        spaced = text[end:end + 1].isspace()
        value = before[0] == "num" or before[1] in (")", "]") or before[0] == "id" and before[1] not in TYPES
        if kind == "op" and word in FLIP and spaced and (value or before[0] == "text"):
            yield start, end, FLIP[word], "flip"
            if word in TURN:
                yield start, end, TURN[word], "turn"
            if word in ("+", "-", "*", "/"):
                last, level = None, 0
                for follow in tokens[i + 1:]:
                    if level == 0 and (follow[1] in STOP or follow[1] in ("+", "-") and last is not None
                                       or word in ("*", "/") and follow[1] in ("*", "/")):
                        break
                    level += follow[1] in ("(", "[", "{")
                    level -= follow[1] in (")", "]", "}")
                    if level < 0:
                        break
                    last = follow[3]
                if last is not None:
                    yield start, last, "", "drop"
        if kind == "op" and word == "!":
            yield start, end, "", "negate"
        if kind == "id" and word in SWAP and i + 1 < len(tokens) and tokens[i + 1][1] == "(":
            yield start, end, SWAP[word], "swap"
        if kind == "id" and word in ("if", "while") and tokens[i + 1][1] == "(":
            yield end, end, " (!", "negate"  # closed below
        if kind == "num" and "[" not in brackets:
            new = changed(word)
            if new:
                yield start, end, new[0], new[1]


def close(text, start):
    """Text whose condition at start, opened by one bracket more, is closed again."""
    level, at = 0, text.index("(", start + 3)
    for m in TOKEN.finditer(text, at):
        if m.lastgroup == "op" and m.group() in "()":
            level += 1 if m.group() == "(" else -1
            if level == 0:
                return text[:m.end()] + ")" + text[m.end():]
    return text


def mutants_of_yaml(text, rules):
    """Numbers of the rows of a table, or the values of a rule set, a tenth more."""
    at = text.find("\nvalues:" if rules else "\nrows:")
    here = 0
    for line in text.splitlines(True):
        bare = re.sub(r'"[^"]*"|#.*|(source|note|mark): ("[^"]*"|[^,}]*)', lambda m: " " * len(m.group()), line)
        numbers = list(re.finditer(r"(?<![\w/.*-])(?<!\d )\d+(\.\d+)?(?![\w/.-])(?=\s*[,\]}]|\s+[a-zA-Z%]|\s*$)", bare))
        if here > at >= 0:
            first = re.match(r"\s*- \[\s*", line)  # the row's own name
            for m in numbers:
                if not (first and m.start() <= first.end()) and bare[:m.start()].rstrip()[-1:] in "[,:":  # not a digit within words
                    new = "%.10g" % (float(m.group()) * 1.1 if float(m.group()) else 0.1)
                    yield here + m.start(), here + m.end(), new, "figure by a tenth"
        here += len(line)


class Suite:
    """The test programs of a build, and how to link them with a mutant."""

    def __init__(self, build, folder, limit):
        self.build, self.folder, self.limit = os.path.abspath(build), folder, limit
        with open(os.path.join(self.build, "compile_commands.json")) as f:
            commands = json.load(f)
        self.commands = {os.path.relpath(os.path.join(self.build, c["file"]), TOP): c for c in commands
                         if c["output"].startswith("libbecket-core.a.p")}
        last = subprocess.run(["ninja", "-C", self.build, "-t", "commands", "tests/unit/test_base"], capture_output=True, text=True,
                              check=True)
        words = shlex.split(last.stdout.strip().splitlines()[-1])
        self.libs = [w for w in words if w.startswith("-l") or re.search(r"\.so[.\d]*$", w)] + ["-lm"]
        self.libs += shlex.split(subprocess.run(["pkg-config", "--libs", "check"], capture_output=True, text=True).stdout)
        self.env = {**os.environ, "CK_FORK": "no", "BECKET_TABLES": os.path.join(TOP, "tables"), "LC_ALL": "C.UTF-8"}
        self.parts = {}
        for d in glob.glob(os.path.join(self.build, "tests", "*", "test_*.p")) + [os.path.join(self.build, "becket.p")]:
            self.parts[os.path.basename(d)[:-2]] = glob.glob(os.path.join(d, "*.o"))
        self.becket = self.link("becket", None)
        self.seconds = {}
        for name in [n for n in self.parts if n != "becket" and n not in NOT_RUN]:
            began = time.monotonic()
            if not self.passes(name, None, self.env):
                sys.exit("mutate: fails without a mutant: " + name)
            self.seconds[name] = time.monotonic() - began

    def link(self, name, own):
        """The program, with the mutant's object in place of that of the build."""
        out = os.path.join(self.folder, name)
        subprocess.run(["cc", "-Wl,--strip-debug", "-o", out, *WRAPPED.get(name, []), *self.parts[name], *([own] if own else []),
                        os.path.join(self.build, "libbecket-core.a"), *self.libs], check=True, cwd=self.build)
        return out

    def compile(self, file, source, out):
        c = self.commands[file]
        words = [w for w in shlex.split(c["command"]) if w != "-g" and w != "-Werror"]
        words[words.index("-o") + 1] = out
        words[words.index("-c") + 1] = source
        for flag in ("-MF", "-MQ"):
            at = words.index(flag)
            del words[at:at + 2]
        words = [w for w in words if w != "-MD"]
        words += ["-w", "-O1", "-iquote", os.path.join(TOP, os.path.dirname(file))]
        return subprocess.run(words, cwd=self.build, capture_output=True).returncode == 0

    def passes(self, name, own, env):
        program = self.link(name, own)

        def frugal():
            resource.setrlimit(resource.RLIMIT_AS, (1 << 31, 1 << 31))
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
            resource.setrlimit(resource.RLIMIT_FSIZE, (1 << 26, 1 << 26))
        try:
            return subprocess.run([program], env=env, timeout=self.limit, preexec_fn=frugal, cwd=TOP,
                                  stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0
        except subprocess.TimeoutExpired:
            return False

    def killer(self, room, own, env, golden, acceptance):
        """Name of what saw the mutant, or None."""
        if room == "tables":
            figures = subprocess.run(["/usr/bin/python3", "tests/reference/figures.py", env["BECKET_TABLES"]], cwd=TOP, stdout=subprocess.DEVNULL)
            if figures.returncode not in (0, 77):
                return "figures"
        first = [n for n in FIRST.get(room, []) if n in self.seconds]
        others = [n for n in self.seconds if n not in first and self.seconds[n] < 2]
        for name in sorted(first, key=self.seconds.get) + sorted(others, key=self.seconds.get):
            if not self.passes(name, own, env):
                return name
        if golden or acceptance:
            self.becket = self.link("becket", own)
        scripts = golden * [("golden", ["tests/golden/golden.py", "--quick", "--tables", env["BECKET_TABLES"]])]
        scripts += acceptance * [("acceptance", ["tests/acceptance/verify.py", "--quiet", "--tables", env["BECKET_TABLES"]])]
        for name, words in scripts:
            try:
                run = subprocess.run(["/usr/bin/python3", *words, "--becket", self.becket], env=env, cwd=TOP, timeout=300,
                                     stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
                if run.returncode not in (0, 77):
                    return name
            except subprocess.TimeoutExpired:
                return name
        return None


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--build", default=os.path.join(TOP, "build"))
    parser.add_argument("--sample", type=int, default=40, help="mutants a room, spread over its files; 0: all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--file", action="append", default=[])
    parser.add_argument("--room", action="append", default=[])
    parser.add_argument("--tables", action="store_true", help="numbers of tables and rule sets")
    parser.add_argument("--golden", action="store_true")
    parser.add_argument("--acceptance", action="store_true")
    parser.add_argument("--limit", type=float, default=30, help="seconds a program may take")
    parser.add_argument("--line", type=int, help="only mutants of this line of --file")
    parser.add_argument("--list", action="store_true", help="print the mutants, run nothing")
    args = parser.parse_args()

    groups = {}
    for file in args.file:
        file = os.path.relpath(os.path.abspath(file), TOP)
        groups.setdefault("tables" if file.startswith("tables") else file.split("/")[1], []).append(file)
    for room in args.room or ([] if args.file or args.tables else ["statics", "runway", "section", "hoist", "checks", "advice", "angle", "quantity"]):
        groups[room] = sorted(os.path.relpath(f, TOP) for f in glob.glob(os.path.join(TOP, "src", room, "*.c")))
    if args.tables:
        groups["tables"] = sorted(os.path.relpath(f, TOP) for f in glob.glob(os.path.join(TOP, "tables", "*", "*.yaml")))

    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        suite = None if args.list else Suite(args.build, folder, args.limit)
        total = [0, 0]
        for room, files in groups.items():
            chance = random.Random("%d %s" % (args.seed, room))
            choice = []
            for file in files:
                with open(os.path.join(TOP, file), encoding="utf-8") as f:
                    text = f.read()
                found = mutants_of_yaml(text, "/rules/" in file) if file.endswith(".yaml") else mutants_of_c(text)
                choice += [(file, text, m) for m in found if args.line in (None, text.count("\n", 0, m[0]) + 1)]
            chance.shuffle(choice)
            wanted = args.sample or len(choice)
            counts, by = {}, {}
            for file, text, (start, end, new, kind) in choice:
                if sum(c[1] for c in counts.values()) >= wanted:
                    break
                mutant = text[:start] + new + text[end:]
                if new == " (!":
                    mutant = close(mutant, start)
                number = text.count("\n", 0, start)
                was, now = text.splitlines()[number].strip(), mutant.splitlines()[number].strip()
                if args.list:
                    print("%s:%d: %s\n  - %s\n  + %s" % (file, number + 1, kind, was, now))
                    counts.setdefault(file, [0, 0])[1] += 1
                    continue
                own = os.path.join(folder, "own")
                shutil.rmtree(own, ignore_errors=True)
                os.mkdir(own)
                env, compiled = dict(suite.env), None
                if file.endswith(".yaml"):
                    tables = os.path.join(own, "tables")
                    shutil.copytree(os.path.join(TOP, "tables"), tables)
                    with open(os.path.join(own, file), "w", encoding="utf-8") as f:
                        f.write(mutant)
                    env["BECKET_TABLES"] = tables
                else:
                    source, plain = os.path.join(own, os.path.basename(file)), os.path.join(folder, file.replace("/", "_") + ".o")
                    if not os.path.exists(plain):
                        with open(source, "w", encoding="utf-8") as f:  # from the same path, so that asserts read alike
                            f.write(text)
                        suite.compile(file, source, plain)
                    with open(source, "w", encoding="utf-8") as f:
                        f.write(mutant)
                    if not suite.compile(file, source, os.path.join(own, "own.o")) or filecmp.cmp(plain, os.path.join(own, "own.o"), False):
                        continue
                    compiled = os.path.join(own, "own.o")
                killer = suite.killer(room, compiled, env, args.golden, args.acceptance)
                c = counts.setdefault(file, [0, 0])
                c[0] += killer is not None
                c[1] += 1
                by[killer] = by.get(killer, 0) + 1
                if killer is None:
                    print("SURVIVES %s:%d: %s\n  - %s\n  + %s" % (file, number + 1, kind, was, now), flush=True)
            for file in sorted(counts):
                if len(counts) > 1 and not args.list:
                    print("  %-40s %3d of %3d" % (file, *counts[file]))
            killed, made = [sum(c[i] for c in counts.values()) for i in (0, 1)]
            print("%s: %d of %d killed (%.1f %%), of %d possible; by %s" % (
                room, killed, made, 100 * killed / max(made, 1), len(choice),
                ", ".join("%s %d" % (k, n) for k, n in sorted(by.items(), key=lambda p: -p[1]) if k)), flush=True)
            total = [total[0] + killed, total[1] + made]
        print("%d of %d killed" % tuple(total))


if __name__ == "__main__":
    main()
