#!/usr/bin/env python3
"""What the machine does to the program: memory, files, pipes, names.

    faults.py --becket BECKET --tables DIR [--shim SHIM] GROUP

Every fault ends in one clear message and exit status 2, nothing on standard output, no crash, no hang, nothing
left behind.  Groups: memory, reading and writing (want the shim, see shim.c), files, outputs, folders, names.
"""
import argparse
import concurrent.futures
import hashlib
import json
import os
import resource
import shutil
import signal
import stat
import subprocess
import sys
import tempfile
import threading
import time

WAIT_S = 30
failures = []
count = 0


def expect(condition, what):
    global count
    count += 1
    if not condition:
        failures.append(what)
        print("FAILED", what, file=sys.stderr)


def run(arguments, stdin=b"", env=None, stdout=subprocess.PIPE, **more):
    """The program, with a limit on its time; status is a negative number after a signal, None after a hang."""
    everything = dict(os.environ, BECKET_TABLES=options.tables, HOME="/nonexistent", LC_ALL="C.UTF-8", **(env or {}))
    everything.pop("XDG_CONFIG_HOME", None)
    try:
        done = subprocess.run([options.becket, *map(str, arguments)], input=stdin, stdout=stdout,
                              stderr=subprocess.PIPE, env=everything, timeout=WAIT_S * options.slow, **more)
    except subprocess.TimeoutExpired:
        return subprocess.CompletedProcess(arguments, None, b"", b"no answer in time")
    # a build that measures coverage complains where it cannot keep its notes
    done.stderr = b"".join(line for line in done.stderr.splitlines(True) if not line.startswith(b"profiling:"))
    return done


def refused(done, what, *words):
    """Exit status 2, a message with every one of the words, nothing on standard output."""
    err = done.stderr.decode("utf-8", "replace")
    expect(done.returncode == 2, f"{what}: exit status {done.returncode}: {err[:300]}")
    expect(not done.stdout, f"{what}: {len(done.stdout or b'')} bytes on standard output")
    expect(all(word in err for word in words), f"{what}: want {words}, got {err[:300]!r}")
    expect(err.count("\n") < 30, f"{what}: {err.count(chr(10))} lines of message")


def cut(arguments, most, stdout=subprocess.PIPE):
    """The program where no file may grow past some bytes.  A build that measures coverage keeps no notes of it."""
    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
    return run(arguments, stdout=stdout, preexec_fn=limit, env={"GCOV_PREFIX": "/dev/null/none"})


# A plan with something of everything, and tolerances; it passes or fails its checks, and either has advice.
PLAN = """becket: 1
title: faults
rules: en
bodies:
  load:
    mass: 1.7 t ± 5 %
    cog: 0.93 0.04 0.4 m
    points: {a: 0 0 1 m, b: 2 0 1 m, c: {at: 1 0.5 1 m, part: eyebolt-din580/M24}}
rings: {top: {at: 0.9 0.05 2.9 m, part: master-link-en1677-4/22}}
anchors: {hook: {on: bay.t1}}
lines:
  drop: {from: hook, to: top, hoist: main, length: 0.5 m, ea: 40 MN}
  one: {from: top, to: load.a, parts: [chain-en818-4/8]}
  two: {from: top, to: load.b, parts: [chain-en818-4/8, shackle-en13889/2t]}
  three: {from: top, to: load.c, parts: [chain-en818-4/8]}
hoists:
  main:
    part: hoist-demo/2t
    duty: {cycles_per_hour: 20, mean_lift: 3 m, hours_per_day: 8, days_per_year: 220,
           loads: [{of_rated: 100 %, time: 10 %}, {of_rated: 40 %, time: 90 %}]}
runways:
  bay:
    section: ipe/300
    steel: en10025-2/S275
    ends: [-0.5 m, 6.5 m]
    supports: [0 m, 6 m]
    trolleys:
      t1: {hoist: main, travel: [0.3 m, 5.7 m], wheels: 4, wheel_base: 0.20 m, wheel_to_edge: 20 mm, mass: 45 kg}
"""


def write(folder, name, text):
    path = os.path.join(folder, name)
    with open(path, "wb") as file:
        file.write(text if isinstance(text, bytes) else text.encode())
    return path


# ---- memory, reading, writing ---------------------------------------------------------------------

