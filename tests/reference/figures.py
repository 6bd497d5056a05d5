#!/usr/bin/python3
"""Every figure of every shipped table and rule set, held to a second copy that was written from its source.

    figures.py [TABLES]

The copies lie in figures/, one publication a file, with the source and how sure it is at their heads or in their rows: READ was read
there, MEMORY is recalled, COMPUTED and DERIVED come of the formula named.  What has no file of its own stands below, its source beside it.
Invented rows (demo) have no source: their second copy only shows a slip of the hand.

A cell is compared as the number in the unit that its column states, so that a column in another unit is a difference too.  A figure that
is held by nothing fails as well: a new row, column or rule wants its source written down here."""
import csv
import math
import pathlib
import re
import sys

try:
    import numpy as np
    import yaml
except ImportError:
    sys.exit(77)

HERE = pathlib.Path(__file__).resolve().parent
TABLES = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else HERE.parent.parent / "tables")
faults = []
held = 0


def number(text):
    """12, 0.5, 1-1/4 or 2/3 as a number; None for what is none."""
    text = str(text).strip()
    m = re.fullmatch(r"(?:(\d+)-)?(\d+)/(\d+)", text)
    if m:
        return int(m[1] or 0) + int(m[2]) / int(m[3])
    try:
        return float(text)
    except ValueError:
        return None


def digits(x, n):
    return float("%.*g" % (n, x))


def same(found, wanted):
    """As numbers with the unit behind them where they are such, a percentage as a share; else as texts.  `~` is nothing."""
    def parts(text):
        m = re.fullmatch(r"(-?[\d./ -]*\d) *([a-zA-Z%/][\w%/*]*)?", text)
        if not m or number(m[1]) is None:
            return None
        return (number(m[1]) / 100, "") if m[2] == "%" else (number(m[1]), m[2] or "")
    found, wanted = (str(v).strip() if v not in (None, "") else "~" for v in (found, wanted))
    a, b = parts(found), parts(wanted)
    if a and b:
        return a[1] == b[1] and math.isclose(a[0], b[0], rel_tol=1e-9, abs_tol=1e-12)
    return found == wanted


def want(where, found, wanted):
    global held
    held += 1
    if not same(found, wanted):
        faults.append(f"{where}: {found}, its source says {wanted}")


def copy(name):
    """The rows of a file under figures/."""
    with open(HERE / "figures" / (name + ".csv"), encoding="utf-8") as f:
        return list(csv.DictReader(line for line in f if not line.startswith("#")))


# ---- tables ------------------------------------------------------------------------------------------------

class Table:
    def __init__(self, path):
        doc = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        self.name, self.units, self.all = path.stem, doc["columns"], doc.get("all", {})
        formula = doc.get("formula", [])
        self.formula = [formula] if isinstance(formula, dict) else formula
        keys = list(self.units)
        self.rows = {r[0]: dict(zip(keys, r)) for r in doc["rows"]}
        self.open = {(r, k) for r in self.rows for k in keys if self.units[k] not in ("name", "text", "mark", "source")}

    def hold(self, rows, units):
        """rows: {row: {column: what its source says}}; units: of these columns."""
        for column, unit in units.items():
            want(f"{self.name}, unit of {column}", self.units.get(column), unit)
        for row, cells in rows.items():
            if row not in self.rows:
                faults.append(f"{self.name}: no row {row}")
                continue
            for column in units:
                want(f"{self.name}/{row} {column}", self.rows[row].get(column), cells.get(column, "~"))
                self.open.discard((row, column))


tables = {p.stem: Table(p) for p in sorted(TABLES.glob("*/*.yaml")) if p.parent.name != "rules"}


def hold(table, source, key, columns):
    """columns: {column of the table: (column of the copy or a function of its row, unit)}; key: the same for the row's name."""
    def take(row, how):
        return how(row) if callable(how) else row[how]
    rows = {take(r, key): {c: take(r, how) for c, (how, unit) in columns.items()} for r in (copy(source) if isinstance(source, str) else source)}
    tables[table].hold(rows, {c: unit for c, (how, unit) in columns.items()})


def of(name):
    """The size that a name says: M8, M72x6."""
    return lambda r: number(re.sub(r"x6$|^M", "", r[name]))


# chain: EN 818-4 and the same rule for grade 10; mass 0.0222 d2 (memory, round-link chain of pitch 3 d)
EN_LEGS = {"wll": ("wll_1leg_t", "t"), "wll_2_leg_45": ("wll_2leg_0_45_t", "t"), "wll_2_leg_60": ("wll_2leg_45_60_t", "t"),
           "wll_4_leg_45": ("wll_34leg_0_45_t", "t"), "wll_4_leg_60": ("wll_34leg_45_60_t", "t"), "wll_endless": ("wll_endless_t", "t"),
           "diameter": ("d_mm", "mm"), "mass_per_m": (lambda r: digits(0.0222 * float(r["d_mm"]) ** 2, 3), "kg/m")}
hold("chain-en818-4", "chain_grade8_en", "d_mm", EN_LEGS)
hold("chain-grade10", "chain_grade10_en", "d_mm", EN_LEGS)
US_LEGS = {"wll_2_leg_30": ("double_60h_lb", "lb"), "wll_2_leg_45": ("double_45h_lb", "lb"), "wll_2_leg_60": ("double_30h_lb", "lb"),
           "wll_4_leg_30": ("triple_quad_60h_lb", "lb"), "wll_4_leg_45": ("triple_quad_45h_lb", "lb"),
           "wll_4_leg_60": ("triple_quad_30h_lb", "lb"), "diameter": ("size_in", "in")}
for grade in ("80", "100"):
    hold("chain-us-grade" + grade, [r for r in copy("chain_us_grade80_100") if r["grade"] == grade], "size_in",
         {**US_LEGS, "wll": ("single_90deg_lb", "lb")})
