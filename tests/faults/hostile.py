#!/usr/bin/env python3
"""Broken plans, tables and rule sets: by hand, one mistake each, and by chance out of the examples.

    hostile.py --becket BECKET --tables DIR --examples DIR [--chance N] [--seed SEED]

A mistake is told on the line where it stands, with a word of what was wanted or found; nothing is on standard output,
nothing crashes, waits or grows.  By chance: whatever becomes of a plan, it is answered or refused like that.
"""
import argparse
import glob
import os
import random
import re
import resource
import subprocess
import sys
import tempfile

import yaml

PLAN = """becket: 1
title: broken
rules: en
bodies:
  load:
    mass: 1.3 t
    cog: 0.5 0.1 0 m
    points: {a: 0 0 1 m, b: 1 0 1 m, c: 0.4 0.7 1 m}
rings: {top: {at: 0.5 0.1 2 m}}
anchors: {hook: {at: 0.5 0.1 3 m}}
lines:
  drop: {from: hook, to: top, ea: 10 MN, parts: [hook-en1677-2/13]}
  one: {from: top, to: load.a, parts: [chain-en818-4/10]}
  two: {from: top, to: load.b, parts: [chain-en818-4/10]}
  three: {from: top, to: load.c, parts: [chain-en818-4/10]}
"""
CHAIN = "[chain-en818-4/10]"
IN_PLAN = [  # what stands there, what is put there, a word of the message; where it is told, if not there
    # the text
    ("title: broken", "title: a\0b", "U+0000"), ("title: broken", "title: a\x1b[31m", "U+001B"), ("title: broken", "title: \x7f", "U+007F"),
    ("title: broken", "title: \u202eb", "U+202E"), ("title: broken", "title: \ufeff", "U+FEFF"), ("title: broken", b"title: \xff", "0xFF"),
    ("title: broken", b"title: Gr\xfc\xdfe", "0xFC"), ("title: broken", b"title: \xc0\xaf", "0xC0"), ("title: broken", b"title: \xed\xa0\x80", "0xED"),
    ("title: broken", b"title: \xe2\x82", "0xE2"), ("title: broken", 'title: "\\x1b]0;x\\x07"', "U+001B"), ("title: broken", 'title: "\\0"', "U+0000"),
    ("title: broken", 'title: "\\ud83d"', "no Unicode character"), ("title: broken", 'title: "\\U00110000"', "no Unicode character"),
    ("title: broken", 'title: "\\q"', "backslash"), ("title: broken", 'title: "\\x4"', "hexadecimal"), ("title: broken", "title: " + "x" * 3000, "2000"),
    ("title: broken", "title: |\n  a\n  b", "line break"), ("title: broken", 'title: "a\\nb"', "line break"),
    # YAML
    ("title: broken", "title: a: b", "quotes"), ("title: broken", "title: @x", "quotes"), ("title: broken", "title: %x", "quotes"),
    ("title: broken", "title: *x", "names no anchor"), ("title: broken", "title: !foo bar", "tag"), ("title: broken", "title: !!binary aGk=", "tag"),
    ("title: broken", "title: !!python/object:os.system x", "tag"), ("title: broken", "title: !<x> y", "tag"), ("title: broken", "title: &* x", "letters and digits"),
    ("title: broken", "title: |0\n  x", "indentation"), ("title: broken", "? [a, b]\n: t", "word as key"), ("title: broken", "{a: 1}: t", "word as key"),
    ("title: broken", '"": t', "key is empty"), ("title: broken", "&k title: t", "no anchor"), ("title: broken", "!!str title: t", "tag"),
    ("title: broken", "- t", "key"), ("title: broken", "title: 'x' y", "key"), ("title: broken", "title: [a", "]"),
    ("    mass", "\tmass", "tabs"), ("    mass", "   mass", ""), ("bodies:\n", "bodies: !!map\n", "tag"), ("bodies:\n", "bodies: &b\n  x: *b\n", "within its own anchor"),
    ("one: {from", "one: {<<: *x, from", "merge key"), ("lines:\n", "lines:\n- a\n", ""), ("lines:\n", "---\nlines:\n", "second document"),
    ("rings: {top: {at: 0.5 0.1 2 m}}", "rings: {top: {at: 0.5 0.1 2 m}", "}"),
    # keys and kinds
    ("title:", "titel:", '"title"'), ("anchors:", "Anchors:", '"anchors"'), ("mass:", "mas:", '"mass"'), ("cog:", "cgo:", '"cog"'), ("parts: [hook", "parst: [hook", '"parts"'),
    ("title: broken", "title: broken\ntitle: again", "given twice"), ("mass: 1.3 t", "mass: 1.3 t\n    mass: 1.4 t", "given twice"), ("b: 1 0 1 m", "a: 1 0 1 m", "given twice"),
    ("  two:", "  one:", "given twice"), ("mass: 1.3 t", "'mass': 1.3 t\n    mass: 1 t", "given twice"),
    ("mass: 1.3 t", "mass: [1.3 t]", "list"), ("mass: 1.3 t", "mass: {v: 1.3 t}", "map"), ("mass: 1.3 t", "mass:", "mass"), ("mass: 1.3 t", "mass: ~", "mass"),
    ("points: {a", "points: [{a", ""), ("rings: {top: {at: 0.5 0.1 2 m}}", "rings: [top]", "NAME"), ("rings: {top: {at: 0.5 0.1 2 m}}", "rings: 7", "NAME"),
    ("parts: [hook-en1677-2/13]", "parts: hook-en1677-2/13", "list"), ("parts: [hook-en1677-2/13]", "part: [hook-en1677-2/13]", "list"),
    ("rules: en", "rules: [en]", "list"), ("rules: en", "dynamic: 1.2", "map"), ("becket: 1", "becket: 2", "version 1"),
    ("becket: 1", "becket: 1.0", "version 1"), ("becket: 1", "becket: [1]", "list"), ("becket: 1", "x: 1", '"becket"'), ("from: hook, ", "", "from"), ("at: 0.5 0.1 2 m", "", "at"),
    # quantities
    ("1.3 t", "1300", "unit"), ("1.3 t", "1.3 ton", "tonne"), ("1.3 t", "1.3 T", "tonne"), ("1.3 t", "1.3 tons", "tonne"), ("1.3 t", "1.3 Kg", "kg"), ("1.3 t", "1.3 m", "length"),
    ("1.3 t", "1,3 t", "comma"), ("1.3 t", "1,300 kg", "comma"), ("1.3 t", "1 300 kg", "unit between"), ("1.3 t", "1_300 kg", "unit"), ("1.3 t", "0x10 kg", "decimal"),
    ("1.3 t", "1e309 kg", "1e30"), ("1.3 t", "1e31 kg", "1e30"), ("1.3 t", "9" * 400 + " kg", "1e30"), ("1.3 t", "1e30 kg", "at most"), ("1.3 t", "1e-300 kg", "at least"),
    ("1.3 t", ".nan", "number"), ("1.3 t", "inf kg", "number"), ("1.3 t", "-1.3 t", "more than 0"), ("1.3 t", "0 t", "more than 0"), ("1.3 t", "1/0 t", "number"), ("1.3 t", "zebra", "number"),
    ("1.3 t", "2*500 kg", "unit"), ("1.3 t", "1.3 t 4", "unit"), ("1.3 t", "1.3 t ± 200 %", "tolerance"), ("1.3 t", "1.3 t ± -5 %", "tolerance"), ("1.3 t", "1.3 t ±", "tolerance"),
    ("1.3 t", "1.3 t ± 1 m", "tolerance"), ("1.3 t", "± 5 %", "mass"), ("1.3 t", "1.3 t ± 1 % ± 2 %", "tolerance"), ("1.3 t", "%s%n", ""), ("1.3 t", "１ t", "number"),
    ("0.5 0.1 0 m", "0.5 0.1 m", "three numbers"), ("0.5 0.1 0 m", "0.5 0.1 0 0 m", "three numbers"), ("0.5 0.1 0 m", "0.5 0.1 0", "unit"), ("0.5 0.1 0 m", "0.5 m 0.1 m 0 m", "three numbers"),
    ("0.5 0.1 0 m", "[0.5 m, 0.1 m, 0 m]", "list"), ("0.5 0.1 0 m", "0.5, 0.1, 0 m", "comma"), ("0.5 0.1 0 m", "nan 0 0 m", "three numbers"), ("0.5 0.1 0 m", "1e20 0 0 m", "1000 km"),
    ("0.5 0.1 0 m", "0.5 0.1 0 kg", "length"), ("0.5 0.1 3 m", "0.5 0.1 1e29 m", "1000 km"), ("10 MN", "0 N", "more than 0"), ("10 MN", "1e-9 N", "at least"), ("10 MN", "1e29 N", "at most"),
    ("10 MN", "10 kN/m", "force"), ("to: load.a,", "to: load.a, length: 0 m,", "more than 0"), ("to: load.a,", "to: load.a, length: -2 m,", "more than 0"),
    ("to: load.a,", "to: load.a, length: 1e6 m,", "at most"), ("to: load.a,", "to: load.a, hitch: chokr,", '"choker"'), ("to: load.a,", "to: load.a, choke_angle: 400 deg,", "at most"),
    ("rules: en", "temperature: -300 degC", "more than 0"), ("rules: en", "temperature: 20 C", "degC"), ("rules: en", "critical: maybe", "yes"), ("rules: en", "units: imperial", "si, us"),
    ("rules: en", "date: 2026-02-30", "no such day"), ("rules: en", "date: 30.2.2026", "YYYY-MM-DD"), ("rules: en", "wind: {speed: -3 m/s}", "0 or more"), ("rules: en", "wind: {}", "speed"),
    ("rules: en", "wind: {speed: 3 m/s, pressure: 9 Pa}", "pressure"), ("rules: en", "dynamic: {factor: 0}", "more than 0"), ("rules: en", "edge_radius: 0 mm", "more than 0"),
    # names
    ("load:\n", "lo.ad:\n", "dot"), ("load:\n", "' load':\n", "space"), ("load:\n", '"lo\\nad":\n', "line break"), ("load:\n", "l" * 900 + ":\n", "longer"), ("rings: {top", "rings: {hook: {at: 1 1 1 m}, top", ""),
    ("to: load.a", "to: laod.a", '"load.a"'), ("to: load.a", "to: load.aa", '"load.a"'), ("to: load.a", "to: load", "points"), ("to: load.a", "to: load.", "load"), ("to: load.a", "to: nix", "known"),
    ("from: top, to: load.a", "from: tpo, to: load.a", '"top"'), ("to: load.a", "to: ''", "known"), ("from: top, to: load.a", "from: load.a, to: load.a", "itself"),
    ("from: top, to: load.a", "from: load.b, to: load.a", "one rigid body"), ("from: hook, to: top", "from: hook, to: hook", "itself"), ("to: load.a,", "to: load.a, hoist: main,", "no hoist"),
    ("at: 0.5 0.1 2 m", "at: 0.5 0.1 3 m", "same place", 12), ("at: 0.5 0.1 3 m", "on: bay.t1", "bay"),
    # parts, tables, rule sets
    (CHAIN, "[chain-en818-4/11]", '"10"'), (CHAIN, "[chain-en818-5/10]", '"chain-en818-4"'), (CHAIN, "[chain-en818-4]", "TABLE/ROW"), (CHAIN, "[chain-en818-4/]", "row"), (CHAIN, "[/10]", "TABLE/ROW"),
    (CHAIN, "[../chain-en818-4/10]", "without a folder"), (CHAIN, "[/etc/passwd]", "without a folder"), (CHAIN, "[.hidden/10]", "without a folder"), (CHAIN, "[chain-en818-4.yaml/10]", '"chain-en818-4"'),
    (CHAIN, "[Chain-EN818-4/10]", '"chain-en818-4"'), (CHAIN, "[ipe/300]", "none of the figures"), (CHAIN, "[hoist-demo/1t]", "none of the figures"), (CHAIN, "[en/x]", "no table"), (CHAIN, "[7]", "TABLE/ROW"), (CHAIN, "[~]", "TABLE/ROW"),
    (CHAIN, "[[a]]", "list"), (CHAIN, "[{what: sling, wll: -2 t}]", "more than 0"), (CHAIN, "[{what: sling, wll: 2 m}]", "force"), (CHAIN, "[{what: sling, wl: 2 t}]", '"wll"'),
    (CHAIN, "[{what: sling, wll: 2 t, stretch_at_wll: 400 %}]", "at most"), (CHAIN, "[{part: chain-en818-4/10, wll: two}]", "number"), (CHAIN, "[{part: nix/10}]", "no table"),
    ("rules: en", "rules: eu", '"en"'), ("rules: en", "rules: ../en", "no rule set"), ("rules: en", "rules: /etc/passwd", "no rule set"), ("rules: en", "rules: en-above-hook", "has no number"), ("rules: en", "rules: zebra", "known: en, en-above-hook, us, us-above-hook\n"),
    # take-off
    ("mass: 1.3 t", "made_of: []", "at least one"), ("mass: 1.3 t", "made_of: [{shape: bx, size: 1 1 1 m, material: steel, at: 0 0 0 m}]", '"box"'),
    ("mass: 1.3 t", "made_of: [{shape: box, size: 1 0 1 m, material: steel, at: 0 0 0 m}]", "above 0"), ("mass: 1.3 t", "made_of: [{shape: box, size: 1 1 1 m, material: stell, at: 0 0 0 m}]", '"steel"'),
    ("mass: 1.3 t", "made_of: [{shape: box, hole: yes, size: 1 1 1 m, material: steel, at: 0 0 0 m}]", "holes"), ("mass: 1.3 t", "made_of: [{shape: tube, diameter: 10 mm, wall: 9 mm, length: 1 m, material: steel, at: 0 0 0 m}]", "wall"),
    ("mass: 1.3 t", "made_of: [{shape: box, size: 1 1 1 m, wall: 3 mm, material: steel, at: 0 0 0 m}]", "has no"), ("mass: 1.3 t", "made_of: [{shape: cylinder, diameter: 10 mm, material: steel, at: 0 0 0 m}]", "length"),
]

