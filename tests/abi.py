#!/usr/bin/env python3
"""What programs linked with libbecket rely on, held to tests/abi.txt: a change there is meant, or it is a mistake.

    abi.py --library libbecket.so --include DIR --cc CC [--update]

The library exports every function that a public header declares and nothing else.  The functions with their types,
every struct with its size and the place of each member, and every constant are what the file lists, as the compiler
itself tells them (gcc -aux-info, DWARF).  Sizes are those of x86-64; elsewhere only names are compared.
Exit status 77 (skipped) without gcc, nm or readelf.
"""
import argparse
import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))


def told(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def functions(listing):
    """name -> type of every function that a header of becket declares and does not define, from -aux-info."""
    found = {}
    for line in open(listing):
        match = re.match(r"/\* \S*becket/\w+\.h:\d+:N\w \*/ extern (.*?\b(bk_\w+) \(.*\));", line)
        if match:
            found[match[2]] = match[1]
    return found


def layouts(dump):
    """Structs "name size: member@offset ..." and constants "name value", from readelf --debug-dump=info."""
    entries, stack = [], []
    for line in dump.splitlines():
        match = re.match(r" <(\w+)><\w+>: Abbrev Number: (\d+)(?: \(DW_TAG_(\w+)\))?", line)
        if match:
            level = int(match[1], 16)
            if match[2] == "0":
                continue
            entry = {"tag": match[3], "in": [], "is": {}}
            del stack[level:]
            if stack:
                stack[-1]["in"].append(entry)
            else:
                entries.append(entry)
            stack.append(entry)
            continue
        match = re.match(r" +<\w+> +DW_AT_(\w+) *: (?:\(.*?\): )?(.*?) *$", line)
        if match and stack:
            stack[-1]["is"][match[1]] = match[2]
    rows = []
    for unit in entries:
        for entry in unit["in"]:
            name = entry["is"].get("name", "")
            if entry["tag"] == "structure_type" and name.startswith("bk_") and "byte_size" in entry["is"]:
                members = [f"{m['is'].get('name', '-')}@{m['is'].get('data_member_location', '0')}" for m in entry["in"] if m["tag"] == "member"]
                rows.append(f"struct {name} {entry['is']['byte_size']}: {' '.join(members)}")
            if entry["tag"] == "enumeration_type":
                rows += [f"constant {m['is']['name']} {m['is']['const_value']}" for m in entry["in"] if m["is"].get("name", "").startswith("BK_")]
    return rows


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--library", required=True)
    parser.add_argument("--include", required=True)
    parser.add_argument("--cc", required=True)
    parser.add_argument("--update", action="store_true")
    options = parser.parse_args()
    if not shutil.which("nm") or not shutil.which("readelf") or "Free Software Foundation" not in told(options.cc, "--version"):
        print("no gcc, nm or readelf")
        return 77
    with tempfile.TemporaryDirectory(prefix="becket-abi-") as folder:
        source, listing, compiled = (os.path.join(folder, name) for name in ("all.c", "aux", "all.o"))
        with open(source, "w") as file:
            for header in sorted(os.listdir(os.path.join(options.include, "becket"))):
                file.write(f"#include <becket/{header}>\n")
        told(options.cc, "-std=c17", "-I", options.include, "-aux-info", listing, "-gdwarf-4", "-fno-eliminate-unused-debug-types",
             "-c", source, "-o", compiled)
        declared = functions(listing)
        rows = [f"function {declared[name]}" for name in sorted(declared)] + sorted(set(layouts(told("readelf", "--debug-dump=info", compiled))))

    failed = []
    exported = {line.split()[2] for line in told("nm", "-D", "--defined-only", options.library).splitlines()}
    exported = {name for name in exported if not name.startswith("__")}  # the compiler's own, for coverage and sanitizers
    failed += [f"declared, but not exported: {name}" for name in sorted(set(declared) - exported)]
    failed += [f"exported, but declared in no public header: {name}" for name in sorted(exported - set(declared))]
    soname = re.search(r"SONAME.*\[(.*)\]", told("readelf", "-d", options.library))
    rows.insert(0, f"soname {soname[1] if soname else 'none'}")

    path = os.path.join(HERE, "abi.txt")
    if options.update:
        with open(path, "w") as file:
            file.write("\n".join(rows) + "\n")
    with open(path) as file:
        known = file.read().splitlines()
    if platform.machine() != "x86_64":
        rows, known = ([re.sub(r"(?<=[ @])\d+", "", row) for row in rows] for rows in (rows, known))
    failed += [f"no more as in abi.txt: {row}" for row in known if row not in rows]
    failed += [f"not in abi.txt: {row}" for row in rows if row not in known]
    for text in failed:
        print(text)
    if failed:
        print("where that is meant:", " ".join(sys.argv), "--update; and a new soversion in meson.build once there are programs out there")
    print(f"{len(declared)} functions, {sum(row.startswith('struct') for row in rows)} structs, "
          f"{sum(row.startswith('constant') for row in rows)} constants, {len(failed)} differences")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