hold("chain-osha-1975", "chain_osha_1975_historic", "size_in", {**US_LEGS, "wll": ("single_lb", "lb")})
hold("discard-chain-min-size", "chain_min_link_size", "chain_size_in",
     {"diameter": ("chain_size_in", "in"), "least": ("min_size_at_any_point_in", "in")})

# rope: mass factors 0.00367 and 0.00409 of EN 12385-4 (memory)
for core, factor in (("fibre", 0.00367), ("steel", 0.00409)):
    hold(f"rope-en13414-1-{core}-core", "wire_rope_en13414_1", "d_mm",
         {"diameter": ("d_mm", "mm"), "wll": (f"wll_{core}_core_t", "t"),
          "mass_per_m": (lambda r, factor=factor: digits(factor * float(r["d_mm"]) ** 2, 3), "kg/m")})
hold("rope-us-eips-iwrc", "wire_rope_us_eips_iwrc_mech_splice", "d_in",
     {"diameter": ("d_in", "in"), "wll": ("vertical_st", "short_ton"), "choker_wll": ("choker_st", "short_ton"),
      "basket_wll": ("basket_vertical_legs_st", "short_ton")})
for splice, mark in (("hand", "HT"), ("sleeve", "MS"), ("socket", "S")):
    hold("rope-us-ips-fc-historic", "wire_rope_us_6x19_ips_fc_historic", lambda r, splice=splice: r["d_in"] + "-" + splice,
         {"diameter": ("d_in", "in"), "wll": ("vert_" + mark, "short_ton"), "choker_wll": ("choker_" + mark, "short_ton"),
          "basket_wll": ("basket_" + mark, "short_ton")})
hold("clips-cal8497", "wire_rope_clips_cal8497", "clip_size_in",
     {"diameter": ("clip_size_in", "in"), "clips": ("clips_min", "number"), "turn_back": ("turn_back_in", "in"),
      "torque": ("torque_lbf_ft", "lbf*ft")})
hold("clips-cfr1918", "wire_rope_clips_cfr1918", lambda r: r["rope_d_in"].lstrip("<="),
     {"diameter": (lambda r: r["rope_d_in"].lstrip("<="), "in"), "clips": ("clips_drop_forged_min", "number"), "clips_other": ("clips_other_min", "number"),
      "spacing": ("spacing_min_in", "in")})
ENDS = ["socket-resin", "socket-swaged", "sleeve", "hand-tucked-1/2in", "hand-tucked-stainless-1/2in", "socket-wedge-low", "socket-wedge-high",
        "clips", "hand-tucked-1/4in", "hand-tucked-3/4in", "hand-tucked-1in", "en13414-1-ferrule", "en13414-1-hand-spliced"]
hold("termination-efficiency", [{**r, "row": name} for name, r in zip(ENDS, copy("termination_efficiency"))], "row",
     {"efficiency": ("eff_steel_core", "number"), "fibre_core": ("eff_fibre_core", "number")})

# textile and fibre
for table in ("web-en1492-1", "round-en1492-2"):
    hold(table, "textile_en1492_colours", lambda r: r["wll_straight_t"] + "t",
         {"wll": ("wll_straight_t", "t"), "choker_wll": ("choked_0_8_t", "t"), "basket_wll": ("basket_parallel_2_0_t", "t"),
          "wll_2_leg_45": ("legs2_0_45_1_4_t", "t"), "wll_2_leg_60": ("legs2_45_60_1_0_t", "t"), "wll_4_leg_45": ("legs34_0_45_2_1_t", "t"),
          "wll_4_leg_60": ("legs34_45_60_1_5_t", "t"), "colour": ("colour", "text")})
for table, file in (("fibre-rope-cfr1918-eye", "fibre_rope_eye_and_eye_cfr1918"), ("fibre-rope-cfr1918-endless", "fibre_rope_endless_cfr1918")):
    hold(table, file, "d_in",
         {"diameter": ("d_in", "in"), "wll": ("vertical_lb", "lb"), "choker_wll": ("choker_lb", "lb"), "basket_wll": ("basket_90h_lb", "lb"),
          "basket_30": ("basket_60h_lb", "lb"), "basket_45": ("basket_45h_lb", "lb"), "basket_60": ("basket_30h_lb", "lb")})

# shackles; the three breaking loads of RR-C-271D stand in the head of its file
hold("shackle-class-dee", "shackles_class_code_dee", lambda r: r["swl_t"] + "t",
     {"wll": ("swl_t", "t"), "diameter": ("mild_d1_mm", "mm"), "pin_diameter": ("mild_d2_mm", "mm"), "high_tensile_diameter": ("ht_d1_mm", "mm"),
      "high_tensile_pin": ("ht_d2_mm", "mm"), "opening": ("a_mm", "mm"), "inside_length": ("b_mm", "mm")})
hold("shackle-en13889", "shackles_en13889_grade6", lambda r: r["wll_t"] + "t",
     {"wll": ("wll_t", "t"), "diameter": ("body_mm", "mm"), "pin_diameter": ("pin_mm", "mm")})
hold("shackle-osha-historic", "shackles_osha_historic", "material_in",
     {"diameter": ("material_in", "in"), "pin_diameter": ("pin_in", "in"), "wll": ("swl_short_tons", "short_ton")})
hold("shackle-rr-c-271", "shackles_rr_c_271_grade_a", "body_in",
     {"diameter": ("body_in", "in"), "pin_diameter": ("pin_in", "in"),
      "wll": (lambda r: {"0.333": "1/3"}.get(r["wll_short_tons"], r["wll_short_tons"]), "short_ton"),
      "breaking_load": (lambda r: {"1/2": 20000, "5/8": 32500, "3/4": 47500}.get(r["body_in"]), "lb")})

