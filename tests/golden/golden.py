#!/usr/bin/python3
"""Golden tests: the whole program, byte for byte.

A case is a folder under cases/ with
    command    one line: the arguments, as a shell would split them (run in the source tree's top folder)
    stdin      what is piped in (optional)
    env        NAME=VALUE lines (optional)
    stdout, stderr, status   what must come out

    golden.py --becket build/src/cli/becket [--update] [CASE...]

--update writes what comes out now; read the difference before it is committed.  Digests of plans and tables are
masked: a remark in a table changes no figure; numbers are compared to nine digits.  Every case is run twice, the second
time in a locale with a decimal comma where there is one: every byte must be the same.
"""
import argparse
import difflib
import os
import re
import shlex
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
TOP = os.path.dirname(os.path.dirname(HERE))


def read(path):
    try:
        with open(path, "rb") as f:
            return f.read()
    except FileNotFoundError:
        return b""


def rounded(number):
    """Nine digits of a long number, and 0 for what is only rounding: another libm may differ beyond."""
    value = float(number[0])
    return b"0" if abs(value) < 1e-9 else b"%.9g" % value


def clean(b, tables=os.path.join(TOP, "tables")):
    """Without what is no part of the answer: where the sources lie, digests, digits that are only rounding."""
    b = b.replace(tables.encode() + b"/", b"tables/").replace(TOP.encode() + b"/", b"")
    b = re.sub(rb"balance to [-+.e0-9]+ of", b"balance to <rounding> of", b)
    b = re.sub(rb"-?\d+\.\d{8,}(e[-+]?\d+)?|-?\d+(\.\d+)?e-\d+", rounded, b)
    return re.sub(rb"\b(?=[0-9a-f]*[a-f])(?=[0-9a-f]*[0-9])(?:[0-9a-f]{64}|[0-9a-f]{16})\b", b"<digest>", b)


def comma_locale(folder):
    """Environment of a locale that writes 2,5: one that is installed, or made in folder; else the plain one."""
    wanted = ["de_DE.utf8", "de_DE.UTF-8", "fr_FR.utf8", "fr_FR.UTF-8", "nl_NL.utf8"]
    try:
        known = subprocess.run(["locale", "-a"], capture_output=True).stdout.decode(errors="replace").split()
        for name in wanted:
            if name in known:
                return {"LC_ALL": name}
        made = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", os.path.join(folder, "de_DE.UTF-8")], capture_output=True)
        if made.returncode == 0:
            return {"LC_ALL": "de_DE.UTF-8", "LOCPATH": folder}
    except OSError:
        pass
    return {}


def run(program, folder, locale, tables, quick):
    """What comes out, the same twice or not: once in the plain locale, once in one with a decimal comma."""
    command = shlex.split(read(os.path.join(folder, "command")).decode(), comments=True)
    env = {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C.UTF-8", "BECKET_TABLES": tables,
           "HOME": "/nonexistent", "COLUMNS": "100"}
    env.update(line.split("=", 1) for line in read(os.path.join(folder, "env")).decode().splitlines())
    env.update({k: v for k, v in os.environ.items() if k.startswith(("ASAN", "UBSAN", "LSAN", "LD_LIBRARY_PATH"))})
    runs = [subprocess.run([program, *command], input=read(os.path.join(folder, "stdin")), capture_output=True,
                                  cwd=TOP, env={**env, **more}, timeout=60) for more in [{}, locale][:2 - quick]]
    once, again = runs[0], runs[-1]
    same = (once.stdout, once.stderr, once.returncode) == (again.stdout, again.stderr, again.returncode)
    return {"stdout": clean(once.stdout, tables), "stderr": clean(once.stderr, tables), "status": b"%d\n" % once.returncode}, same


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--becket", default=os.environ.get("BECKET"))
    parser.add_argument("--quick", action="store_true", help="once only, to the first failure")
    parser.add_argument("--tables", default=os.path.join(TOP, "tables"))
    parser.add_argument("--update", action="store_true")
    parser.add_argument("cases", nargs="*")
    args = parser.parse_args()
    if not args.becket or not os.access(args.becket, os.X_OK):
        print("golden: no program (give --becket PROGRAM)")
        return 77
    program = os.path.abspath(args.becket)
    cases = os.path.join(HERE, "cases")
    passed = failed = 0
    made = tempfile.TemporaryDirectory()
    locale = {} if args.quick else comma_locale(made.name)
    for name in sorted(os.listdir(cases)) if os.path.isdir(cases) else []:
        folder = os.path.join(cases, name)
        if args.cases and name not in args.cases:
            continue
        now, same = run(program, folder, locale, os.path.abspath(args.tables), args.quick)
        bad = [] if same else ["another run%s gives something else\n" % (" in a locale with a decimal comma" if locale else "")]
        for what, have in now.items():
            path = os.path.join(folder, what)
            if args.update:
                if have or what == "status":
                    with open(path, "wb") as f:
                        f.write(have)
                elif os.path.exists(path):
                    os.remove(path)
            elif read(path) != have:
                bad.append("".join(difflib.unified_diff(
                    read(path).decode(errors="replace").splitlines(True), have.decode(errors="replace").splitlines(True),
                    "%s/%s" % (name, what), "now", n=1)))
        if bad:
            print("FAIL %s\n%s" % (name, "\n".join(b[:4000] for b in bad)))
        passed += not bad
        failed += bool(bad)
        if bad and args.quick:
            break
    print("%d passed, %d failed" % (passed, failed))
    if failed:
        print("where the change is meant: python3 tests/golden/golden.py --becket build/becket --update, and read the difference")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