BEAM = """becket: 1
rules: en
hoists: {h: {part: hoist-demo/2t}}
runways:
  bay:
    section: ipe/300
    steel: en10025-2/S275
    ends: [-0.5 m, 6.5 m]
    supports: [0 m, 6 m]
    trolleys:
      t1: {hoist: h, travel: [0.3 m, 5.7 m], wheels: 4, wheel_base: 0.20 m, wheel_to_edge: 20 mm, mass: 45 kg}
"""
ROW, DUTY = "{part: hoist-demo/2t}", "cycles_per_hour: 20, mean_lift: 3 m, hours_per_day: 8, days_per_year: 220"
ALL_OF_IT = "loads: [{of_rated: 100 %, time: 100 %}]"
IN_BEAM = [
    ("[-0.5 m, 6.5 m]", "[6.5 m, -0.5 m]", "rising"), ("[-0.5 m, 6.5 m]", "[1 m, 1 m]", "rising"), ("[-0.5 m, 6.5 m]", "[1 m]", "2 values"), ("[-0.5 m, 6.5 m]", "[]", "2 values"), ("[-0.5 m, 6.5 m]", "[-1e20 m, 7 m]", "at least"),
    ("[0 m, 6 m]", "[0 m]", "second"), ("[0 m, 6 m]", "[]", "at least one"), ("[0 m, 6 m]", "[6 m, 0 m]", "rise"), ("[0 m, 6 m]", "[0 m, 1e-12 m, 6 m]", "rise"), ("[0 m, 6 m]", "[0 m, 0 m]", "rise"), ("[0 m, 6 m]", "[0 m, 60 m]", "off the beam"),
    ("[0 m, 6 m]", "[{att: 0 m}, 6 m]", '"at"'), ("[0 m, 6 m]", "[{at: 0 m, fixed: 3}, 6 m]", "yes"), ("[0 m, 6 m]", "[{at: 0 m, count: 0}, 6 m]", "more than 0"), ("[0 m, 6 m]", "[{at: 0 m, count: 1e6}, 6 m]", "at most"), ("[0 m, 6 m]", "[~, 6 m]", "length"),
    ("[0.3 m, 5.7 m]", "[5.7 m, 0.3 m]", "backwards"), ("[0.3 m, 5.7 m]", "[-3 m, 9 m]", "leaves the beam"), ("[0.3 m, 5.7 m]", "[0 m, 1 m, 2 m]", "2 values"), ("wheels: 4", "wheels: 3", "2 or 4"), ("wheels: 4", "wheels: 2.5", "whole"),
    ("0.20 m", "-1 m", "more than 0"), ("0.20 m", "50 m", "runs off the end"), ("20 mm", "200 mm", "web"), ("45 kg", "-45 kg", "0 or more"), ("hoist: h,", "hoist: hh,", '"h"'),
    ("ipe/300", "ipe/301", '"300"'), ("ipe/300", "ipee/300", '"ipe"'), ("ipe/300", "chain-en818-4/10", "depth"), ("ipe/300", "{h: 300 mm}", "flange width"), ("ipe/300", "{h: 300 mm, b: 150 mm, tw: 7 mm, tf: 200 mm}", "no I shape"),
    ("ipe/300", "{h: 300 mm, b: 150 mm, tw: 0 mm, tf: 10 mm}", "more than 0"), ("en10025-2/S275", "{fy: -275 MPa, fu: 400 MPa}", "more than 0"), ("en10025-2/S275", "{fy: 275 MPa, fu: 200 MPa}", "below"), ("en10025-2/S275", "en10025-2/S276", '"S275"'),
    ("    trolleys:", "    deflection_limit: L/0\n    trolleys:", "L/50"), ("    trolleys:", "    deflection_limit: nine\n    trolleys:", "length"), ("    trolleys:", "    loads: [{at: 3 m}]\n    trolleys:", "force"),
    ("    trolleys:", "    loads: [{at: 3 m, force: 1 kN, from: 2 m}]\n    trolleys:", "either"), ("    trolleys:", "    loads: [{from: 3 m, to: 2 m, per_metre: 1 kN/m}]\n    trolleys:", "before it begins"), ("    trolleys:", "    loads: [{at: 30 m, force: 1 kN}]\n    trolleys:", "off the beam"),
    (ROW, "{}", "rated"), (ROW, "hoist-demo/9t", '"'), (ROW, "&h {part: hoist-demo/2t, duty: *h}", "within its own anchor"), (ROW, "{part: hoist-demo/2t, group: M9}", '"M1"'), (ROW, "{part: hoist-demo/2t, limiter: {kind: directt, at: 1.6}}", '"direct"'),
    (ROW, "{part: hoist-demo/2t, limiter: {kind: direct, at: 0.6}}", "at least"), (ROW, "{part: hoist-demo/2t, speeds: [1 m/min, 6 m/min]}", "creep"), (ROW, "{part: hoist-demo/2t, speeds: [3 m/min, 2 m/min, 1 m/min]}", "1 to 2"), (ROW, "{part: hoist-demo/2t, falls: 2.5}", "whole"),
    (ROW, "{part: hoist-demo/2t, duty: {%s, loads: [{of_rated: 100 %%, time: 60 %%}, {of_rated: 40 %%, time: 60 %%}]}}" % DUTY, "100 %"), (ROW, "{part: hoist-demo/2t, duty: {%s, %s}}" % (DUTY.replace("8,", "25,"), ALL_OF_IT), "at most"),
    (ROW, "{part: hoist-demo/2t, duty: {%s, %s, meter: [{date: 2026-01-01, on_time: 50 h}, {date: 2025-01-01, on_time: 90 h}]}}" % (DUTY, ALL_OF_IT), "order of their days"),
    (ROW, "{part: hoist-demo/2t, duty: {%s, %s, meter: [{date: 2025-01-01, on_time: 90 h}, {date: 2026-01-01, on_time: 50 h}]}}" % (DUTY, ALL_OF_IT), "backwards"),
    ("rules: en", "rules: en\ntackles: {k: {load: 1 t, falls: 0}}", "more than 0"), ("rules: en", "rules: en\ntackles: {k: {load: 1 t, falls: 4, bearing: rollin}}", '"rolling"'),
    ("rules: en", "rules: en\ninspect: {k: {what: hok, throat: {new: 30 mm, measured: 32 mm}}}", "hook"), ("rules: en", "rules: en\ninspect: {k: {what: hook, thraot: {new: 30 mm, measured: 32 mm}}}", "throat"), ("rules: en", "rules: en\ninspect: {k: {}}", "what"),
    ("rules: en", "rules: en\ninspect: {k: {what: hook, twist: -20 deg}}", "0 or more"), ("rules: en", "rules: en\ninspect: {k: {what: wire rope sling, wires_in_lay: -3}}", "0 or more"), ("rules: en", "rules: en\ninspect: {k: {what: hook, throat: {new: 30 mm, measured: -32 mm}}}", "over 0"),
]

