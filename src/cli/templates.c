/* The plans that `becket new` writes.  Every one is valid as written; its ratings are from the shipped tables. */
#include "templates.h"

#define TITLE {"title", "What is lifted, and where to", "Untitled lift", BK_DIM_NONE, true, false}
#define MASS  {"mass", "Mass of the load, with its unit", "2 t", BK_DIM_MASS, false, true}

#define HEAD                                                                                                          \
    "# A plan for `becket check`. Change what follows to your lift; every line can be changed.\n"                      \
    "# Quantities carry their unit (2.5 m, 8 ft 6 in, 3.6 t, 12 kN); z is up. A tolerance follows as +/- 5 %.\n"       \
    "becket: 1\n"                                                                                                      \
    "title: \"@title@\"\n"                                                                                             \
    "rules: en                     # rule set: en or us\n"                                                             \
    "units: si                     # how results are printed: si or us\n\n"

/* ---- bridle ------------------------------------------------------------------------------------ */

static const cli_question bridle_questions[] = {
    TITLE,
    MASS,
    {"length", "Distance between the two lifting points", "2 m", BK_DIM_LENGTH, false, true},
    {"height", "Height of the hook over the lifting points", "1.8 m", BK_DIM_LENGTH, false, true},
    {"cog", "Centre of gravity from the first lifting point, along the load", "0.95 m", BK_DIM_LENGTH, false, true},
    {"below", "Centre of gravity below the lifting points", "0.5 m", BK_DIM_LENGTH, false, true},
    {"limit", "What the hook or the point above may carry", "5 t", BK_DIM_FORCE, false, true},
    {0},
};
static const char bridle[] =
    HEAD
    "bodies:\n"
    "  load:\n"
    "    mass: @mass@ +/- 5 %\n"
    "    mass_source: drawing        # weighed, drawing or estimated\n"
    "    cog: @cog@ 0 -@below@ m +/- 0.05 0.02 0.05 m   # centre of gravity, from the first lifting point\n"
    "    points:\n"
    "      a: 0 0 0 m                # lifting points\n"
    "      b: @length@ 0 0 m\n\n"
    "rings:\n"
    "  master: {at: @cog@ 0 @height@ m, part: master-link-en1677-4/22}\n\n"
    "anchors:\n"
    "  hook: {at: @cog@ 0 @height+0.2@ m, limit: @limit@}\n\n"
    "lines:\n"
    "  drop: {from: hook, to: master, ea: 200 MN, parts: [hook-en1677-2/13]}   # the crane's hook\n"
    "  a: {from: master, to: load.a, parts: [chain-en818-4/10, shackle-en13889/3.25t]}\n"
    "  b: {from: master, to: load.b, parts: [chain-en818-4/10, shackle-en13889/3.25t]}\n";

/* ---- spreader ---------------------------------------------------------------------------------- */

static const cli_question spreader_questions[] = {
    TITLE,
    MASS,
    {"length", "Length of the spreader between its ends", "3 m", BK_DIM_LENGTH, false, true},
    {"drop", "Length of the slings below it", "1.5 m", BK_DIM_LENGTH, false, true},
    {"height", "Height of the hook over the spreader", "2 m", BK_DIM_LENGTH, false, true},
    {"limit", "What the hook or the point above may carry", "5 t", BK_DIM_FORCE, false, true},
    {0},
};
static const char spreader[] =
    HEAD
    "bodies:\n"
    "  spreader:\n"
    "    mass: 120 kg\n"
    "    cog: @length/2@ 0 0 m\n"
    "    at: 0 0 @drop@ m              # where its first end is drawn\n"
    "    points:\n"
    "      tl: 0 0 0.06 m             # top ears\n"
    "      tr: @length@ 0 0.06 m\n"
    "      bl: 0 0 -0.06 m            # bottom ears\n"
    "      br: @length@ 0 -0.06 m\n"
    "    steel: {section: hea/120, steel: en10025-2/S275, between: [tl, tr]}\n"
    "  load:\n"
    "    mass: @mass@ +/- 5 %\n"
    "    mass_source: drawing\n"
    "    cog: @length/2@ 0 -0.6 m +/- 0.05 0.02 0.05 m\n"
    "    points:\n"
    "      l: 0 0 0 m\n"
    "      r: @length@ 0 0 m\n\n"
    "anchors:\n"
    "  hook: {at: @length/2@ 0 @drop+height@ m, limit: @limit@}\n\n"
    "lines:\n"
    "  tl: {from: hook, to: spreader.tl, parts: [chain-en818-4/10, shackle-en13889/3.25t]}\n"
    "  tr: {from: hook, to: spreader.tr, parts: [chain-en818-4/10, shackle-en13889/3.25t]}\n"
    "  bl: {from: spreader.bl, to: load.l, parts: [round-en1492-2/2t, shackle-en13889/3.25t]}\n"
    "  br: {from: spreader.br, to: load.r, parts: [round-en1492-2/2t, shackle-en13889/3.25t]}\n";

/* ---- two hooks --------------------------------------------------------------------------------- */