class Counts:
    """What the shim saw: how often each was asked for, blocks still held at the end, and ways to an allocation."""

    def __init__(self, path):
        with open(path) as file:
            lines = [line.split() for line in file]
        self.allocations, self.reads, self.opens, self.writes, self.held = map(int, lines[0])
        self.ways = [(int(n), way) for n, way in lines[1:]]


def counted(arguments, fault, folder, **more):
    """The program under the shim: what happened, and its counts, None where it did not get to its end."""
    where = os.path.join(folder, f"count-{threading.get_ident()}")
    if os.path.exists(where):
        os.remove(where)
    done = run(arguments, env=dict(LD_PRELOAD=options.shim, BECKET_COUNT=where, **fault), **more)
    return done, Counts(where) if os.path.exists(where) else None


def alone(folder):
    """PLAN in a folder of its own: the folder of a plan is searched for tables."""
    place = os.path.join(folder, "plan")
    os.mkdir(place)
    return write(place, "plan.yaml", PLAN)


def everywhere(work, places):
    """work(place) for every place, two at a time: most of the time the program is being started."""
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for _ in pool.map(work, places):
            pass


def memory(folder):
    """Every way to an allocation that a command takes and none before it took: the first allocation there fails."""
    plan = alone(folder)
    table = os.path.join(options.tables, "chain", "chain-en818-4.yaml")
    commands = [["check", plan], ["check", "--json", plan], ["check", "--csv", plan], ["explain", plan, "one"], ["duty", plan],
                ["level", plan], ["tables"], ["tables", "chain-en818-4"], ["tables", "--check", table], ["schema"],
                ["schema", "--manual"], ["angle", "--load", "2 t"], ["new", "bridle"], ["--help"],
                ["new", "bridle", "-o", "OUT.yaml"], ["draw", plan, "--working", "-o", "OUT.pdf"], ["draw", plan, "-o", "OUT.svg"],
                ["draw", plan, "-o", "OUT.png"], ["angle", "-o", "OUT.pdf"]]
    for path in sorted(options.plans):
        commands += [["check", path], ["check", "--json", path], ["explain", path], ["draw", path, "--working", "-o", "OUT.svg"]]
    seen = set()
    depth = {"BECKET_DEPTH": str(options.depth)}
    for command in commands:
        def fail(fault, command=command):
            """In a folder of its own; what is there afterwards."""
            with tempfile.TemporaryDirectory(dir=folder) as own:
                words = [word.replace("OUT.", os.path.join(own, "out.")) for word in command]
                # what pango, cairo and fontconfig do without memory is not ours to say
                ours = {"BECKET_OWN": "1"} if command[0] == "draw" or "OUT.pdf" in command else {}
                done, counts = counted(words, {**fault, **ours}, folder)
                return done, counts, sorted(os.listdir(own))
        whole, counts, made = fail(depth)
        if b"the drawing module" in whole.stderr:
            continue  # built without it
        name = " ".join(os.path.basename(word) for word in command)
        good = whole.returncode in (0, 1)
        expect(counts and (len(made) == ("-o" in command) if good else command[-1] in options.plans or command[1] in options.plans),
               f"{name}: {whole.stderr[:300]}")
        if not counts:
            continue
        places = [n for n, way in counts.ways if way not in seen]
        seen.update(way for _, way in counts.ways)

        def try_one(place, command=command, good=good, whole=whole, counts=counts, made=made, name=name, fail=fail):
            done, then, left = fail({"BECKET_FAIL_ALLOC": place})
            what = f"{name}, allocation {place} of {counts.allocations}"
            if done.returncode in (0, 1) and done.stdout == whole.stdout and left == made:
                return  # the C library found another way, such as writing without a buffer
            if good:
                refused(done, what, "BK-501")
            else:  # a plan that is refused anyway: for its own reason, or for this one
                expect(done.returncode in (2, whole.returncode) and not done.stdout and b"BK-" in done.stderr,
                       f"{what}: exit status {done.returncode}, {done.stderr[:200]}")
            expect(left == [], f"{what}: {left} left behind")
            # fontconfig works on in threads of its own: what it holds at the end is not the same twice
            expect(then is not None and (then.held <= counts.held or "-o" in command),
                   f"{what}: {then and then.held} blocks held, {counts.held} without a fault")
        everywhere(try_one, [str(n) for n in places] + [f"{n}+" for n in places[::3]])
    expect(len(seen) > 300, f"the shim told only {len(seen)} ways to an allocation")