# eyebolts, eye nuts (recalled as the eyebolts of their thread), turnbuckles
for table in ("eyebolt-din580", "eyenut-din582"):
    hold(table, "eyebolts_din580", "thread",
         {"diameter": (of("thread"), "mm"), "wll": ("axial_t", "t"), "inclined_wll": ("each_of_pair_45_t", "t")})
hold("eyebolt-b18-15", "eyebolts_asme_b18_15", "thread_in", {"diameter": ("thread_in", "in"), "wll": ("axial_lb", "lb")})
hold("turnbuckle-aashto-m269", "turnbuckles_aashto_m269", "thread_in",
     {"diameter": ("thread_in", "in"), "wll": ("recommended_working_lb", "lb"), "breaking_load": ("min_breaking_lb", "lb")})
hold("turnbuckle-astm-f1145", "turnbuckles_astm_f1145", "thread_in", {"diameter": ("thread_in", "in"), "wll": ("wll_lb", "lb")})

# hooks go by the chain they fit (EN 1677-2, -3: nominal sizes as the chain's; memory), assemblies by the sling of three or four legs
hold("hook-en1677-2", [r for r in copy("chain_grade8_en") if r["d_mm"] not in ("19", "28")], "d_mm",
     {"diameter": ("d_mm", "mm"), "wll": ("wll_1leg_t", "t")})
hold("master-link-assembly", "chain_grade8_en", "d_mm", {"diameter": ("d_mm", "mm"), "wll": ("wll_34leg_0_45_t", "t")})
R40 = [1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3, 3.15, 3.35, 3.55, 3.75, 4, 4.25,
       4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5]  # ISO 3, series R40 (memory)


def r40(x):
    decade = 10 ** math.floor(math.log10(x))
    return digits(max(v for v in R40 if v <= x / decade * (1 + 1e-12)) * decade, 6)


hold("master-link-en1677-4", [{"d": str(d)} for d in (10, 13, 16, 18, 20, 22, 26, 28, 32, 36, 40, 45, 50)], "d",  # invented: 100 N/mm2
     {"diameter": ("d", "mm"), "wll": (lambda r: r40(math.pi * float(r["d"]) ** 2 / 2 * 100 / 9806.65), "t")})

# bolts, rods, steels, densities
hold("bolt-metric", "bolts_metric", "size",
     {"diameter": (of("size"), "mm"), "pitch": ("pitch_mm", "mm"), "stress_area": ("As_mm2", "mm2"), "stress_area_printed": ("As_printed", "mm2"),
      "shank_area": ("A_gross_mm2", "mm2")})
hold("rod-unc", "rods_inch_unc", "size",
     {"diameter": ("d_in", "in"), "threads_per_inch": ("tpi", "number"), "shank_area": ("Ab_in2", "in2"), "stress_area": ("At_in2", "in2")})
proofs = {r["class"]: re.findall(r"\d+(?= |$)", re.sub(r"\(.*?\)", "", r["ISO898_proof_MPa"])) for r in copy("bolt_classes")}
hold("bolt-class", "bolt_classes", "class",
     {"fyb": (lambda r: number(r["fyb_MPa"]), "MPa"), "fub": ("fub_MPa", "MPa"),
      "proof_16": (lambda r: proofs[r["class"]][0], "MPa"), "proof": (lambda r: proofs[r["class"]][-1], "MPa")})
STEEL = copy("steel_grades")


def steel(standard, grade, thickness, which):
    return next(r[which] for r in STEEL if r["standard"].startswith(standard) and r["grade"] == grade and
                float(r["t_from_mm"]) < thickness <= float(r["t_to_mm"]))


for table, standard, yields, strengths in (("en10025-2", "EN 10025-2", (16, 40, 63, 80, 100, 150, 200, 250), (100, 250)),
                                           ("en1993-1-1-steel", "EN 1993-1-1", (40, 80), (40, 80))):
    hold(table, [{"grade": g} for g in ("S235", "S275", "S355")], "grade",
         {**{f"fy_{t}": (lambda r, s=standard, t=t: steel(s, r["grade"], t, "fy_MPa"), "MPa") for t in yields},
          **{f"fu_{t}": (lambda r, s=standard, t=t: steel(s, r["grade"], t, "fu_MPa"), "MPa") for t in strengths}})
hold("astm-steel", [r for r in STEEL if r["standard"] == "ASTM" and r["grade"] in ("A36", "A992", "A572-50")], "grade",
     {k: (lambda r, k=k: re.search(k.capitalize() + r" (\d+)", r["mark"])[1], "ksi") for k in ("fy", "fu")})
STUFF = """steel steel-us cast-iron-us cast-iron aluminium copper brass bronze lead zinc concrete concrete-reinforced concrete-fresh-extra mortar granite
limestone sandstone brickwork glass softwood hardwood plywood particle-board water sea-water diesel sand gravel earth-wet ice""".split()
hold("density", [{**r, "row": name} for name, r in zip(STUFF, copy("densities"))], "row", {"density": ("density_kg_m3", "kg/m3")})

# beams
hold("flange-coefficients", [r for r in copy("flange_coeffs") if r["coefficient"] != "cy2"],
     lambda r: r["beam"].replace("14", "") + "-" + r["coefficient"],
     {"constant": ("a", "number"), "linear": ("b", "number"), "factor": ("c", "number"), "exponent": ("d", "number")})
SHAPES, PRINTED = copy("sections"), copy("sections_us_printed")
FLAT = {k: (k + "_mm", "mm") for k in ("h", "b", "tw", "tf", "r")}
for family in ("IPE", "HEA", "HEB", "HEM", "UB", "UC"):
    hold(family.lower(), [r for r in SHAPES if r["family"] == family], lambda r: r["name"].split()[1], FLAT)
