#!/usr/bin/python3
"""Golden tests: the whole program, byte for byte.

A case is a folder under cases/ with
    command    one line: the arguments, as a shell would split them (run in the source tree's top folder)
    stdin      what is piped in (optional)
    stdout, stderr, status   what must come out

    golden.py --becket build/src/cli/becket [--update] [CASE...]

--update writes what comes out now; read the difference before it is committed.  Digests of plans and tables are
masked: a remark in a table changes no figure; numbers are compared to nine digits.
"""
import argparse
import difflib
import os
import re
import shlex
import subprocess
import sys

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


def clean(b):
    """Without what is no part of the answer: where the sources lie, digests, digits that are only rounding."""
    b = b.replace(TOP.encode() + b"/", b"")
    b = re.sub(rb"balance to [-+.e0-9]+ of", b"balance to <rounding> of", b)
    b = re.sub(rb"-?\d+\.\d{8,}(e[-+]?\d+)?|-?\d+(\.\d+)?e-\d+", rounded, b)
    return re.sub(rb"\b(?=[0-9a-f]*[a-f])(?=[0-9a-f]*[0-9])(?:[0-9a-f]{64}|[0-9a-f]{16})\b", b"<digest>", b)


def run(program, folder):
    command = read(os.path.join(folder, "command")).decode()
    env = {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C.UTF-8", "BECKET_TABLES": os.path.join(TOP, "tables"),
           "HOME": "/nonexistent", "COLUMNS": "100"}
    env.update({k: v for k, v in os.environ.items() if k.startswith(("ASAN", "UBSAN", "LSAN"))})
    done = subprocess.run([program, *shlex.split(command, comments=True)], input=read(os.path.join(folder, "stdin")),
                          capture_output=True, cwd=TOP, env=env, timeout=60)
    return {"stdout": clean(done.stdout), "stderr": clean(done.stderr), "status": b"%d\n" % done.returncode}


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--becket", default=os.environ.get("BECKET"))
    parser.add_argument("--update", action="store_true")
    parser.add_argument("cases", nargs="*")
    args = parser.parse_args()
    if not args.becket or not os.access(args.becket, os.X_OK):
        print("golden: no program (give --becket PROGRAM)")
        return 77
    program = os.path.abspath(args.becket)
    cases = os.path.join(HERE, "cases")
    passed = failed = 0
    for name in sorted(os.listdir(cases)) if os.path.isdir(cases) else []:
        folder = os.path.join(cases, name)
        if args.cases and name not in args.cases:
            continue
        bad = []
        for what, have in run(program, folder).items():
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
    print("%d passed, %d failed" % (passed, failed))
    if failed:
        print("where the change is meant: python3 tests/golden/golden.py --becket build/becket --update, and read the difference")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