static const cli_question hooks_questions[] = {
    TITLE,
    MASS,
    {"length", "Distance between the two lifting points", "4 m", BK_DIM_LENGTH, false, true},
    {"cog", "Centre of gravity from the first lifting point, along the load", "1.8 m", BK_DIM_LENGTH, false, true},
    {"sling", "Length of the slings", "2 m", BK_DIM_LENGTH, false, true},
    {"limit", "What each hook may carry", "2 t", BK_DIM_FORCE, false, true},
    {0},
};
static const char hooks[] =
    HEAD
    "bodies:\n"
    "  load:\n"
    "    mass: @mass@ +/- 5 %\n"
    "    mass_source: drawing\n"
    "    cog: @cog@ 0 -0.4 m +/- 0.10 0.02 0.05 m\n"
    "    points: {a: 0 0 0 m, b: @length@ 0 0 m}\n\n"
    "anchors:\n"
    "  a: {at: 0 0 @sling@ m, limit: @limit@, level: +/- 50 mm}       # each hook may be 50 mm off level\n"
    "  b: {at: @length@ 0 @sling@ m, limit: @limit@, level: +/- 50 mm}\n\n"
    "lines:\n"
    "  a: {from: a, to: load.a, parts: [rope-en13414-1-steel-core/16, shackle-en13889/3.25t]}\n"
    "  b: {from: b, to: load.b, parts: [rope-en13414-1-steel-core/16, shackle-en13889/3.25t]}\n";

/* ---- runway ------------------------------------------------------------------------------------ */

static const cli_question runway_questions[] = {
    TITLE,
    {"rated", "Rated capacity of the hoist", "2 t", BK_DIM_FORCE, false, true},
    {"span", "Distance between the supports", "6 m", BK_DIM_LENGTH, false, true},
    {"limit", "What each support may carry", "40 kN", BK_DIM_FORCE, false, true},
    {0},
};
static const char runway[] =
    HEAD
    "hoists:\n"
    "  main:\n"
    "    rated: @rated@\n"
    "    self_mass: 60 kg\n"
    "    hook_mass: 6 kg\n"
    "    chain_mass_per_m: 1.1 kg/m\n"
    "    falls: 2\n"
    "    height_of_lift: 6 m\n"
    "    speeds: [4 m/min, 0.7 m/min]          # main, creep\n"
    "    group: M5\n"
    "    cyclic_duration_factor: 40 %\n"
    "    starts_per_hour: 240\n"
    "    limiter: {kind: direct, at: 1.6}      # slipping clutch, and where it slips\n"
    "    hoisting_class: HC3\n"
    "    drive_class: HD2\n\n"
    "runways:\n"
    "  bay:\n"
    "    section: heb/280\n"
    "    steel: en10025-2/S275\n"
    "    ends: [0 m, @span@ m]                 # along the beam's own axis\n"
    "    supports:\n"
    "      - {at: 0 m, limit: @limit@}\n"
    "      - {at: @span@ m, limit: @limit@}\n"
    "    trolleys:\n"
    "      t1: {hoist: main, travel: [0.3 m, @span-0.3@ m], wheels: 4, wheel_base: 0.20 m, wheel_to_edge: 25 mm, mass: 45 kg}\n";

/* ---- hanging truss ----------------------------------------------------------------------------- */

static const cli_question truss_questions[] = {
    TITLE,
    {"mass", "Mass of the truss with all that hangs on it", "900 kg", BK_DIM_MASS, false, true},
    {"length", "Length of the truss between its outer hoists", "12 m", BK_DIM_LENGTH, false, true},
    {"limit", "What each point above may carry", "45 kN", BK_DIM_FORCE, false, true},
    {0},
};
static const char truss[] =
    HEAD
    "lose_a_line: yes               # answer for the loss of any one hoist too\n\n"
    "bodies:\n"
    "  truss:\n"
    "    mass: @mass@ +/- 5 %\n"
    "    mass_source: drawing\n"
    "    cog: @length/2@ 0 -0.3 m +/- 0.2 0.01 0.05 m\n"
    "    points: {a: 0 0 0 m, b: @length/3@ 0 0 m, c: @length*2/3@ 0 0 m, d: @length@ 0 0 m}\n\n"
    "anchors:\n"
    "  a: {at: 0 0 6 m, limit: @limit@, level: +/- 20 mm}\n"
    "  b: {at: @length/3@ 0 6 m, limit: @limit@, level: +/- 20 mm}\n"
    "  c: {at: @length*2/3@ 0 6 m, limit: @limit@, level: +/- 20 mm}\n"
    "  d: {at: @length@ 0 6 m, limit: @limit@, level: +/- 20 mm}\n\n"
    "lines:\n"
    "  a: {from: a, to: truss.a, hoist: point, ea: 3 MN}\n"
    "  b: {from: b, to: truss.b, hoist: point, ea: 3 MN}\n"
    "  c: {from: c, to: truss.c, hoist: point, ea: 3 MN}\n"
    "  d: {from: d, to: truss.d, hoist: point, ea: 3 MN}\n\n"
    "hoists:\n"
    "  point: {part: hoist-demo/2t}  # invented: put your own hoist here\n";

const cli_template cli_templates[] = {
    {"bridle", bridle, bridle_questions},
    {"spreader", spreader, spreader_questions},
    {"two-hooks", hooks, hooks_questions},
    {"runway", runway, runway_questions},
    {"hanging-truss", truss, truss_questions},
    {0},
};