hold("inp", [r for r in SHAPES if r["family"] == "INP"], lambda r: r["name"].split()[1],
     {**FLAT, "r2": ("r2_mm", "mm"), "slope": ("slope", "number"), "area": ("A_cm2", "cm2"), "Iy": ("Iy_cm4", "cm4"), "Iz": ("Iz_cm4", "cm4"),
      "It": ("It_cm4", "cm4"), "Iw": ("Iw_cm6", "cm6"), **{k: (k + "_cm3", "cm3") for k in ("Wely", "Wply", "Welz", "Wplz")}})
US_SHAPE = {"h": ("d", "in"), "b": ("bf", "in"), "tw": ("tw", "in"), "tf": ("tf", "in"), "mass_per_m": ("weight", "lb/ft"), "area": ("area", "in2"),
            "Iy": ("Ix", "in4"), "Iz": ("Iy", "in4"), "It": ("J", "in4"), "Iw": ("Cw", "in6"), "Wely": ("Sx", "in3"), "Wply": ("Zx", "in3"),
            "Welz": ("Sy", "in3"), "Wplz": ("Zy", "in3")}
hold("w", [r for r in PRINTED if r["shape"].startswith("W")], lambda r: r["shape"][1:].lower(),
     {**US_SHAPE, "r": (lambda r: round(float(r["k"]) - float(r["tf"]), 4), "in")})
derived = {r["name"]: r for r in SHAPES if r["family"] == "S"}  # root radius from k, toe radius 0.6 tw, slope 1 in 6
hold("s", [{**r, **derived[r["shape"]]} for r in PRINTED if r["shape"].startswith("S")], lambda r: r["shape"][1:].lower(),
     {**US_SHAPE, "Iy": ("Ix", "in4"), "r": ("r_mm", "mm"), "r2": ("r2_mm", "mm"),
      "slope": (lambda r: "1/6" if r["slope"] == "0.1667" else None, "number")})

# hoists
hold("hoist-group", "group_life_and_duty", "iso",
     {"life_l1": ("hours_L1", "h"), "life_l2": ("hours_L2", "h"), "life_l3": ("hours_L3", "h"), "full_load_life": ("D_full_load_hours_L4", "h"),
      "cyclic_duration_factor": ("ED_percent", "%"), "starts_per_hour": ("starts_per_h", "number"),
      "short_time": (lambda r: r["short_time_min_S2"].lstrip(">"), "min"), "fem": ("fem", "text")})
hold("hoist-group-matrix", "mechanism_groups_iso4301_1986", "load_class", {f"t{i}": (f"T{i}", "text") for i in range(10)})
hold("hoist-spectrum", "load_spectra", "class",
     {"km": ("iso_Km_nominal", "number"), "k_from": ("fem_k_from", "number"), "k_to": ("fem_k_to", "number"), "k_cubed": ("k_cubed_of_upper", "number")})


def daily(end):
    def take(r):
        low, to, high = r["mean_daily_hours_250d_10y"].partition("-")
        if low.startswith("<="):
            low, high = "0", low[2:]
        return {"from": low.lstrip(">"), "to": high}[end]
    return take


hold("hoist-time-class", "utilization_classes", "iso_class",
     {"total": ("total_hours", "h"), "fem": ("fem_class", "text"), "daily_from": (daily("from"), "h"), "daily_to": (daily("to"), "h")})
hold("hoist-us-duty", "hst_duty_classes", "class",
     {"cyclic_duration_factor": ("max_on_percent", "%"), "on_time_per_hour": ("max_on_min_per_h", "min"), "starts_per_hour": ("max_starts_per_h", "number"),
      "from_cold": ("infrequent_max_on_min_cold", "min"), "starts_from_cold": ("infrequent_max_starts", "number"),
      "mean_load": ("mean_effective_load_factor", "number")})
ways = ["iso-recorder", "iso-counters", "iso-process", "iso-production", "iso-undocumented", "iso-unknown", "fem-recorder", "fem-counters", "fem-process"]
recording = [{**r, "row": name} for name, r in zip(ways, copy("recording_factors"))]
recording += [{**recording[-1], "row": name} for name in ("fem-production", "fem-undocumented", "fem-unknown")]  # hours and loads both estimated
hold("hoist-recording", recording, "row", {"factor": ("factor", "number")})
CASES = """uk-people-and-accessories uk-other uk-event de-yearly de-life-used de-upper-limit us-1910-frequent us-1910-periodic us-1910-idle-1-6
us-1910-idle-over-6 us-1910-standby us-slings-daily us-chain-slings wa-chain-normal wa-chain-severe b30-frequent-normal b30-frequent-heavy
b30-frequent-severe b30-periodic-normal b30-periodic-heavy b30-periodic-severe de-chain-crack-test iso-assessment iso-special-10
iso-special-20""".split()
hold("hoist-inspection", [{**r, "row": name} for name, r in zip(CASES, copy("inspection_intervals"))], "row", {"months": ("max_months", "number")})
# Demo: invented.  Pitch 3 d (ISO 3077:2001), 0.0222 d2 kg/m (memory); running and starts of the group, of a row built for 60 % the six of M7.
GROUPS = {r["iso"]: r for r in copy("group_life_and_duty")}
tables["hoist-demo"].hold(
    {name: {"rated": number(name[:-1]), "self_mass": own, "hook_mass": hook, "falls": falls, "height_of_lift": high, "speed": speed, "creep": creep,
            "group": group, "chain_diameter": d, "chain_pitch": 3 * d, "chain_mass_per_m": digits(0.0222 * d * d, 3),
            "cyclic_duration_factor": GROUPS[duty]["ED_percent"], "starts_per_hour": GROUPS[duty]["starts_per_h"]}
     for name, d, falls, speed, creep, high, own, hook, group, duty in (
         ("0.25t", 4, 1, 12, 2, 20, 9.5, 0.8, "M6", "M6"), ("0.5t", 5, 1, 8, 1.3, 20, 19, 1.2, "M6", "M6"),
         ("1t", 7, 1, 8, 1.3, 20, 34, 2.1, "M5", "M5"), ("2t", 7, 2, 4, 0.65, 10, 37, 4.8, "M5", "M5"),
         ("1.6t", 9, 1, 6, 1, 16, 58, 3.4, "M5", "M5"), ("3.2t", 9, 2, 3, 0.5, 8, 64, 8.7, "M5", "M7"),
         ("2.5t", 11, 1, 5, 0.8, 16, 86, 5.3, "M5", "M5"), ("5t", 11, 2, 2.5, 0.4, 8, 97, 13.5, "M4", "M4"))},
    {"rated": "t", "self_mass": "kg", "hook_mass": "kg", "chain_mass_per_m": "kg/m", "falls": "number", "height_of_lift": "m", "speed": "m/min",
     "creep": "m/min", "group": "text", "cyclic_duration_factor": "%", "starts_per_hour": "number", "chain_diameter": "mm", "chain_pitch": "mm"})
