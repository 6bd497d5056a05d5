#!/usr/bin/env python3
"""Every value of every rule set is read by something: a rule that nothing reads promises what no check does.

A rule counts as read when its whole name stands in the source as a string, or when a name that the source puts together
("temperature.%s", "beam.%s", name_of(out, "design_factor.", ...)) gives it and what is put in is a word of the source or a
material or chain grade that tables/README.md tells of.  Alternatives are kept beside the bands they may replace and are named here."""
import pathlib
import re
import sys

try:
    import yaml
except ImportError:
    sys.exit(77)

root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parent.parent)
ALTERNATIVES = {  # sources that disagree are both kept: a reader may exchange them
    "eyebolt.angle_newer": "eyebolt.angle", "eyebolt.angle_older": "eyebolt.angle",
    "bend.ratio_curve": "bend.ratio", "bend.ratio_formula": "bend.ratio"}

source = "".join(f.read_text() for f in sorted(root.glob("src/*/*.[ch]")) + sorted(root.glob("include/becket/*.h")))
strings = set(re.findall(r'"((?:[^"\\\n]|\\.)*)"', source))
told = (root / "tables/README.md").read_text()
words = strings | set(re.findall(r"[\w-]+", " ".join(re.findall(r"`(?:material|chain_grade)` \(([^)]*)\)", told))))
patterns = [s for s in strings if re.match(r"[a-z_]+\.", s) and "%" in s]
patterns += [p + "%s" for p in re.findall(r'name_of\([^,()]+(?:->\w+)?, "([a-z_.]+\.)",', source)]
made = [re.compile(re.sub(r"%[.\d]*s", "(.+)", re.escape(p).replace(r"\%", "%").replace(r"%\.", "%."))) for p in patterns]


def is_read(name):
    if name in strings:
        return True
    for pattern in made:
        m = pattern.fullmatch(name)
        if m and all(part in words for part in m.groups()):
            return True
    return name in ALTERNATIVES and ALTERNATIVES[name] in strings


dead, seen = [], 0
for path in sorted(root.glob("tables/rules/*.yaml")):
    rules = yaml.safe_load(path.read_text())
    for name in [*(rules.get("values") or {}), *(rules.get("bands") or {})]:
        seen += 1
        if not is_read(name):
            dead.append(f"{path.relative_to(root)}: nothing reads {name}")
print("\n".join(dead) if dead else f"{seen} rules, every one is read")
sys.exit(1 if dead or seen < 200 else 0)
