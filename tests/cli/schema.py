#!/usr/bin/python3
"""becket schema against python-jsonschema: good plans validate, misspelt keys and wrong words do not.

    schema.py BECKET
"""
import glob
import json
import os
import re
import sys

from kit import KINDS, TOP, Becket, Count

try:
    import yaml
    from jsonschema import Draft202012Validator
except ImportError as e:
    print("schema: %s (Debian: python3-jsonschema, python3-yaml)" % e)
    sys.exit(77)


class Words(yaml.SafeLoader):
    """Plain scalars as YAML 1.2 has them (core schema): yes, no and on are words, 1:30 is no number."""
    yaml_implicit_resolvers = {}


for tag, form, first in [
        ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"), ("null", r"~|null|Null|NULL|", "~nN"), ("null", "", [""]),
        ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", "-+0123456789"),
        ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?|[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)", "-+.0123456789")]:
    for character in first:
        Words.yaml_implicit_resolvers.setdefault(character, []).append(
            ("tag:yaml.org,2002:" + tag, re.compile("^(?:%s)$" % form)))

becket, count = Becket(sys.argv[1]), Count()
status, text, _ = becket.run("schema")
schema = json.loads(text)
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)


def mistakes(text):
    return ["%s: %s" % ("/".join(map(str, e.absolute_path)), e.message[:200]) for e in validator.iter_errors(yaml.load(text, Words))]


good = sorted(glob.glob(TOP + "/examples/*.yaml") + glob.glob(TOP + "/tests/acceptance/good/*.yaml"))
count.check(len(good) > 20, "where are the plans?")
for path in good:
    found = mistakes(open(path, encoding="utf-8").read())
    count.check(not found, "%s\n  %s" % (path, "\n  ".join(found)))
for kind in KINDS:
    found = mistakes(becket.run("new", kind)[1])
    count.check(not found, "becket new %s\n  %s" % (kind, "\n  ".join(found)))

# what a schema can see: keys, words, kinds, a value without unit.  Figures and references are for becket itself.
# missing-mass and its like are allowed by the form: a body may state its parts instead.
seen = sorted(path for pattern in ["key-*", "word-*", "kind-mass-*", "kind-top-*", "missing-from", "missing-to", "unit-none-[elms]*"]
              for path in glob.glob(TOP + "/tests/acceptance/broken/%s.yaml" % pattern))
count.check(len(seen) > 30, "where are the broken plans?")
for path in seen:
    count.check(mistakes(open(path, encoding="utf-8").read()), "%s validates" % os.path.basename(path))

# an editor shows what a key is for
for name, part in [("plan", schema), *schema["$defs"].items()]:
    for key, form in part["properties"].items():
        count.check(form.get("description"), "%s.%s: no description" % (name, key))
count.finish()