tables["hoist-service-demo"].hold(
    {"gear-oil": {"running_time": 1600, "months": 60}, "brake": {"starts": 500000, "months": 12}, "contactors": {"starts": 1000000},
     "load-chain": {"running_time": 800, "months": 12}, "limiter": {"months": 12}},
    {"running_time": "h", "starts": "number", "months": "number"})


def invented(table, units, rows):
    """Rows of a demo table whose name is its rating in tonnes."""
    tables[table].hold({name: {"wll": number(name.split("t")[0]), **dict(zip(list(units)[1:], cells))} for name, *cells in rows}, units)


invented("beam-clamp-demo", {"wll": "t", "flange_from": "mm", "flange_to": "mm", "mass": "kg", "max_side_angle": "deg"},
         [("1t", 75, 230, 3.8, 5), ("2t", 75, 230, 4.9, 5), ("3t", 80, 320, 9.4, 5), ("5t", 90, 320, 11.6, 5)])
invented("block-demo", {"wll": "t", "sheaves": "number", "sheave_diameter": "mm", "rope": "mm", "mass": "kg"},
         [("2t-1", 1, 110, 8, 3.4), ("4t-1", 1, 150, 12, 7.9), ("8t-1", 1, 210, 16, 18), ("8t-2", 2, 210, 16, 27)])
invented("swivel-demo", {"wll": "t", "mass": "kg"}, [("1.6t", 1.1), ("3.15t", 2.3), ("5.3t", 4.4), ("8t", 7.6)])
invented("trolley-demo", {"wll": "t", "flange_from": "mm", "flange_to": "mm", "wheel_base": "mm", "mass": "kg"},
         [("0.5t", 58, 180, 120, 7.1), ("1t", 58, 220, 140, 11.3), ("2t", 66, 220, 170, 17.8), ("3.2t", 74, 220, 200, 32), ("5t", 90, 220, 240, 46)])

# discard and heat: percent, counts and degrees of the texts named
DISCARD = {
    "chain-sling-diameter-en818-6": {"share": 10},      # EN 818-6, below 90 % of nominal (memory)
    "chain-sling-diameter-qld": {"share": 10},          # Queensland Guide for doggers 2010
    "chain-sling-diameter-ema": {"share": 15},          # Emergency Management Australia, manual 8, 4.25
    "chain-diameter-navy-old": {"share": 25},           # US Navy NAVEDTRA 14251
    "chain-sling-elongation-en818-6": {"share": 5},     # EN 818-6, ISO 3056 (memory)
    "chain-sling-elongation-cargo": {"share": 5},       # 29 CFR 1919.25
    "chain-sling-elongation-navy": {"share": 5},        # NAVEDTRA 14251, over five links
    "chain-sling-elongation-ema": {"share": 3},         # EMA manual 8, leg longer than its tag
    "chain-sling-elongation-qld": {"share": 10},        # Queensland Guide for doggers 2010
    "hoist-chain-powered-us": {"share": 1.5},           # DOE-STD-1090-96, hoists
    "hoist-chain-hand-us": {"share": 2.5},              # the same
    "hoist-chain-pitch-11": {"share": 2},               # DIN 685-5, EN 818-7 (memory)
    "hoist-chain-pitch-1": {"share": 5},                # the same (memory)
    "hoist-chain-diameter": {"share": 10},              # the same (memory)
    "hook-throat-us": {"share": 5, "length": 25.4 / 4},  # WAC 296-155-55800 Table 12; EM 385-1-1: at most 1/4 in
    "hook-throat-us-old": {"share": 15},                # DOE-STD-1090-96 15.4.6; Alberta OHS Code s. 309
    "hook-throat-en1677": {"share": 10},                # EN 1677-2, -3 (memory)
    "hook-throat-din15405": {"share": 10},              # DIN 15405-1 (memory)
    "hook-wear-us": {"share": 10},                      # WAC 296-155-55800 Table 12; EM 385-1-1
    "hook-wear-din15405": {"share": 5},                 # DIN 15405-1 (memory)
    "hook-twist-us": {"angle": 0},                      # WAC 296-155-55800 Table 12: any
    "hook-twist-us-old": {"angle": 10},                 # DOE-STD-1090-96 15.4.6
    "rope-sling-wires-lay": {"count": 10},              # WAC 296-24-29425(5)(a)
    "rope-sling-wires-strand": {"count": 5},            # the same
    "rope-sling-wires-6d": {"count": 6},                # EN 13414-2 (memory)
    "rope-sling-wires-30d": {"count": 14},              # EN 13414-2 (memory)
    "rope-sling-wires-adjacent": {"count": 3},          # EN 13414-2 (memory)
    "rope-wires-8d-qld": {"share": 10},                 # Queensland Guide for doggers 2010
    "rope-sling-outer-wire": {"share": round(100 / 3, 1)},  # WAC 296-24-29425(5)(b): one third
    "standing-rope-wires-lay": {"count": 2},            # US Army TM 10-3950-672-10, page 2-14: more than
    "standing-rope-wires-end": {"count": 1},            # the same
    "running-rope-wires-lay": {"count": 6},             # 29 CFR 1926.1413 (memory)
    "running-rope-wires-strand": {"count": 3},          # the same (memory)
    "shackle-wear-nsw": {"share": 10},                  # NSW dogging and rigging guide
    "shackle-wear-us": {"share": 10},                   # ASME B30.26 (memory)
    "accessory-deformation-us-old": {"share": 15},      # DOE-STD-1090-96 15.4.8
    "lifting-bar-bend-us": {"share": round(100 * 0.5 / 120, 3), "length": 12.7},  # the same: 1/2 in in 10 ft
}
tables["discard-limits"].hold(DISCARD, {"share": "%", "count": "number", "angle": "deg", "length": "mm"})
tables["discard-rope-diameter"].hold(  # US Army TM 10-3950-672-10
    {to: {"from_diameter": at, "diameter": to, "loss": loss} for at, to, loss in
     (("0", "5/16", "1/64"), ("3/8", "1/2", "1/32"), ("9/16", "3/4", "3/64"), ("7/8", "1-1/8", "1/16"), ("1-1/4", "1-1/2", "3/32"))},
    {"from_diameter": "in", "diameter": "in", "loss": "in"})


