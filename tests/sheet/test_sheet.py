#!/usr/bin/python3
"""Sheets, looked at as far as a machine can.

    test_sheet.py --becket build/becket [NAME...]

Every example and every plan of sheet_plans.py is drawn and opened again with other programs: pdftotext (words and their
boxes), pdffonts, pdfinfo, pdftoppm, xmllint, and a reader of PNG rows written here.  Skipped (77) without these programs.
"""
import argparse
import glob
import os
import re
import resource
import shutil
import signal
import stat
import struct
import subprocess
import sys
import tempfile
import unittest
import zlib
from xml.etree import ElementTree

import sheet_plans

HERE = os.path.dirname(os.path.abspath(__file__))
TOP = os.path.dirname(os.path.dirname(HERE))
BECKET = None
A4 = (595.28, 841.89)   # ISO 216: 210 x 297 mm
LETTER = (612.0, 792.0)  # ANSI A: 8.5 x 11 in


def run(*command, env=None, **more):
    return subprocess.run(command, capture_output=True, timeout=120, env=dict(os.environ, **(env or {})), **more)


class Sheets(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.mkdtemp(prefix="becket-sheet-")
        cls.plans = {os.path.basename(p)[:-5]: p for p in glob.glob(os.path.join(TOP, "examples", "*.yaml"))}
        for name, text in sheet_plans.PLANS.items():
            cls.plans[name] = os.path.join(cls.folder, name + ".yaml")
            with open(cls.plans[name], "w", encoding="utf-8") as f:
                f.write(text)

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def path(self, name):
        return os.path.join(self.folder, name)

    def draw(self, plan, output, *options, env=None, status=None):
        """Draws and returns the bytes; the exit status is that of becket check unless another is wanted."""
        done = run(BECKET, "draw", plan, "-o", output, *options, env=env)
        want = run(BECKET, "check", plan).returncode if status is None else status
        self.assertEqual(done.returncode, want, done.stderr.decode())
        self.assertEqual(done.stdout, b"")
        with open(output, "rb") as f:
            return f.read()

    def words(self, pdf):
        """Pages of (word, x0, y0, x1, y1), and their sizes."""
        done = run("pdftotext", "-bbox", pdf, "-")
        text = re.sub(rb"[\x00-\x08\x0b\x0c\x0e-\x1f]", b"?", done.stdout)
        tree = ElementTree.fromstring(text)
        pages = []
        for page in tree.iter("{http://www.w3.org/1999/xhtml}page"):
            boxes = [(w.text or "", *(float(w.get(k)) for k in ("xMin", "yMin", "xMax", "yMax")))
                     for w in page.iter("{http://www.w3.org/1999/xhtml}word")]
            pages.append(((float(page.get("width")), float(page.get("height"))), boxes))
        return pages

    # ---- every plan ----------------------------------------------------------------------------

    def test_words_stand_inside_and_apart(self):
        for name, plan in self.plans.items():
            with self.subTest(plan=name):
                pdf = self.path(name + ".pdf")
                self.draw(plan, pdf)
                pages = self.words(pdf)
                self.assertGreaterEqual(len(pages), 2)
                for number, (size, words) in enumerate(pages, 1):
                    self.assertGreater(len(words), 20)
                    for word, x0, y0, x1, y1 in words:
                        self.assertTrue(20 <= x0 and x1 <= size[0] - 20 and 20 <= y0 and y1 <= size[1] - 20,
                                        "page %d: %r at %.1f %.1f .. %.1f %.1f" % (number, word, x0, y0, x1, y1))
                    self.assertEqual(overlaps(words), [], "page %d" % number)
                    self.assertIn(["%d" % number, "of", "%d" % len(pages)],
                                  [[w[0] for w in words[i:i + 3]] for i in range(len(words))])

    def test_fonts_are_embedded_and_no_clock_is_in_it(self):
        for name, plan in self.plans.items():
            with self.subTest(plan=name):
                pdf = self.path("fonts.pdf")
                self.draw(plan, pdf)
                rows = run("pdffonts", pdf).stdout.decode().splitlines()[2:]
                self.assertTrue(rows)
                for row in rows:
                    self.assertEqual(row.split()[-5:-2], ["yes", "yes", "yes"], row)  # embedded, subset, text known
                info = run("pdfinfo", "-rawdates", pdf).stdout.decode()
                dates = re.findall(r"(?:CreationDate|ModDate): *(?:D:)?(\S+)", info)
                self.assertEqual(dates, ["20260305"] if name == "dated" else [], info)

    def test_svg_is_xml_with_text(self):
        for name, plan in self.plans.items():
            with self.subTest(plan=name):
                svg = self.path(name + ".svg")
                self.draw(plan, svg)
                done = run("xmllint", "--noout", "--nonet", svg)
                self.assertEqual((done.returncode, done.stderr), (0, b""))
                tree = ElementTree.parse(svg).getroot()
                text = [t.text for t in tree.iter("{http://www.w3.org/2000/svg}text")]
                self.assertIn("CHECKS, the hardest used first; bold: governs, or fails", text)
                self.assertFalse(list(tree.iter("{http://www.w3.org/2000/svg}script")))
                for element in tree.iter():  # no colour anywhere
                    for key in ("fill", "stroke"):
                        value = element.get(key, "none")
                        self.assertTrue(value == "none" or (value[1:3] == value[3:5] == value[5:7]), value)

    def test_no_row_stands_alone(self):
        """A table that goes on over the page leaves two rows before and after, at the least."""
        plans = dict(self.plans)
        for spans in range(2, 9):
            plans["beam-%d" % spans] = self.path("beam-%d.yaml" % spans)
            with open(plans["beam-%d" % spans], "w") as f:
                f.write(sheet_plans.runway(spans, 1 + spans % 3))
        broken = 0
        for name, plan in plans.items():
            with self.subTest(plan=name):
                svg = self.path("rows.svg")
                self.draw(plan, svg)
                tables = rows_of_tables(ElementTree.parse(svg).getroot())
                for (title, n), (after, more) in zip(tables, tables[1:]):
                    if after == title + " (continued)" or (after == title and after.endswith("(continued)")):
                        broken += 1
                        self.assertTrue(n >= 2 and more >= 2, "%s: %d rows, then %d" % (title, n, more))
        self.assertGreater(broken, 5)

    def test_png_is_not_blank(self):
        for name, plan in self.plans.items():
            with self.subTest(plan=name):
                png = self.draw(plan, self.path(name + ".png"))
                width, height, rows = png_rows(png)
                pages = len(self.words(self.pdf_of(name, plan)))
                self.assertEqual(height % pages, 0)
                page = height // pages
                for p in range(pages):
                    ink = sum(row.translate(None, LIGHT).__len__() for row in rows[p * page:(p + 1) * page])
                    self.assertTrue(0.004 < ink / (width * page) < 0.3, "page %d: %f dark" % (p + 1, ink / (width * page)))

    def pdf_of(self, name, plan):
        pdf = self.path(name + ".pdf")
        if not os.path.exists(pdf):
            self.draw(plan, pdf)
        return pdf

    def test_same_bytes_again_and_elsewhere(self):
        locales = run("locale", "-a").stdout.decode().split() if shutil.which("locale") else []
        comma = next((l for l in locales if l.startswith(("de_", "fr_", "ru_"))), "C")
        elsewhere = {"TZ": "Pacific/Kiritimati", "LC_ALL": comma, "LANG": comma, "COLUMNS": "60"}
        for name in ("us-bridle", "monorail", "right-to-left", "dated"):
            for ending in (".pdf", ".svg", ".png"):
                with self.subTest(plan=name, ending=ending):
                    first = self.draw(self.plans[name], self.path("first" + ending))
                    second = self.draw(self.plans[name], self.path("second" + ending), env=elsewhere)
                    self.assertEqual(first, second)

    # ---- what stands on it ---------------------------------------------------------------------

    def text(self, name, *options):
        pdf = self.path("text.pdf")
        self.draw(self.plans[name], pdf, *options)
        return run("pdftotext", "-layout", pdf, "-").stdout.decode()

    def test_rig_labels(self):
        text = self.text("four-leg-off-centre").split("\f")[0]
        want = json_of(self.plans["four-leg-off-centre"])
        for line in want["rig"]["lines"]:
            self.assertIn("%s %.2f kN" % (line["name"], line["tension_N"] / 1000), re.sub(" +", " ", text))
            angle = "%.1f\u00b0 from vertical" % line["angle_from_vertical_deg"]
            self.assertIn("plumb" if angle.startswith("0.0") else angle, text)
        self.assertIn("30.81 kN down", text)
        self.assertIn("FRONT", text)
        self.assertIn("SIDE", text)
        self.assertIn("PLAN", text)
        self.assertRegex(text, r"SCALE 1:\d")

    def test_drawn_to_scale(self):
        """The distance between two anchors' plumb lines on paper is their distance in the plan over the scale."""
        svg = self.path("scale.svg")
        self.draw(self.plans["two-hooks"], svg)
        tree = ElementTree.parse(svg).getroot()
        text = " ".join(t.text for t in tree.iter("{http://www.w3.org/2000/svg}text"))
        ratio = float(re.search(r"SCALE 1:([\d.]+)", text).group(1))
        plumb = []  # dashes of a plumb line are 8 2 1.5 2
        for path in tree.iter("{http://www.w3.org/2000/svg}path"):
            if path.get("stroke-dasharray") == "8 2 1.5 2":
                numbers = [float(v) for v in re.findall(r"-?[\d.]+", path.get("d"))]
                if numbers[0] == numbers[2]:
                    plumb.append(numbers[0])
        on_paper = max(plumb[:2]) - min(plumb[:2])
        self.assertAlmostEqual(on_paper / 72 * 0.0254 * ratio, 6.60 - 0.90, delta=0.02)  # two-hooks.yaml: 0.90 and 6.60 m

    def test_every_line_is_found(self):
        text = self.text("truss-40")
        for i in range(1, 41):
            self.assertRegex(text, r"(?m)^ *%d +l%d +a%d +truss\.p%d " % (i, i, i, i))
        first = self.words(self.path("text.pdf"))[0][1]
        balloons = {w[0] for w in first if w[2] < 500}
        self.assertTrue({str(i) for i in range(1, 41)} <= balloons)

    def test_heads_are_repeated(self):
        pages = self.text("truss-40").split("\f")
        going_on = [p for p in pages if "LINES (continued)" in p]
        self.assertTrue(going_on)
        for page in going_on:
            self.assertRegex(page, r"LINES \(continued\)\s+no\. +line +from +to +pull, kN")

    def test_verdicts_in_words(self):
        for name, word, sentence in (("two-hooks", "PASS", "every check made here passes"),
                                     ("fails", "FAIL", "do not lift as planned"),
                                     ("incomplete", "INCOMPLETE", "something that carries load is not checked")):
            for page in self.text(name).strip("\f\n").split("\f"):
                self.assertIn(word, page)
                self.assertIn(sentence, page)
        self.assertIn("NOT CHECKED", self.text("incomplete"))
        self.assertRegex(self.text("fails"), r"FAIL +\d+ %")

    def test_how_sure_the_verdict_is(self):
        checks = [c for c in json_of(self.plans["monorail"])["checks"] if c["limit"] is not None]
        memory, demo = (sum(c["mark"] == mark for c in checks) for mark in ("memory", "demo"))
        self.assertTrue(memory and demo)
        for page in re.sub(" +", " ", self.text("monorail")).strip("\f\n").split("\f"):
            self.assertIn("%d of %d limits not confirmed (*), %d invented (d)" % (memory, len(checks), demo), page)

    def test_us_units_on_letter(self):
        text = self.text("us-bridle")
        self.assertNotRegex(text, r"\b(kN|kg|mm)\b")
        self.assertIn("lbf", text)
        self.assertEqual(self.words(self.path("text.pdf"))[0][0], LETTER)
        self.text("us-bridle", "--paper", "a4")
        width, height = self.words(self.path("text.pdf"))[0][0]
        self.assertAlmostEqual(width, A4[0], delta=0.1)
        self.assertAlmostEqual(height, A4[1], delta=0.1)

    def test_runway(self):
        text = re.sub(" +", " ", self.text("monorail"))
        runway = json_of(self.plans["monorail"])["runways"][0]
        self.assertIn("%.2f kN m" % (runway["moment"]["max_Nm"] / 1000), text)
        self.assertIn("%.2f kN m" % (runway["moment"]["min_Nm"] / 1000), text)
        self.assertIn("%.2f kN" % (runway["shear"]["max_abs_N"] / 1000), text)
        for i, reaction in enumerate(runway["reactions"], 1):
            self.assertIn("S%d most %.2f kN" % (i, reaction["max_N"] / 1000), text)
        self.assertIn("UPLIFT", text)
        self.assertIn("MOMENT, on the side in tension", text)

    def test_working_pages(self):
        self.assertNotIn("\nWORKING", self.text("monorail"))
        text = self.text("monorail", "--working")
        self.assertIn("WORKING", text)
        self.assertRegex(text, r"runway\.flange_stress +gallery")
        self.assertRegex(text, r"= .+\*.+")

    def test_blanks_stay_blank(self):
        text = self.text("dated")
        for known in ("2026-03-05", "A. Planner", "L-17, bay 3"):
            self.assertIn(known, text)
        text = self.text("two-hooks")
        for asked in ("Lift category", "Exclusion zone", "Weather limits", "approved by", "examined"):
            self.assertIn(asked, text)

    def test_digests(self):
        import hashlib
        with open(self.plans["two-hooks"], "rb") as f:
            digest = hashlib.sha256(f.read()).hexdigest()
        svg = self.path("digest.svg")
        self.draw(self.plans["two-hooks"], svg)
        text = "".join(t.text for t in ElementTree.parse(svg).getroot().iter("{http://www.w3.org/2000/svg}text"))
        self.assertIn(digest, text)
        with open(os.path.join(TOP, "tables", "rules", "en.yaml"), "rb") as f:
            self.assertIn(hashlib.sha256(f.read()).hexdigest(), text)

    # ---- names ---------------------------------------------------------------------------------

    def svg_text(self, name):
        svg = self.path("names.svg")
        self.draw(self.plans[name], svg)
        return [t.text for t in ElementTree.parse(svg).getroot().iter("{http://www.w3.org/2000/svg}text")]

    def test_long_names_are_whole_in_the_tables(self):
        text = "".join("".join(self.svg_text("long-names")).split())
        for end in "abcd":
            self.assertIn("".join((sheet_plans.LONG[:-1] + end).split()), text)

    def test_markup_is_text(self):
        self.assertIn(sheet_plans.MARKUP, self.svg_text("markup"))

    def test_figures_keep_their_place_beside_right_to_left(self):
        """Where the name stands between isolates, the figures after it are drawn to its right, in order."""
        text = self.svg_text("right-to-left")
        self.assertIn("\u2068%s\u2069 12 t" % sheet_plans.RTL, text)
        self.draw(self.plans["right-to-left"], self.path("rtl.pdf"))
        words = self.words(self.path("rtl.pdf"))[0][1]
        title = [w for w in words if 45 < w[2] < 65 and w[1] < 300]
        self.assertEqual([w[0] for w in sorted(title, key=lambda w: w[1])][-2:], ["12", "t"])

    def test_direction_overrides_are_shown(self):
        """No plan can hold them, but the name of its file can."""
        self.plans["override"] = self.path(sheet_plans.OVERRIDE + ".yaml")
        self.addCleanup(self.plans.pop, "override")
        shutil.copyfile(self.plans["two-hooks"], self.plans["override"])
        text = self.svg_text("override")
        self.assertTrue(any("abc\\u202ecba 12 t.yaml" in t for t in text))
        self.assertFalse(any("\u202e" in t for t in text))

    # ---- files ---------------------------------------------------------------------------------

    def test_wrong_names_and_papers(self):
        plan = self.plans["two-hooks"]
        for arguments in (["-o", self.path("a.doc")], ["-o", self.path("pdf")], [], ["-o", self.path("a.pdf"), "--paper", "a5"],
                          ["-o", self.folder], ["-o", self.path("none/a.pdf")]):
            done = run(BECKET, "draw", plan, *arguments)
            self.assertEqual(done.returncode, 2, arguments)
            self.assertRegex(done.stderr.decode(), r"BK-40[12]")
        self.assertFalse(os.path.exists(self.path("a.pdf")))

    def test_unstable_draws_nothing(self):
        plan, output = self.path("unstable.yaml"), self.path("unstable.pdf")
        with open(plan, "w") as f:
            f.write(sheet_plans.UNSTABLE)
        done = run(BECKET, "draw", plan, "-o", output)
        self.assertEqual(done.returncode, 3)
        self.assertIn("BK-302", done.stderr.decode())
        self.assertFalse(os.path.exists(output))

    def test_no_font_is_an_error(self):
        """Without a font the drawing library leaves the words out: a sheet with no figures, and no complaint."""
        config, output = self.path("fonts.conf"), self.path("fontless.pdf")
        with open(config, "w") as f:
            f.write('<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>%s/none</dir></fontconfig>'
                    % self.folder)
        done = run(BECKET, "draw", self.plans["two-hooks"], "-o", output, env={"FONTCONFIG_FILE": config})
        self.assertEqual(done.returncode, 2)
        self.assertIn("font", done.stderr.decode())
        self.assertFalse(os.path.exists(output))

    def test_not_a_plain_file(self):
        pipe = self.path("pipe.pdf")
        os.mkfifo(pipe)
        done = run(BECKET, "draw", self.plans["two-hooks"], "-o", pipe)
        self.assertEqual(done.returncode, 2)
        self.assertIn("BK-402", done.stderr.decode())
        self.assertTrue(stat.S_ISFIFO(os.stat(pipe).st_mode))

    def test_full_disk_leaves_the_old_file(self):
        folder = self.path("full")
        os.mkdir(folder)
        output = os.path.join(folder, "a.pdf")
        with open(output, "w") as f:
            f.write("what was there")

        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        done = run(BECKET, "draw", self.plans["two-hooks"], "-o", output, preexec_fn=limit)
        self.assertEqual(done.returncode, 2)
        self.assertIn("BK-402", done.stderr.decode())
        self.assertEqual(os.listdir(folder), ["a.pdf"])
        with open(output) as f:
            self.assertEqual(f.read(), "what was there")

    def test_links_and_modes_are_kept(self):
        target, link = self.path("target.pdf"), self.path("link.pdf")
        with open(target, "w"):
            pass
        os.chmod(target, 0o640)
        os.symlink("target.pdf", link)
        data = self.draw(self.plans["two-hooks"], link)
        self.assertTrue(os.path.islink(link) and data.startswith(b"%PDF"))
        self.assertEqual(stat.S_IMODE(os.stat(target).st_mode), 0o640)

    # ---- the angle -----------------------------------------------------------------------------

    def test_angle(self):
        options = ["--load", "2 t", "--height", "1.5 m", "--spread", "2 m", "--sling", "2 t"]
        for ending in (".pdf", ".svg", ".png"):
            done = run(BECKET, "angle", *options, "-o", self.path("angle" + ending))
            self.assertEqual((done.returncode, done.stdout), (0, b""), done.stderr.decode())
        pages = self.words(self.path("angle.pdf"))
        self.assertEqual(len(pages), 1)
        text = run("pdftotext", "-layout", self.path("angle.pdf"), "-").stdout.decode()
        # tan beta = (2/2)/1.5; pull = 2000 kg * 9.80665 / (2 cos beta)
        self.assertIn("33.7\u00b0 from the vertical", text)
        self.assertIn("11.79 kN in each of 2", text)
        for word in ("FROM THE VERTICAL", "FROM THE HORIZONTAL", "not to be used"):
            self.assertIn(word, text)
        self.assertEqual(overlaps(pages[0][1]), [])

    def test_angle_off_the_chart_is_told(self):
        run(BECKET, "angle", "--load", "1 t", "--angle", "3 deg", "--from", "horizontal", "-o", self.path("flat.pdf"))
        text = run("pdftotext", "-layout", self.path("flat.pdf"), "-").stdout.decode()
        self.assertIn("yours: 87.0\u00b0 from the vertical", text)
        # 1000 kg * 9.80665 / (2 cos 87) = 93.69 kN
        self.assertIn("93.69 kN in each of 2", text)
        self.assertIn("FLATTER THAN THE RULE SET ALLOWS", text)
        run(BECKET, "angle", "--load", "4000 lb", "--legs", "4", "--angle", "3 deg", "--from", "horizontal", "--sling", "2000 lb",
            "--units", "us", "-o", self.path("letter.pdf"))
        self.assertEqual([size for size, _ in self.words(self.path("letter.pdf"))], [LETTER])


def rows_of_tables(svg):
    """Title and number of rows of every table, or part of one on a page: a row ends with a light line over the whole width,
    the names of the columns with a darker one."""
    tables, title = [], ""
    for element in svg.iter():
        if element.tag.endswith("}text") and element.get("font-weight") == "bold" and element.get("font-size") == "9.5":
            title = element.text
        line = (element.get("stroke"), element.get("stroke-width"))
        if line == ("#8c8c8c", "0.3") and re.match(r"M34 \S+L5\d\d", element.get("d", "")):
            tables.append([title, 0])
        if line == ("#cccccc", "0.25") and tables:
            tables[-1][1] += 1
    return [(title, n) for title, n in tables if n]  # other lines of that kind have no rows below


def overlaps(words):
    """Pairs of words that stand on each other.  A word's box is higher than its letters: half a point is none."""
    words = sorted(words, key=lambda w: w[2])
    found = []
    for i, (a, ax0, ay0, ax1, ay1) in enumerate(words):
        for b, bx0, by0, bx1, by1 in words[i + 1:]:
            if by0 >= ay1 - 0.5:
                break
            if min(ax1, bx1) - max(ax0, bx0) > 0.5:
                found.append((a, b))
    return found


LIGHT = bytes(range(128, 256))


def png_rows(data):
    """Rows of an 8-bit grey picture whose rows have no filter: read here, so that a decoder's leniency hides nothing."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, body, head = 8, b"", None
    while at < len(data):
        size, kind = struct.unpack(">I4s", data[at:at + 8])
        chunk = data[at + 8:at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size:at + 12 + size])[0] == zlib.crc32(kind + chunk)
        if kind == b"IHDR":
            head = struct.unpack(">IIBBBBB", chunk)
        if kind == b"IDAT":
            body += chunk
        at += 12 + size
    width, height = head[:2]
    assert head[2:] == (8, 0, 0, 0, 0)
    raw = zlib.decompress(body)
    rows = [raw[y * (width + 1):(y + 1) * (width + 1)] for y in range(height)]
    assert all(row[0] == 0 for row in rows)
    return width, height, [row[1:] for row in rows]


def json_of(plan):
    import json
    return json.loads(run(BECKET, "check", "--json", plan).stdout)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--becket", required=True)
    arguments, rest = parser.parse_known_args()
    BECKET = os.path.abspath(arguments.becket)
    os.environ["BECKET_TABLES"] = os.path.join(TOP, "tables")
    for needed in ("pdftotext", "pdffonts", "pdfinfo", "xmllint"):
        if not shutil.which(needed):
            print("no", needed)
            sys.exit(77)
    unittest.main(argv=[sys.argv[0]] + rest, verbosity=1)