TABLE = """becket_table: 1
title: own
source: invented
mark: demo
columns: {size: name, diameter: mm, wll: t}
all: {what: chain sling, material: chain-grade-8}
rows:
  - [8, 8, 2]
  - [10, 10, 3.15]
  - [13, 13, 5.3]
"""
IN_TABLE = [
    ("becket_table: 1", "becket_table: 2", "want 1"), ("becket_table: 1", "becket_table: one", "want 1"), ("becket_table: 1", "becket: 1", '"becket"'), ("title: own", "titel: own", '"title"'), ("title: own", "title: own\ntitle: own", "given twice"),
    ("source: invented", "source: ~", "source"), ("source: invented", 'source: ""', "source"), ("mark: demo", "mark: publishd", '"published"'), ("mark: demo", "mark: [demo]", "list"), ("mark: demo", 'note: "\\e"', "U+001B"), ("mark: demo", "mark: !x demo", "tag"),
    ("{size: name, diameter: mm, wll: t}", "[size, diameter, wll]", "map"), ("{size: name, diameter: mm, wll: t}", "{}", "map"), ("size: name", "size: text", "names the rows"), ("diameter: mm", "diameter: name", "names the rows"), ("wll: t}", "wll: mm}", "force"),
    ("wll: t}", "wll: tt}", "unit"), ("wll: t}", "wll: ton}", "tonne"), ("wll: t}", "wll: ~}", "unit"), ("diameter: mm", "wll: mm", "given twice"), ("rows:", "rwos:", '"rows"'),
    ("[8, 8, 2]", "[8, 8]", "3 cells"), ("[8, 8, 2]", "[8, 8, 2, 3]", "3 cells"), ("[8, 8, 2]", "8", "3 cells"), ("[8, 8, 2]", "{size: 8}", "3 cells"), ("[8, 8, 2]", "[8, [8], 2]", "list"), ("[8, 8, 2]", "[8, 8 mm, 2]", "number alone"), ("[8, 8, 2]", "[8, 8, two]", "number"),
    ("[8, 8, 2]", "[8, 8, -2]", "above zero"), ("[8, 8, 2]", "[8, 8, 0]", "above zero"), ("[8, 8, 2]", "[8, 8, .nan]", "number"), ("[8, 8, 2]", "[8, 8, 1e309]", "number"), ("[8, 8, 2]", "[8, 8, 1e29]", "range"), ("[8, 8, 2]", "[8, 8, 2 ± 1]", "number alone"), ("[8, 8, 2]", "[8, 8, 3,15]", "3 cells"),
    ("[8, 8, 2]", "[~, 8, 2]", "no name"), ("[8, 8, 2]", '["", 8, 2]', "no name"), ("[10, 10,", "[8, 10,", "there already"), ("[8, 8, 2]", "*r", "names no anchor"), ("[8, 8, 2]", "!!seq [8, 8, 2]", "tag"), ("[8, 8, 2]", "[" * 40 + "]" * 40, "deep"), ("5.3]", "3.0]", "falls"),
    ("what: chain", "waht: chain", '"what"'), ("material: chain-grade-8", "stretch_at_wll: 3 m", "length"), ("material: chain-grade-8", "mass: 3", "unit"), ("{what: chain sling, material: chain-grade-8}", "[what]", "map"),
    ("mark: demo", "extends: own", "search order"), ("mark: demo", "extends: nix", "no table"), ("mark: demo", "extends: ../own", "no table"), ("mark: demo", "extends: [a]", "one table"), ("mark: demo", "notes: {wlll: x}", '"wll"'), ("mark: demo", "notes: [x]", "map"),
    ("mark: demo", "formula: [{colum: wll, of: diameter, times: [1 MPa]}]", '"column"'), ("mark: demo", "formula: [{column: wlll, of: diameter, power: 2, times: [1 MPa]}]", '"wll"'), ("mark: demo", "formula: [{column: wll, of: diameter, power: 2, times: [1]}]", "force"),
    ("mark: demo", "formula: [{column: wll, of: diameter, power: 9, times: [1 MPa]}]", "1 to 3"), ("mark: demo", "formula: [{column: wll, of: diameter, power: 2, times: [1 MPa], round: R99}]", "R40"), ("mark: demo", "formula: [{}]", "column"),
]