def fahrenheit(t):
    return round((t - 32) / 1.8, 1)


HEAT = {
    "chain-grade-8-a": (-40, 200, 1), "chain-grade-8-b": (200, 300, 0.9), "chain-grade-8-c": (300, 400, 0.75),  # EN 818-6 (memory)
    "wire-rope-fibre-core-en": (-40, 100, 1), "wire-rope-steel-core-en": (-40, 150, 1),                         # EN 13414-2 (memory)
    "wire-rope-fibre-core-us": (None, fahrenheit(200), 1),                 # 29 CFR 1926.251, WAC 296-24-29425
    "wire-rope-steel-core-us": (fahrenheit(-60), fahrenheit(400), 1),      # the same
    "metal-mesh-bare": (fahrenheit(-20), fahrenheit(550), 1),              # WAC 296-24-29427, California Title 8 section 5046
    "metal-mesh-filled": (fahrenheit(0), fahrenheit(200), 1),              # the same
    "natural-fibre": (fahrenheit(-20), fahrenheit(180), 1),                # WAC 296-24-29429
    "polyester": (-40, 100, 1), "polyamide": (-40, 100, 1), "polypropylene": (-40, 80, 1),                      # EN 1492-1, scope
    "polyester-us": (None, fahrenheit(180), 1), "polypropylene-us": (None, fahrenheit(200), 1),                 # 29 CFR 1910.184(i) (memory)
    "chain-alloy-reduce-us": (None, fahrenheit(600), 1),                   # California Title 8 section 5044(f)
    "chain-alloy-discard-us": (None, fahrenheit(1000), None),              # the same, WAC 296-155-55800
    "chain-qld": (None, 260, 1),                                           # Queensland Guide for doggers 2010
}
tables["temperature-limits"].hold({row: dict(zip(("from_temperature", "to_temperature", "factor"), v)) for row, v in HEAT.items()},
                                  {"from_temperature": "degC", "to_temperature": "degC", "factor": "number"})

# what holds for all rows of a table.  Stretch at the working load limit: common practice, no source.
STRETCH = {"chain sling": "0.3 %", "wire rope sling": "0.5 %", "web sling": "3 %", "round sling": "3 %", "fibre rope sling": "10 %"}
FACTOR = {
    "chain sling": 4,        # 2006/42/EC annex I 4.1.2.5; ASTM A391, A973, ASME B30.9 (memory)
    "wire rope sling": 5,    # EN 13414-1 Zp (memory); 29 CFR 1926.251; DOE-STD-1090-96 11.3.1.3
    "web sling": 7, "round sling": 7,  # EN 1492-1, -2 (memory)
    "fibre rope sling": 5,   # 29 CFR Part 1918 Appendix II, Table 2
    "hook": 4, "master link": 4,  # EN 1677: breaking at 4 times (memory)
    "turnbuckle": 5,         # AASHTO M 269-77; ASTM F1145 (memory)
    "swivel": 5, "block": 5,  # invented
}
for t in tables.values():
    what = t.all.get("what")
    for key, text in t.all.items():
        if key == "stretch_at_wll":
            want(f"{t.name}, {key}", text, STRETCH[what])
        elif key == "design_factor" and t.name in ("shackle-en13889", "shackle-rr-c-271", "eyebolt-b18-15"):
            want(f"{t.name}, {key}", text, 5)  # EN 13889 (memory); RR-C-271D; DOE-STD-1090-96 12.4 b
        elif key == "design_factor":
            want(f"{t.name}, {key}", text, FACTOR[what])
        elif key in ("min_temperature", "max_temperature"):  # EN 1492-1, scope
            want(f"{t.name}, {key}", text, {"min_temperature": "-40 degC", "max_temperature": "100 degC"}[key])
        elif key == "limiter_at":
            want(f"{t.name}, {key}", text, 1.6)  # EN 14492-2, 5.2: slipping clutch, at most (memory)
        elif re.search(r"\d", text) and key not in ("material", "hoisting_class", "drive_class"):
            faults.append(f"{t.name}: {key} of all rows is held by nothing")
        elif key in ("hoisting_class", "drive_class"):
            want(f"{t.name}, {key}", text, {"hoisting_class": "HC2", "drive_class": "HD2"}[key])  # invented

# the formula that a table states beside its rows: mean stress or strength, both sides of a link, leg factor; how far print is from it
MODE = {"wll": 1, "wll_2_leg_45": 1.4, "wll_2_leg_60": 1, "wll_4_leg_45": 2.1, "wll_4_leg_60": 1.5, "wll_endless": 1.6,  # mode_factors_en.csv
        "choker_wll": 0.8, "basket_wll": 2}
