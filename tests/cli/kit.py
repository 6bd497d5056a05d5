"""What the tests of the command share: running it, and counting."""
import os
import subprocess
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
KINDS = ["bridle", "spreader", "two-hooks", "runway", "hanging-truss"]
SANITIZERS = {k: v for k, v in os.environ.items() if k.startswith(("ASAN", "UBSAN", "LSAN"))}


class Becket:
    """The program, in the source tree's top folder, with the tree's tables and nobody's settings."""

    def __init__(self, program):
        self.program = os.path.abspath(program)

    def run(self, *arguments, stdin="", env=None, cwd=TOP):
        environment = {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C.UTF-8", "HOME": "/nonexistent", "COLUMNS": "100",
                       "BECKET_TABLES": os.path.join(TOP, "tables"), **SANITIZERS, **(env or {})}
        data = stdin if isinstance(stdin, bytes) else stdin.encode()
        done = subprocess.run([self.program, *arguments], input=data, capture_output=True, cwd=cwd, env=environment, timeout=60)
        return done.returncode, done.stdout.decode(), done.stderr.decode()


class Count:
    """Says what failed, and sums up."""

    def __init__(self):
        self.passed = self.failed = 0

    def check(self, good, what):
        self.passed += bool(good)
        self.failed += not good
        if not good:
            print("FAIL", what)
        return good

    def finish(self):
        print("%d passed, %d failed" % (self.passed, self.failed))
        sys.exit(1 if self.failed else 0)