RULES = """becket_rules: 1
title: Works rules
source: works instruction 12
extends: en
values:
  angle.max_from_vertical: 45 deg
  multi_hoist.two: {value: 1.25, source: works instruction 12.3, mark: published}
bands:
  shackle.side: {of: angle, rows: [[0 deg, 5 deg, 1], [5 deg, 45 deg, 0.6]]}
"""
IN_RULES = [
    ("becket_rules: 1", "becket_rules: 9", "want 1"), ("extends: en", "extends: eu", '"en"'), ("extends: en", "extends: own", "search order"), ("extends: en", "extends: ../rules/en", "no rule set"), ("extends: en", "extends: ~", "one rule set"),
    ("angle.max_from_vertical", "angle.max_from_vertcal", '"angle.max_from_vertical"'), ("45 deg\n", "45 m\n", "angle"), ("45 deg\n", "45\n", "angle"), ("45 deg\n", "-45 deg\n", "below zero"), ("45 deg\n", "1e309 deg\n", "number"), ("45 deg\n", "flat\n", "angle"), ("45 deg\n", "~\n", "no value"),
    ("45 deg\n", "[45 deg]\n", "list"), ("45 deg\n", "{}\n", "value"), ("45 deg\n", "!!float 45\n", "tag"), ("value: 1.25", "vlaue: 1.25", '"value"'), ("mark: published", "mark: publised", '"published"'), ("values:\n", "vals:\n", '"vals"'),
    ("of: angle", "of: angel", "angle"), ("of: angle, ", "", "of"), ("[5 deg, 45", "[4 deg, 45", "overlap"), ("[0 deg, 5 deg", "[5 deg, 0 deg", "rising"), ("0.6]", "-0.6]", "below zero"), ("[0 deg, 5 deg, 1]", "[0 deg, 5 deg]", "factor"), ("[0 deg, 5 deg, 1]", "[0 m, 5 m, 1]", "angle"),
    ("rows: [[0 deg, 5 deg, 1], [5 deg, 45 deg, 0.6]]", "note: x", "rows or points"), ("rows:", "points: [[0 deg, 1]], rows:", "one of the two"), ("shackle.side", "shackle.sid", '"shackle.side"'), ("extends: en", "extends: en\nabove_hook: nix", "known"),
    ("angle.max_from_vertical: 45 deg", "angle.max_from_vertical: 45 deg\n  angle.max_from_vertical: 40 deg", "given twice"), ("extends: en", "extends: en\nabove_hook: ../../etc/passwd", "no rule set"),
]