US_MODE = {"wll_2_leg_30": 1.732, "wll_2_leg_45": 1.414, "wll_2_leg_60": 1, "wll_4_leg_30": 2.598, "wll_4_leg_45": 2.121, "wll_4_leg_60": 1.5}


def link(stress, *more):
    return ("diameter", "2", [f"{stress} MPa", math.pi / 2, *more], "R40", None)


FORMULA = {("chain-en818-4", c): link(200, MODE[c]) for c in EN_LEGS if c in MODE}
FORMULA.update({("chain-grade10", c): link(250, MODE[c]) for c in EN_LEGS if c in MODE})
FORMULA.update({("chain-us-grade" + g, c): ("wll", None, [m], None, "2.5 %") for g in ("80", "100") for c, m in US_MODE.items()})
FORMULA.update({("chain-osha-1975", c): ("wll", None, [US_MODE[c]], None, "2.5 %") for c in ("wll_2_leg_30", "wll_4_leg_45")})
FORMULA.update({(t, c): ("wll", None, [m], None, "0 %") for t in ("web-en1492-1", "round-en1492-2") for c, m in MODE.items()
                if c not in ("wll", "wll_endless")})
FORMULA.update({(f"rope-en13414-1-{core}-core", "wll"): ("diameter", "2", ["1770 MPa", k, 0.9, 0.2], None, "2.7 %")  # K, KT and Zp of 5
                for core, k in (("fibre", 0.330), ("steel", 0.356))})
FORMULA.update({("hook-en1677-2", "wll"): link(200), ("master-link-assembly", "wll"): link(200, 2.1), ("master-link-en1677-4", "wll"): link(100)})
for t in ("shackle-rr-c-271", "turnbuckle-aashto-m269"):
    FORMULA[t, "wll"] = ("breaking_load", None, [0.2], None, "0 %")  # one fifth
FORMULA["eyebolt-din580", "inclined_wll"] = ("wll", None, [0.71], None, "5 %")  # about 0.7
FORMULA["clips-cfr1918", "spacing"] = ("diameter", None, [6], None, "0 %")
FORMULA["rope-us-eips-iwrc", "basket_wll"] = ("wll", None, [2], None, "4 %")
FORMULA["rope-us-eips-iwrc", "choker_wll"] = ("wll", None, [0.74], None, "6.5 %")
FORMULA["rope-us-ips-fc-historic", "basket_wll"] = ("wll", None, [2], None, "6.5 %")
for t in ("fibre-rope-cfr1918-eye", "fibre-rope-cfr1918-endless"):
    FORMULA[t, "basket_wll"] = ("wll", None, [2], None, "7 %")
    FORMULA[t, "choker_wll"] = ("wll", None, [0.5], None, "10 %")
for t in tables.values():
    for f in t.formula:
        where = f"{t.name}, formula of {f['column']}"
        if (t.name, f["column"]) not in FORMULA:
            faults.append(where + " is held by nothing")
            continue
        of_, power, times, rounded, tolerance = FORMULA.pop((t.name, f["column"]))
        for key, wanted in (("of", of_), ("power", power), ("round", rounded), ("tolerance", tolerance)):
            want(f"{where}, {key}", f.get(key), wanted)
        want(f"{where}, factors", len(f["times"]), len(times))
        for found, wanted in zip(f["times"], times):
            want(f"{where}, factor", found, wanted)
faults += [f"{t}: no formula of {c}" for t, c in FORMULA]

faults += [f"{t.name}/{r}: {k} is held by nothing" for t in tables.values() for r, k in sorted(t.open)]

# ---- rules -------------------------------------------------------------------------------------------------

ANGLE = [(r["choke_angle_min_deg"], r["choke_angle_max_deg"], r["factor_on_choker_rating"]) for r in copy("choke_angle_factor")]
bend = copy("wire_rope_bend_efficiency")


def bands(*rows):
    return [list(r) for r in rows]


def heat(low, high):
    return {"rows": bands((low, high, 1))}


ONE_LOAD = next(r["C1"] for r in copy("c1c2") if r["loading"] == "point load midspan, pinned")


def two_loads(apart, stiff=8):
    """C1 of two equal loads about midspan at the shear centre, their distance over the span given, in digits of 0.001 downward.

    E Iw phi_xxxx - G It phi_xx = M2 phi / (E Iz) between forks, in sine waves; stiff: span times sqrt(G It / E Iw), past what is usual."""
    x = (np.arange(4000) + 0.5) / 4000
    waves = np.arange(1, 25) * math.pi
    shape = np.sin(np.outer(waves, x)) * np.minimum(1, np.minimum(x, 1 - x) / ((1 - apart) / 2))
    k = waves ** 4 + stiff ** 2 * waves ** 2
    worst = np.linalg.eigvalsh(2 * shape @ shape.T / len(x) / np.sqrt(np.outer(k, k)))[-1]
    return math.floor(math.sqrt(k[0] / worst) / k[0] * 1000 + 0.05) / 1000


GRADE_80 = {"points": bands(("-40 degF", 1), ("400 degF", 1), *((f"{t} degF", f) for t, f in (  # ASME B30.9 (memory); none below 400
    (400, 0.9), (500, 0.85), (600, 0.8), (700, 0.7), (800, 0.6), (900, 0.5), (1000, 0.4))))}