def reading(folder):
    plan = alone(folder)
    for command in (["check", "--json", plan], ["tables", "--check", os.path.join(options.tables, "chain", "chain-en818-4.yaml")],
                    ["angle"]):
        whole, counts = counted(command, {}, folder)
        expect(whole.returncode in (0, 1) and counts is not None, f"{command[0]}: {whole.stderr[:300]}")
        if not counts:
            continue
        done, _ = counted(command, {"BECKET_SHORT": "1"}, folder)
        expect(done.returncode == whole.returncode and done.stdout == whole.stdout, f"{command[0]}: read in pieces, between signals")
        for which, total, words in (("READ", counts.reads, "Input/output error"), ("OPEN", counts.opens, "Too many open files")):
            expect(total > 0, f"{command[0]}: the shim saw no {which}")

            def try_one(n, command=command, whole=whole, counts=counts, which=which, total=total, words=words):
                done, then = counted(command, {f"BECKET_FAIL_{which}": str(n)}, folder)
                what = f"{command[0]}, {which} {n} of {total}"
                if done.stdout == whole.stdout and done.returncode == whole.returncode:
                    return  # opened to see whether it is a table at all: it is read all the same
                refused(done, what, "BK-101", words)
                expect(then is not None and then.held <= counts.held, f"{what}: blocks left held")
            everywhere(try_one, range(1, total + 1))


def writing(folder):
    """Every step of keeping a file fails: what was there stays, nothing else is left.  So does every write to standard
    output: it fails at the end of every block that the C library writes."""
    plan = alone(folder)
    place = os.path.join(folder, "kept")
    os.mkdir(place)
    for command in drawing_commands(plan, place):
        target = command[command.index("-o") + 1]
        if target.endswith((".pdf", ".png")):
            continue  # kept as an SVG is
        for old in (None, b"what was here before"):
            if old and command[0] == "new":
                continue  # never over a plan that is there

            def fresh(old=old, target=target):
                if os.path.exists(target):
                    os.remove(target)
                if old:
                    write(place, os.path.basename(target), old)
            fresh()
            whole, counts = counted(command, {}, folder)
            expect(whole.returncode in (0, 1) and counts and counts.writes >= 6, f"{command[0]}: {whole.stderr[:200]}")
            with open(target, "rb") as file:
                sound = file.read()
            for n in range(1, counts.writes + 1):
                fresh()
                done, _ = counted(command, {"BECKET_FAIL_WRITE": str(n)}, folder)
                what = f"{command[0]} {os.path.basename(target)}, step {n} of keeping"
                refused(done, what, "BK-402", "quota" if n == counts.writes - 1 else "No space left")
                left = {name: open(os.path.join(place, name), "rb").read() for name in os.listdir(place)}
                expect(left == ({os.path.basename(target): old} if old else {}), f"{what}: {sorted(left)} left behind")
                # whoever ends the program finds the whole file, and nothing beside it; after a kill the old one or the new
                for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGKILL):
                    fresh()
                    done, _ = counted(command, {"BECKET_FAIL_WRITE": str(n), "BECKET_SIGNAL": str(int(number))}, folder)
                    left = {name: open(os.path.join(place, name), "rb").read() for name in os.listdir(place)}
                    what = f"{command[0]} {os.path.basename(target)}, {number.name} at step {n} of keeping"
                    expect(done.returncode == -number, f"{what}: exit status {done.returncode}")
                    if number == signal.SIGKILL:
                        expect(left.get(os.path.basename(target)) in (old, sound), f"{what}: a file that is neither old nor new")
                        for name in set(left) - {os.path.basename(target)}:
                            os.remove(os.path.join(place, name))
                    else:
                        expect(left == {os.path.basename(target): sound}, f"{what}: {sorted(left)} left")
            fresh()
            done, _ = counted(command, {"BECKET_SHORT": "1"}, folder)
            with open(target, "rb") as file:
                expect(done.returncode == whole.returncode and file.read() == sound, f"{command[0]}: written in pieces, between signals")
        os.remove(target)

    commands = [["check", plan], ["check", "--json", plan], ["check", "--csv", plan], ["explain", plan], ["tables"], ["schema"],
                ["schema", "--manual"], ["angle", "--csv"], ["new", "bridle"], ["--help"]]
    out = os.path.join(folder, "out")
    for command in commands:
        size = len(run(command).stdout)
        for most in range(0, size, os.stat(folder).st_blksize):
            with open(out, "wb") as file:
                done = cut(command, most, file)
            refused(done, f"{' '.join(command[:2])}, writing after {most} bytes", "BK-402", "File too large")