# Files of no kind or of no end; what is told stands anywhere.
WHOLE = [("just text", "hello", "map"), ("a list", "- a\n", "map"), ("markup", "<?xml version='1.0'?><plan/>", "map"), ("no plan", "# nothing\n" * 999, "empty"), ("documents", "---\n---\n---\n", "second document"), ("every byte", bytes(range(256)), "U+0000"),
         ("UTF-16", PLAN.encode("utf-16"), "UTF-8"), ("UTF-32", PLAN.encode("utf-32"), "UTF-8"), ("%TAG", "%TAG ! x\n---\n" + PLAN, "%TAG"), ("%FOO", "%FOO x\n---\n" + PLAN, "directive"), ("YAML 9", "%YAML 9.9\n---\n" + PLAN, "1.1 or 1.2"),
         ("a mark twice", b"\xef\xbb\xbf" * 2 + PLAN.encode(), "U+FEFF"), ("more after the end", PLAN + "...\njunk\n", "end of the file"), ("no end of a text", 'becket: "' + "x" * 99, "ends inside"), ("a JSON of nothing", '{"becket":1,"title":"t"}', "nothing to look at"),
         ("deep lists", "a: " + "[" * 200000, "deep"), ("deep maps", "a: " + "{a: " * 2000, "deep"), ("deep blocks", "\n".join(" " * i + "a:" for i in range(500)), "deep"), ("deep dashes", "- " * 50000, "deep"), ("keys of keys", "? " * 50000, "key"),
         ("a bomb of aliases", "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(f"{b}: &{b} [{', '.join(['*' + a] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi")), "aliases"), ("anchors", "".join(f"a{i}: &a{i} 1\n" for i in range(9999)), "anchors"),
         ("5 MB", "# " + "x" * 5000000 + "\n" + PLAN, "bytes"), ("a long key", "k" * 999999 + ": 1\n", ""), ("a hundred thousand bodies", PLAN.replace("bodies:\n", "bodies:\n" + "".join(f"  b{i}: {{mass: 1 kg, cog: 0 0 0 m}}\n" for i in range(100000))), "entries"),
         ("a hundred thousand parts", PLAN.replace(CHAIN, "[" + "chain-en818-4/10, " * 100000 + "chain-en818-4/10]", 1), "10000"), ("a hundred thousand keys", PLAN + "".join(f"k{i}: 1\n" for i in range(100000)), "unknown key"), ("a key a hundred thousand times", PLAN + "title: x\n" * 100000, "given twice"),
         ("nothing that holds", PLAN[:PLAN.index("lines:")], 3), ("a body that floats", PLAN.replace("rings:", "  ghost: {mass: 1 kg, cog: 0 0 0 m}\nrings:"), 3), ("a ring that floats", PLAN.replace("{top:", "{free: {at: 9 9 9 m, mass: 3 kg}, top:"), 3), ("upside down", PLAN.replace("0.1 3 m", "0.1 -30 m"), 3),
         ("rings in a circle", PLAN.replace("{top:", "{r: {at: 5 5 5 m, mass: 1 kg}, s: {at: 6 5 5 m, mass: 1 kg}, q: {at: 5 6 5 m, mass: 1 kg}, top:") + "  x: {from: r, to: s, ea: 1 MN}\n  y: {from: s, to: q, ea: 1 MN}\n  z: {from: q, to: r, ea: 1 MN}\n", 3),
         ("top-heavy", PLAN.replace("0.5 0.1 0 m", "0.5 0.1 9 m"), 3), ("far too short", PLAN.replace("to: load.a,", "to: load.a, length: 1e-6 m,"), 3), ("all well", PLAN, 1), ("a mark of UTF-8", "\ufeff" + PLAN, 1), ("lines ended as elsewhere", PLAN.replace("\n", "\r\n"), 1),
         ("an anchor used twice", PLAN.replace("one: {", "one: &o {").replace("  two: {from: top, to: load.b, parts: [chain-en818-4/10]}", "  two: *o"), 1), ("two lines on a point", PLAN.replace("load.b", "load.a"), 1)]

VALUES = ["[1 m, 2 m]", "[]", "{a: 1}", "{}", "~", '""', "zebra", "yes", "1e309 m", "9" * 400, "-3 m", "0 m", ".nan", ".inf", "7 kg", "3 ton", "7", "3 m ± 400 %", "1 m ± -5 %", "!!int 3", "!foo bar", "*nix", "|\n    3 m\n    4 m", '"\\e[31mred"', "x" * 5000,
          "3\u00a0m", "1 2 3 m", "a/b", "../../etc/passwd", "load.", "'%s%n'", "3 m m", "3,5 m", "−3 m", "1e-30 m", "2026-13-45", "'<script>'", "1 kN", "100 %", "1e6 m"]


def run(data, *arguments):
    def bound():
        resource.setrlimit(resource.RLIMIT_CPU, (20, 20))
        if options.memory:
            resource.setrlimit(resource.RLIMIT_AS, (options.memory << 20, options.memory << 20))
    environment = dict(os.environ, BECKET_TABLES=options.tables, HOME="/nonexistent", LC_ALL="C.UTF-8")
    try:
        return subprocess.run([options.becket, *arguments], input=data, capture_output=True, env=environment, timeout=120, preexec_fn=bound)
    except subprocess.TimeoutExpired:
        return subprocess.CompletedProcess(arguments, None, b"", b"no answer in time")


def as_bytes(text):
    return text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")


def wrong_with(done, status=2, lines=None, word=""):
    """What is wrong with a refusal; lines: one of its messages stands on one of these."""
    out, err = done.stdout, done.stderr.decode("utf-8", "replace")
    told = [(int(line), message) for line, message in re.findall(r"^[^\n]*?:(\d+):\d+: BK-\d+ (.*\n)", err, re.M)]
    if done.returncode != status:
        return f"exit status {done.returncode}: {err[:300]}"
    if status == 1:
        return "" if out and not err else f"messages: {err[:300]}"
    if out:
        return f"{len(out)} bytes on standard output"
    if re.search("[\0-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e]", err):
        return f"control characters: {err[:300]!r}"
    if err.count("\n") > 101 or len(err) > 60000:
        return f"{err.count(chr(10))} lines of message"
    if status == 2 and lines is not None and not any(line in lines and word in message for line, message in told):
        return f'want a message on line {lines[0]} with "{word}", got {err[:400]!r}'
    return "" if word in err else f'want "{word}", got {err[:400]!r}'


def by_hand(failures):
    n = 0
    with tempfile.TemporaryDirectory(prefix="becket-hostile-") as folder:
        os.mkdir(os.path.join(folder, "rules"))
        for name, base, cases in (("plan", PLAN, IN_PLAN), ("beam", BEAM, IN_BEAM), ("own.yaml", TABLE, IN_TABLE), ("rules/own.yaml", RULES, IN_RULES)):
            for old, new, word, *elsewhere in cases:
                at = as_bytes(base).index(as_bytes(old))
                data = as_bytes(base).replace(as_bytes(old), as_bytes(new), 1)
                first = data[:at].count(b"\n") + 1
                lines = [*range(first, first + as_bytes(new).count(b"\n") + 2), *elsewhere]  # the mistake's, and the next
                if "yaml" in name:
                    path = os.path.join(folder, name)
                    with open(path, "wb") as file:
                        file.write(data)
                    done = run(b"", "tables", "--check", path)
                else:
                    done = run(data, "check", "--json", "-")
                why = wrong_with(done, lines=lines, word=word)
                n += 1
                if why:
                    failures.append(f"{name}, {new[:60]!r} for {old!r}: {why}")
    for what, text, wanted in WHOLE:
        status = wanted if isinstance(wanted, int) else 2
        why = wrong_with(run(as_bytes(text), "check", "--json", "-"), status=status, word="" if status != 2 else wanted)
        n += 1
        if why:
            failures.append(f"{what}: {why}")
    return n


def nodes(node):
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield "key", key, value
            yield from nodes(value)
    elif isinstance(node, yaml.SequenceNode):
        for value in node.value:
            yield from nodes(value)
    yield "value", node, None


def by_chance(failures, n, seed):
    """A key misspelt, given twice or left out; any value in place of any other."""
    chance = random.Random(seed)
    texts = []
    for path in sorted(glob.glob(os.path.join(options.examples, "*.yaml"))):
        with open(path, encoding="utf-8") as file:
            text = file.read()
        texts.append((path, text, list(nodes(yaml.compose(text)))))
    for _ in range(n):
        path, text, places = chance.choice(texts)
        kind, node, value = chance.choice(places)
        begin, end = node.start_mark.index, node.end_mark.index
        word, must_fail = text[begin:end], False
        if kind == "value":
            put = chance.choice(VALUES)
        else:
            how = chance.choice(("twice", "left out", "capitals"))
            put = {"twice": f"{word}: 1, {word}" if "{" in text[text.rfind("\n", 0, begin):begin] else f"{word}: 1\n{' ' * node.start_mark.column}{word}",
                   "left out": "", "capitals": word.upper()}[how]
            must_fail = how == "twice"
            if how == "left out":
                end = value.end_mark.index
        data = text[:begin] + put + text[end:]
        done = run(as_bytes(data), chance.choice(("check", "explain", "duty", "level")), "-")
        why = ""
        if done.returncode not in (0, 1, 2, 3) or (must_fail and done.returncode != 2):
            why = f"exit status {done.returncode}: {done.stderr[:200]}"
        elif done.returncode in (2, 3):
            why = wrong_with(done, status=done.returncode)
            if not why and done.returncode == 2 and not re.search(rb"BK-401|:\d+:\d+: BK-", done.stderr):
                why = f"no place: {done.stderr[:200]}"
        if why:
            failures.append(f"seed {seed}: {os.path.basename(path)}: {put[:60]!r} for {word[:60]!r} on line {node.start_mark.line + 1}: {why}")
    return n


def main():
    global options
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--becket", required=True)
    parser.add_argument("--tables", required=True)
    parser.add_argument("--examples", required=True)
    parser.add_argument("--memory", type=int, default=0, help="bound of memory in MB")
    parser.add_argument("--chance", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    failures = []
    n = by_hand(failures)
    n += by_chance(failures, options.chance, options.seed)
    for failure in failures:
        print("FAILED", failure)
    print(f"{n} broken files, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