PLANE = {"rows": bands(("0 deg", "5 deg", 1))}  # common practice, no source
FORMULA_CURVE = {"points": [[r["D_over_d"], r["formula_eff"]] for r in bend]}
READ_CURVE = {"points": [[r["D_over_d"], r["curve_eff"]] for r in bend if r["curve_eff"]]}
# ASME B30.26; bands also in WAC 296-155-33905 figure 17: 0, 30 and 50 % less
SIDE = {"rows": bands(("0 deg", "5 deg", 1), ("5 deg", "45 deg", 1 - 0.30), ("45 deg", "90 deg", 1 - 0.50))}
BANDS = {
    # whole degrees are printed, 0 to 29, 30 to 59 and so on: a band ends where the next begins
    "choke.angle": {"rows": [[low + " deg", str(180 if high == "180" else int(high) + 1) + " deg", f] for low, high, f in reversed(ANGLE)]},
    "shackle.side": SIDE,
    # DIN 580: about 0.7 to 45 degrees, newer edition half across the thread (memory); US practice by the angle from the horizontal (memory)
    "eyebolt.angle": {"en": {"rows": bands(("0 deg", "5 deg", 1), ("5 deg", "45 deg", 0.7))},
                      "us": {"rows": bands(("0 deg", "5 deg", 1), ("5 deg", "30 deg", 0.65), ("30 deg", "45 deg", 0.3), ("45 deg", "60 deg", 0.25))}},
    "eyebolt.angle_newer": {"rows": bands(("0 deg", "5 deg", 1), ("5 deg", "45 deg", 0.7), ("45 deg", "90 deg", 0.5))},
    "eyebolt.angle_older": {"rows": bands(("0 deg", "5 deg", 1), ("5 deg", "30 deg", 0.55), ("30 deg", "45 deg", 0.25))},
    "shackle.plane": PLANE, "eyebolt.plane": PLANE, "lug.plane": PLANE,
    "bend.ratio": {"en": FORMULA_CURVE, "us": READ_CURVE}, "bend.ratio_curve": READ_CURVE, "bend.ratio_formula": FORMULA_CURVE,
    "edge.radius": {"rows": bands((0, 1, 0.5), (1, 2, 0.7), (2, "~", 1))},          # EN 818-6, ISO 3056 practice (memory)
    "edge.radius.textile": {"rows": bands((0, 1, "~"), (1, "~", 1))},                # sharp below the sling's thickness (memory)
    "temperature.chain-grade-8": {"rows": bands(("-40 degC", "200 degC", 1), ("200 degC", "300 degC", 0.9), ("300 degC", "400 degC", 0.75))},
    "temperature.chain-grade-10": heat("-40 degC", "200 degC"),                      # common practice, no source
    "temperature.chain-grade-80": GRADE_80,
    "temperature.chain-grade-100": heat("-40 degF", "400 degF"),                     # common practice, no source
    "temperature.wire-rope-fibre-core": {"en": heat("-40 degC", "100 degC"), "us": heat("~", "200 degF")},       # EN 13414-2 (memory); 29 CFR 1926.251
    "temperature.wire-rope-steel-core": {"en": heat("-40 degC", "150 degC"), "us": heat("-60 degF", "400 degF")},
    "temperature.polyester": {"en": heat("-40 degC", "100 degC"), "us": heat("~", "180 degF")},                  # EN 1492-1; 29 CFR 1910.184(i)
    "temperature.polyamide": {"en": heat("-40 degC", "100 degC"), "us": heat("~", "180 degF")},
    "temperature.polypropylene": {"en": heat("-40 degC", "80 degC"), "us": heat("~", "200 degF")},
    "temperature.natural-fibre": heat("-20 degF", "180 degF"),                       # WAC 296-24-29429
    "temperature.steel": heat("-20 degC", "200 degC"),                               # EN 13889 (memory)
    # One load, and two up to a twentieth of the span apart: NCCI SN003 (c1c2.csv).  Further apart: the span's own eigenvalue.
    "beam.C1_spread": {"points": bands((0, ONE_LOAD), (0.05, ONE_LOAD), (0.0501, two_loads(0.0501)),
                                       *((a, two_loads(a)) for a in (0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.8)), (1, 1))},
}
VALUES = {r["rule"]: r for r in copy("rules")}
for r in copy("phi2"):  # EN 13001-2; EN 1991-3, table 2.5 (memory)
    name = "dynamic.beta2." + r["hoisting_class"]
    VALUES[name] = {"en": r["beta2_s_per_m"] + " s/m"}
    VALUES["dynamic.phi2_min." + r["hoisting_class"]] = {"en": r["phi2min_EN1991_3"]}
    for hd in range(1, 6):
        VALUES[f"dynamic.phi2_min.{r['hoisting_class']}.HD{hd}"] = {"en": r[f"phi2min_HD{hd}"]}
seen = set()
for path in sorted(TABLES.glob("rules/*.yaml")):
    region = path.stem[:2]
    doc = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    for name, rule in (doc["values"] or {}).items():
        if name.startswith("chemical."):
            continue  # words
        seen.add((name, region))
        if name not in VALUES:
            faults.append(f"{path.stem}: {name} is held by nothing ({rule['value']})")
        else:
            want(f"{path.stem}: {name}", rule["value"], VALUES[name].get(region) or "nothing")
    for name, rule in (doc["bands"] or {}).items():
        if name not in BANDS:
            faults.append(f"{path.stem}: {name} is held by nothing")
            continue
        seen.add((name, region))
        wanted = BANDS[name].get(region, BANDS[name])
        for form, rows in wanted.items():
            found = rule.get(form, [])
            want(f"{path.stem}: {name}, {form}", len(found), len(rows))
            for a, b in zip(found, rows):
                want(f"{path.stem}: {name}, size of {form}", len(a), len(b))
                for x, y in zip(a, b):
                    want(f"{path.stem}: {name}, {form} {a}", x, y)
faults += [f"{region}: no rule {name}" for region in ("en", "us") for name in VALUES if VALUES[name].get(region) and (name, region) not in seen]
faults += [f"no rule {name}" for name in BANDS if not {(name, "en"), (name, "us")} & seen]

print("\n".join(faults) if faults else f"{held} figures of {len(tables)} tables and {len(seen)} rules stand as in their sources")
sys.exit(1 if faults or held < 7500 else 0)