# ---- files --------------------------------------------------------------------------------------

def files(folder):
    plan = write(folder, "plan.yaml", PLAN)
    fifo = os.path.join(folder, "fifo")
    os.mkfifo(fifo)
    began = time.monotonic()
    refused(run(["check", fifo]), "FIFO without a writer", "BK-101", "pipe")
    expect(time.monotonic() - began < 10, "FIFO without a writer: waited too long")

    def feed(seconds, text):
        time.sleep(0.3)
        with open(fifo, "wb") as pipe:
            time.sleep(seconds)
            pipe.write(text)
    for seconds in (0, 3):
        writer = threading.Thread(target=feed, args=(seconds, PLAN.encode()), daemon=True)
        writer.start()
        done = run(["check", "--json", fifo])
        writer.join(5)
        expect(done.returncode in (0, 1) and json.loads(done.stdout)["title"] == "faults",
               f"FIFO whose writer comes late and waits {seconds} s: {done.returncode} {done.stderr[:200]}")
    writer = threading.Thread(target=feed, args=(0, b""), daemon=True)
    writer.start()
    refused(run(["check", fifo]), "FIFO whose writer writes nothing", "BK-101")
    writer.join(5)

    with subprocess.Popen([options.becket, "check", fifo], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as waiting:
        with open(fifo, "wb"):
            time.sleep(0.2)
            waiting.send_signal(signal.SIGINT)
            out, err = waiting.communicate(timeout=WAIT_S)
    expect(waiting.returncode == -signal.SIGINT and not out, f"interrupted: {waiting.returncode} {err[:200]}")

    refused(run(["check", "/dev/zero"]), "/dev/zero", "BK-102")
    refused(run(["check", "/dev/null"]), "/dev/null", "BK-104", "empty")
    refused(run(["check", folder]), "directory", "BK-101", "directory")
    refused(run(["check", write(folder, "empty.yaml", "")]), "0 bytes", "BK-104", "empty")
    refused(run(["check", "-"]), "0 bytes from standard input", "BK-104", "empty")
    refused(run(["check", os.path.join(folder, "none.yaml")]), "no such file", "BK-101", "No such file")
    refused(run(["check", plan + "/x"]), "a folder that is a file", "BK-101", "Not a directory")
    large = write(folder, "large.yaml", "")
    os.truncate(large, 1 << 30)
    small = {"preexec_fn": lambda: resource.setrlimit(resource.RLIMIT_CPU, (5, 5))}
    refused(run(["check", large], **small), "1 GB of zeros", "BK-102")
    with open(large, "rb") as stream:
        done = subprocess.run([options.becket, "check", "-"], stdin=stream, capture_output=True, timeout=WAIT_S * options.slow)
    refused(done, "1 GB on standard input", "BK-102")
    os.remove(large)
    loop = os.path.join(folder, "loop.yaml")
    os.symlink(loop, loop)
    refused(run(["check", loop]), "link to itself", "BK-101")
    locked_files(folder)

    # the plan's own table, standing beside it, in every wrong form
    beside = os.path.join(folder, "beside")
    os.mkdir(beside)
    rig = ("becket: 1\nbodies: {load: {mass: 1 t, cog: 0 0 0 m, points: {p: 0 0 1 m}}}\nanchors: {hook: {at: 0 0 3 m}}\n"
           "lines: {l: {from: hook, to: load.p, parts: [own/8]}}\n")
    own = os.path.join(beside, "own.yaml")
    rig = write(beside, "rig.yaml", rig)
    good = b"becket_table: 1\ntitle: own\nsource: invented\nmark: demo\ncolumns: {size: name, wll: t}\nrows:\n  - [8, 2]\n"
    for what, make, words in (
            ("not there", lambda: None, ["BK-220"]),
            ("empty", lambda: write(beside, "own.yaml", ""), ["BK-220"]),
            ("no table", lambda: write(beside, "own.yaml", "becket_table: 1\n"), ["own.yaml"]),
            ("cut off", lambda: write(beside, "own.yaml", good[:-6]), ["own.yaml"]),
            ("a directory", lambda: os.mkdir(own), ["BK-220"]),
            ("a FIFO", lambda: os.mkfifo(own), ["BK-220"]),
            ("a link to a FIFO", lambda: os.symlink(fifo, own), ["BK-220"]),
            ("a link to /dev/zero", lambda: os.symlink("/dev/zero", own), ["BK-220"]),
            ("a link to nothing", lambda: os.symlink("/nonexistent", own), ["BK-220"]),
            ("not UTF-8", lambda: write(beside, "own.yaml", b"becket_table: 1\ntitle: \xff\xfe\n"), ["BK-103", "own.yaml"]),
            ("1 GB", lambda: os.truncate(write(beside, "own.yaml", "becket_table: 1\n"), 1 << 30), ["BK-102", "own.yaml"])):
        make()
        refused(run(["check", rig]), f"own table {what}", *words)
        if os.path.isdir(own):
            os.rmdir(own)
        elif os.path.lexists(own):
            os.remove(own)
    # a table that changes all the time: the figures are those of the file whose digest is told
    def wll(t):
        return good.replace(b"[8, 2]", f"[8, {t}]".encode())
    digests = {hashlib.sha256(wll(t)).hexdigest(): t for t in (2, 3)}
    stop = threading.Event()

    def change():
        while not stop.is_set():
            for t in (2, 3):
                os.rename(write(beside, "next", wll(t)), own)
                time.sleep(0.001)
    write(beside, "own.yaml", wll(2))
    changing = threading.Thread(target=change)
    changing.start()
    seen = set()
    for _ in range(30):
        told = json.loads(run(["check", "--json", rig]).stdout)
        limit = next(check["limit"] for check in told["checks"] if check["check"] == "line.wll")
        table = next(table for table in told["tables"] if table["name"] == "own")
        seen.add(digests.get(table["sha256"]))
        expect(abs(limit - 9806.65 * digests.get(table["sha256"], 0)) < 1, f"a table that changes: limit {limit}, digest of {digests.get(table['sha256'])} t")
    stop.set()
    changing.join()
    expect(seen == {2, 3}, f"a table that changes was seen as {seen}")

    refused(run(["check", "--tables", "/nonexistent", rig]), "a folder of tables that is not there", "BK-")
    refused(run(["tables", "--check", fifo]), "table of a FIFO", "BK-101")
    refused(run(["tables", "--check", "/dev/zero"]), "table of /dev/zero", "BK-102")
    refused(run(["tables", "--check", folder]), "table of a folder", "BK-101")


def locked_files(folder):
    """What may not be read; as somebody else where we are root, who may read everything."""
    place = os.path.join(folder, "locked")
    os.mkdir(place)
    someone = {}
    program, tables = options.becket, options.tables
    if os.geteuid() == 0:
        os.chmod(folder, 0o755)
        someone["user"] = 65534
        options.becket = shutil.copy(program, os.path.join(folder, "becket"))
        options.tables = shutil.copytree(tables, os.path.join(folder, "shipped"))
    own = "becket_table: 1\ntitle: own\nsource: invented\nmark: demo\ncolumns: {size: name, wll: t}\nrows:\n  - [8, 2]\n"
    rig = ("becket: 1\nbodies: {load: {mass: 1 t, cog: 0 0 0 m, points: {p: 0 0 1 m}}}\nanchors: {hook: {at: 0 0 3 m}}\n"
           "lines: {l: {from: hook, to: load.p, parts: [own/8]}}\n")
    plan, table = write(place, "rig.yaml", rig), write(place, "own.yaml", own)
    expect(run(["check", plan], **someone).returncode == 1, "a plan and a table that may be read")
    os.chmod(table, 0)
    refused(run(["check", plan], **someone), "unreadable table", "BK-101", "own.yaml", "Permission denied")
    os.chmod(table, 0o644)
    os.chmod(plan, 0)
    refused(run(["check", plan], **someone), "unreadable plan", "BK-101", "Permission denied")
    os.chmod(plan, 0o644)
    refused(run(["draw", plan, "-o", os.path.join(place, "sheet.svg")], **someone), "a folder that may not be written", "BK-402")
    options.becket, options.tables = program, tables


# ---- outputs ------------------------------------------------------------------------------------

def outputs(folder):
    plan = write(folder, "plan.yaml", PLAN)
    commands = [["check", plan], ["check", "--json", plan], ["check", "--csv", plan], ["explain", plan], ["duty", plan],
                ["level", plan], ["tables"], ["schema"], ["angle"], ["--help"], ["--version"], ["check", "--help"]]
    for command in commands:
        what = " ".join(command[:2])
        with open("/dev/full", "wb") as full:
            refused(run(command, stdout=full), f"{what} > /dev/full", "BK-402", "No space left")
        reader, writer = os.pipe()
        os.close(reader)
        done = run(command, stdout=writer)
        expect(done.returncode == 2 and not done.stderr, f"{what} | closed pipe: {done.returncode} {done.stderr[:200]}")
        os.close(writer)
        refused(run(command, preexec_fn=lambda: os.close(1)), f"{what} >&-", "BK-402")
        # a file that may not grow past some bytes
        for most in (0, 1, 100):
            with open(os.path.join(folder, "out"), "wb") as out:
                done = cut(command, most, out)
            size = os.path.getsize(os.path.join(folder, "out"))
            if size == most and done.returncode != 2:
                expect(command == ["--version"] and most == 100, f"{what}: cut at {most} bytes, exit status {done.returncode}")
            elif size >= most:
                refused(done, f"{what}, cut at {most} bytes", "BK-402", "File too large")
    # messages that cannot be written change no exit status
    with open("/dev/full", "wb") as full:
        done = subprocess.run([options.becket, "check", "/nonexistent"], stdout=subprocess.PIPE, stderr=full, timeout=WAIT_S * options.slow)
    expect(done.returncode == 2 and not done.stdout, "messages into /dev/full")

    # drawing and `new -o`: nothing half written stays
    sheets = os.path.join(folder, "sheets")
    os.mkdir(sheets)
    for command in drawing_commands(plan, sheets):
        target = command[command.index("-o") + 1]
        first = run(command)
        if first.returncode == 2 and b"BK-401" in first.stderr:
            continue  # built without it
        expect(first.returncode in (0, 1) and os.path.getsize(target) > 100, f"{command[0]}: {first.stderr[:200]}")
        with open(target, "rb") as file:
            before = file.read()
        if command[0] == "new":
            os.remove(target)
        refused(cut(command, 50), f"{command[0]}, disk full", "BK-402")
        left = sorted(os.listdir(sheets))
        if command[0] == "new":
            expect(left == [], f"{command[0]}: {left} left behind")
        else:
            with open(target, "rb") as file:
                expect(file.read() == before, f"{command[0]}: the old file is lost")
            expect(left == [os.path.basename(target)], f"{command[0]}: {left} left behind")
            os.remove(target)
        missing = list(command)
        missing[missing.index("-o") + 1] = os.path.join(folder, "none", os.path.basename(target))
        refused(run(missing), f"{command[0]} into no folder", "BK-402")


def drawing_commands(plan, sheets):
    listed = run(["--help"]).stdout.decode()
    commands = [["new", "bridle", "-o", os.path.join(sheets, "new.yaml")]]
    if "becket draw" in listed:
        commands += [["draw", plan, "-o", os.path.join(sheets, f"sheet.{kind}")] for kind in ("pdf", "svg", "png")]
    return commands


# ---- folders ------------------------------------------------------------------------------------

def folders(folder):
    """No name in a plan leads out of the folders of tables."""
    shelf = os.path.join(folder, "shelf")
    os.makedirs(os.path.join(shelf, "sub"))
    table = "becket_table: 1\ntitle: t\nsource: invented\nmark: demo\ncolumns: {size: name, wll: t}\nrows:\n  - [8, 2]\n"
    outside = write(folder, "outside.yaml", table)
    write(os.path.join(shelf, "sub"), "inside.yaml", table)
    os.symlink(outside, os.path.join(shelf, "led.yaml"))
    os.symlink(folder, os.path.join(shelf, "way"))
    os.symlink(os.path.join("sub", "inside.yaml"), os.path.join(shelf, "near.yaml"))
    plan = ("becket: 1\nbodies: {{load: {{mass: 1 t, cog: 0 0 0 m, points: {{p: 0 0 1 m}}}}}}\n"
            "anchors: {{hook: {{at: 0 0 3 m}}}}\nlines: {{l: {{from: hook, to: load.p, ea: 1 MN, parts: [{}]}}}}\n")
    os.mkdir(os.path.join(folder, "plans"))

    def check(name):
        path = write(os.path.join(folder, "plans"), "plan.yaml", plan.format(json.dumps(name)))
        return run(["check", "--tables", shelf, path])
    expect(check("inside/8").returncode in (0, 1), "a table in a folder below")
    expect(check("near/8").returncode in (0, 1), "a link that stays below")
    for name in ("../outside/8", "sub/../../outside/8", f"{outside}/8", f"{outside[:-5]}/8", "led/8", "way/outside/8", "outside/8",
                 "/etc/passwd/8", "./outside/8", "sub/inside/8", "..", "/", "//8", "%2e%2e/outside/8", ".../8", "rules/en/8",
                 "~/outside/8"):
        refused(check(name), f"part {name}", "BK-")
    for key in ("../../rules/en", "/etc/passwd", "rules/en", "../en", "./en"):
        path = write(folder, "rules.yaml", f"becket: 1\nrules: {key}\nrunways: {{}}\n")
        refused(run(["check", path]), f"rules {key}", "BK-")


# ---- names --------------------------------------------------------------------------------------

HOSTILE = {
    "escape": "\x1b]0;gone\x07\x1b[2J\x1b[31mred",
    "bell": "a\x07b",
    "c1": "a\u009b31mb",
    "delete": "a\x7fb",
    "bidi override": "abc\u202edef",
    "bidi isolate": "abc\u2066def\u2069",
    "mark": "a\u200fb",
    "line separator": "a\u2028b",
    "carriage return": "a\rb",
    "zero": "a\x00b",
    "line break": "a\nforged\tb",
}
MARKUP = "<script>alert(1)</script>&amp;\"'`${x}]]>--><b>"
UNSAFE = [*range(0, 9), *range(11, 32), 0x7f, *range(0x80, 0xa0), 0x61c, 0x200e, 0x200f, *range(0x2028, 0x202f), *range(0x2066, 0x206a), 0xfeff]


def unsafe_in(data):
    return sorted({hex(ord(c)) for c in data.decode("utf-8", "replace") if ord(c) in UNSAFE})


def names(folder):
    """What a plan calls things may say anything: it is text on the way out, and nothing else."""
    shape = ("becket: 1\ntitle: {n}\nbodies: {{{n}: {{mass: 1 t, cog: 0 0 0 m, points: {{p: 0 0 1 m}}}}}}\n"
             "anchors: {{hook: {{at: 0 0 3 m}}}}\nlines: {{{m}: {{from: hook, to: {b}, ea: 1 MN}}}}\n")
    for what, name in HOSTILE.items():
        for text in (shape.format(n=json.dumps(name), m=json.dumps(name + "2"), b=json.dumps(name + ".p")),
                     f"becket: 1\n{json.dumps(name)}: 1\n", f"becket: {json.dumps(name)}\n",
                     f"becket: 1\nrules: {json.dumps(name)}\n", f"becket: 1\nx: {name}\n"):
            for command in (["check"], ["check", "--json"], ["check", "--csv"], ["explain"], ["duty"], ["level"], ["hooks"]):
                done = run([*command, "-"], stdin=text.encode())
                told = f"{what} by {' '.join(command)}"
                expect(done.returncode in (0, 1, 2, 3), f"{told}: exit status {done.returncode}")
                out = done.stdout.replace(b"\r\n", b"\n") if "--csv" in command else done.stdout  # RFC 4180 ends lines so
                expect(not unsafe_in(out), f"{told}: {unsafe_in(out)} on standard output")
                expect(b"\nforged" not in out + done.stderr, f"{told}: a line of its own making")
                expect(not unsafe_in(done.stderr), f"{told}: {unsafe_in(done.stderr)} on standard error")
        for arguments in (["check", name], [name], ["explain", write(folder, "plan.yaml", PLAN), name], ["tables", name],
                          ["angle", "--load", name], ["check", f"--{name}"], ["check", "--tables", name, "-"], ["new", name],
                          ["draw", os.path.join(folder, "plan.yaml"), "-o", name]):
            if "\x00" in name:
                continue
            done = run(arguments)
            told = f"{what} in {arguments[0]!r} ..."
            expect(done.returncode == 2, f"{told}: exit status {done.returncode}")
            expect(not unsafe_in(done.stderr + done.stdout), f"{told}: {unsafe_in(done.stderr + done.stdout)} echoed")

        # a good plan under a bad name, in a folder of a bad name
        if "\x00" in name:
            continue
        place = os.path.join(folder, "in " + name.replace("/", "-"))
        os.makedirs(place, exist_ok=True)
        path = write(place, name.replace("/", "-") + ".yaml", PLAN)
        write(place, "own" + name.replace("/", "-") + ".yaml", "becket_table: 1\n")
        sound = write(place, "sound.yaml", "becket_table: 1\ntitle: t\nsource: s\nmark: demo\ncolumns: {size: name, wll: t}\nrows:\n  - [8, 2]\n")
        for arguments in (["check", path], ["check", "--json", path], ["check", "--csv", path], ["explain", path], ["duty", path],
                          ["level", path], ["tables", "--tables", place], ["tables", "--tables", place, "sound"],
                          ["tables", "--check", sound], ["draw", path, "-o", os.path.join(place, name.replace("/", "-") + ".svg")]):
            done = run(arguments)
            out = done.stdout.replace(b"\r\n", b"\n") if "--csv" in arguments else done.stdout
            told = f"{what} in the name of a file, {' '.join(arguments[:2])!r}"
            expect(done.returncode in (0, 1, 2), f"{told}: exit status {done.returncode}")
            expect(not unsafe_in(out + done.stderr), f"{told}: {unsafe_in(out + done.stderr)} echoed")
            expect(b"\nforged" not in out + done.stderr, f"{told}: a line of its own making")

    # markup stays text
    text = ("becket: 1\ntitle: {n}\nrules: en\nbodies: {{load: {{mass: 1 t, cog: 0 0 0 m, points: {{p: 0 0 1 m}}}}}}\n"
            "anchors: {{{n}: {{at: 0 0 3 m}}}}\nlines: {{l: {{from: {n}, to: load.p, ea: 1 MN, parts: [{{what: {n}, wll: 2 t}}]}}}}\n"
            ).format(n=json.dumps(MARKUP))
    done = run(["check", "--json", "-"], stdin=text.encode())
    if done.returncode in (0, 1):
        told = json.loads(done.stdout)
        expect(told["title"] == MARKUP, "markup in a title is told as it is")
        expect(told["rig"]["anchors"][0]["name"] == MARKUP, "markup in a name is told as it is")
        path = write(folder, "markup.yaml", text)
        sheet = os.path.join(folder, "markup.svg")
        if run(["draw", path, "-o", sheet]).returncode in (0, 1) and os.path.exists(sheet):
            import xml.etree.ElementTree as tree
            with open(sheet, "rb") as file:
                data = file.read()
            tags = {element.tag.rsplit("}", 1)[-1].lower() for element in tree.fromstring(data).iter()}
            expect(not tags & {"script", "b", "foreignobject", "image", "a"}, f"markup in a sheet: {tags}")
    else:
        refused(done, "markup in names", "BK-")

    # formats of printf are text
    done = run(["check", "--json", "-"], stdin=text.replace(json.dumps(MARKUP)[1:-1], "%s%n%999d").encode())
    expect(done.returncode in (0, 1, 2), f"formats in names: exit status {done.returncode}")
    # a long message from a long word
    done = run(["check", "-"], stdin=b"becket: 1\nrules: " + b"x" * 100000)
    expect(done.returncode == 2 and len(done.stderr) < 2000, f"a long word makes {len(done.stderr)} bytes of message")


def main():
    global options
    groups = {f.__name__: f for f in (memory, reading, writing, files, outputs, folders, names)}
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("group", choices=groups)
    parser.add_argument("--becket", required=True)
    parser.add_argument("--tables", required=True)
    parser.add_argument("--shim")
    parser.add_argument("--module", help="what draws, to stand beside the program where it does not yet")
    parser.add_argument("--depth", type=int, default=2, help="calls that tell one way to an allocation from another")
    parser.add_argument("--plans", nargs="*", default=[], help="memory: these too")
    parser.add_argument("--slow", type=float, default=1.0, help="time limits times this (sanitizers)")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="becket-faults-") as folder:
        if options.module:
            home = os.path.join(folder, "program")
            os.mkdir(home)
            os.symlink(os.path.abspath(options.module), os.path.join(home, "becket-sheet.so"))
            options.becket = shutil.copy(options.becket, home)
        groups[options.group](folder)
    print(f"{options.group}: {count} expectations, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
