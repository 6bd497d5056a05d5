/* Every key of a plan, once.
 *
 * A list a map.  The reader walks a list to read a map, complains out of it (what was wanted, the nearest
 * known word), and the schema and the manual are printed from it: to add a key, add a line here and a field
 * where it is kept.  Bounds are those of sense, not of the trade: they catch a slip of the unit.
 */
#include "plan_keys.h"

#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))
#define WORDS(...)                                                                                           \
    (const char *const[])                                                                                    \
    {                                                                                                        \
        __VA_ARGS__, NULL                                                                                    \
    }
#define DEGREE (BK_PI / 180)

#define KEY(key, K, dimension, text, ...)                                                                    \
    {                                                                                                        \
        .name = key, .kind = BK_KEY_##K, .dim = BK_DIM_##dimension, .about = text, __VA_ARGS__               \
    }
#define IN(T, field) .offset = offsetof(T, field) /* kept in that field of the reader's struct */
#define APART        .offset = SIZE_MAX           /* read apart, by the map's own reader */
#define NEEDED       .required = true

#define NUMBER(T, key, dimension, field, lo, hi, text)                                                       \
    KEY(key, NUMBER, dimension, text, .low = lo, .high = hi, IN(T, field))
#define WHOLE(T, key, field, lo, hi, text)                                                                   \
    KEY(key, NUMBER, NONE, text, .low = lo, .high = hi, .whole = true, IN(T, field))
#define VALUE(T, key, dimension, field, lo, hi, text)                                                        \
    KEY(key, VALUE, dimension, text, .low = lo, .high = hi, IN(T, field))
/* first: the enum's value of the first word */
#define WORD(T, key, field, first, text, ...)                                                                \
    KEY(key, WORD, NONE, text, .words = WORDS(__VA_ARGS__), .low = first, IN(T, field))
/* a word kept as text */
#define NAMED_WORD(T, key, field, text, ...)                                                                 \
    KEY(key, TEXT, NONE, text, .words = WORDS(__VA_ARGS__), IN(T, field))
#define TEXT(T, key, field, text)  KEY(key, TEXT, NONE, text, IN(T, field))
#define YESNO(T, key, field, text) KEY(key, YESNO, NONE, text, IN(T, field))
#define REFERENCE(key, text)       KEY(key, REFERENCE, NONE, text, APART)
#define NESTED(key, K, list, text) KEY(key, K, NONE, text, .map = list, APART)
/* TABLE/ROW, or the same keys inline */
#define ROW(key, list, text) KEY(key, MAP, NONE, text, .map = list, .scalar = true, APART)
#define PARTS                                                                                                \
    ROW("part", "part", "TABLE/ROW or the same keys inline"),                                                \
        KEY("parts", LIST, NONE, "list of TABLE/ROW or the same keys inline", .map = "part", .scalar = true, \
            APART)
#define CITED                                                                                                \
    REFERENCE("part", "TABLE/ROW whose figures the other keys replace"),                                     \
        KEY("source", TEXT, NONE, "where the figures come from", APART),                                     \
        KEY("mark", TEXT, NONE, "how sure they are: published, computed, memory, ...", APART)

#define LIST(variable, called, text)                                                                         \
    const bk_key_map variable##_keys = {                                                                     \
        .name = called, .about = text, .keys = variable##_list, .n = COUNT(variable##_list)}

/* ---- the plan ---------------------------------------------------------------------------------- */

static const bk_key plan_list[] = {
    KEY("becket", OTHER, NONE, "version of the plan's format: 1", NEEDED, APART),
    TEXT(bk_plan, "title", title, "what the plan is of"),
    REFERENCE("rules", "rule set: a file in tables/rules (en, us)"),
    WORD(bk_plan, "units", units, BK_SI, "how results are printed", "si", "us"),
    KEY("date", DATE, NONE, "date of the plan, YYYY-MM-DD", IN(bk_plan, date)),
    TEXT(bk_plan, "reference", reference, "number of the plan in your own system"),
    TEXT(bk_plan, "site", site, "where the lift is"),
    TEXT(bk_plan, "author", author, "who made the plan"),
    NESTED("bodies", NAMED, "body", "rigid things with mass: loads, beams, trusses"),
    NESTED("rings", NAMED, "ring", "joints free to move, with no size"),
    NESTED("anchors", NAMED, "anchor", "points that the structure holds"),
    NESTED("lines", NAMED, "line", "straight tension-only members between two points"),
    NESTED("hoists", NAMED, "hoist", "hoists by name, used by lines and trolleys"),
    NESTED("runways", NAMED, "runway", "straight beams on which trolleys travel"),
    NESTED("dynamic", MAP, "dynamic", "factors that replace the computed ones"),
    YESNO(bk_plan, "equalised", equalised, "a device shares the load: every leg counts"),
    YESNO(bk_plan, "lose_a_line", lose_a_line, "look at the loss of every single line"),
    YESNO(bk_plan, "people_below", people_below, "the load hangs above people"),
    YESNO(bk_plan, "critical", critical, "a critical lift: the rule set's margin applies"),
    NUMBER(bk_plan, "temperature", TEMPERATURE, temperature_K, 0, 0, "temperature of use of all gear"),
    NUMBER(bk_plan, "edge_radius", LENGTH, edge_radius_m, 1e-6, 100,
           "least radius of edges that slings lie on"),
    NUMBER(bk_plan, "floor", LENGTH, floor_m, -1e6, 1e6, "height of the floor"),
    NESTED("wind", MAP, "wind", "wind on the hanging bodies"),
    NESTED("inspect", NAMED, "inspection", "measured gear: keep or discard"),
    NESTED("tackles", NAMED, "tackle", "lines over blocks, hauled by hand or winch"),
};
LIST(plan, "plan", "a plan");

static const bk_key dynamic_list[] = {
    KEY("factor", VALUE, NONE, "dynamic factor in place of every computed one, 1 or more", .low = 1,
        .high = 10, APART),
    NUMBER(bk_plan, "rigging", NONE, rigging_factor, 1, 10,
           "factor on the static tension of gear below the hook"),
};
LIST(dynamic, "dynamic", "the dynamic factors");

static const bk_key wind_list[] = {
    NUMBER(bk_wind, "speed", SPEED, speed_m_s, 0, 120, "speed of the wind"),
    NUMBER(bk_wind, "pressure", STRESS, pressure_Pa, 0, 1e5, "pressure of the wind, in place of its speed"),
    NUMBER(bk_wind, "from", ANGLE, from_rad, -2 * BK_PI, 2 * BK_PI,
           "bearing it blows towards, from x to y; left out: any direction"),
};
LIST(wind, "wind", "the wind");

static const bk_key inspection_list[] = {
    KEY("what", TEXT, NONE,
        "kind of gear, as the table discard-limits calls it: hook, chain sling, hoist chain, ...; beside it what was "
        "measured, by that table's keys: throat: {new: 30 mm, measured: 32 mm}, twist: 4 deg, wires_in_lay: 3", NEEDED,
        IN(bk_inspection, what)),
};
const bk_key_map inspection_keys = {.name = "inspection",
                                    .about = "an inspection",
                                    .open = true,
                                    .keys = inspection_list,
                                    .n = COUNT(inspection_list)};

/* ---- rig --------------------------------------------------------------------------------------- */

static const bk_key body_list[] = {
    VALUE(bk_body, "mass", MASS, mass_kg, 1e-6, 1e9, "its mass, with tolerance"),
    WORD(bk_body, "mass_source", mass_by, BK_BY_WEIGHED, "how the mass is known", "weighed", "drawing",
         "estimated"),
    KEY("cog", VECTOR_VALUE, LENGTH, "centre of gravity in its own axes, with tolerance", IN(bk_body, cog_m)),
    WORD(bk_body, "cog_source", cog_by, BK_BY_WEIGHED, "how the centre of gravity is known", "weighed",
         "drawing", "estimated"),
    KEY("at", VECTOR, LENGTH, "where its origin is drawn; left out: 0 0 0 m", IN(bk_body, at_m)),
    KEY("points", NAMED, LENGTH, "its points by name: a place in its own axes, or a map", .map = "point",
        .scalar = true, APART),
    NESTED("made_of", LIST, "shape", "take-off: the shapes it is made of, in place of mass and cog"),
    NESTED("steel", MAP, "body_steel", "the steel beam inside it"),
    NUMBER(bk_body, "ei", BIMOMENT, ei_y_Nm2, 1e-3, 1e18,
           "bending stiffness E I of a flexible beam or truss"),
    NUMBER(bk_body, "wll", FORCE, wll_N, 1e-3, 1e10,
           "working load limit of a lifting or spreader beam, by its tag: what may hang from it"),
    NUMBER(bk_body, "tilt_limit", ANGLE, tilt_limit_rad, 0.1 * DEGREE, 90 * DEGREE, "greatest tilt allowed"),
    NUMBER(bk_body, "wind_area", AREA, wind_area_m2, 0, 1e6, "area that the wind sees"),
    NUMBER(bk_body, "drag", NONE, drag, 0, 5, "drag coefficient of that area"),
    YESNO(bk_body, "equalised", equalised, "a device shares the load: every leg on it counts"),
};
LIST(body, "body", "a body");

static const bk_key point_list[] = {
    KEY("at", VECTOR, LENGTH, "its place in the body's own axes", NEEDED, IN(bk_point, at_m)),
    KEY("axis", DIRECTION, NONE, "axis of the eye: the straight pull", IN(bk_point, axis)),
    KEY("plane", DIRECTION, NONE, "normal of the plane of the eye", IN(bk_point, plane)),
    NUMBER(bk_point, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest force it may take"),
    PARTS,
};
LIST(point, "point", "a point");

static const bk_key body_steel_list[] = {
    KEY("section", MAP, NONE, "TABLE/ROW of a rolled shape, or dimensions", NEEDED, .map = "section",
        .scalar = true, APART),
    KEY("steel", MAP, NONE, "TABLE/ROW or {fy, fu}", NEEDED, .map = "steel", .scalar = true, APART),
    KEY("between", REFERENCES, NONE, "two of the body's points on the beam's own axis: [FROM, TO]", NEEDED, APART),
    NUMBER(bk_body_steel, "ky", LENGTH, ky_m, 1e-3, 1e4, "buckling length about the strong axis"),
    NUMBER(bk_body_steel, "kz", LENGTH, kz_m, 1e-3, 1e4, "buckling length about the weak axis"),
};
LIST(body_steel, "body_steel", "the steel of a body");

static const bk_key shape_list[] = {
    KEY("shape", WORD, NONE, "what it is", NEEDED, .low = SHAPE_BOX,
        .words = WORDS("box", "cylinder", "tube", "plate", "sphere", "cone", "section", "mass"),
        IN(shape_in, shape)),
    TEXT(shape_in, "name", name, "what to call it in the table"),
    KEY("at", VECTOR_VALUE, LENGTH, "its centre (cone: centre of the base), body's own axes", NEEDED,
        IN(shape_in, at_m)),
    KEY("size", VECTOR_VALUE, LENGTH, "of a box or plate: along x, y and z", IN(shape_in, size_m)),
    VALUE(shape_in, "diameter", LENGTH, diameter_m, 1e-6, 1e4, "outside diameter"),
    VALUE(shape_in, "wall", LENGTH, wall_m, 1e-6, 1e3, "wall of a tube"),
    VALUE(shape_in, "length", LENGTH, length_m, 1e-6, 1e5, "length of a cylinder, tube or section"),
    VALUE(shape_in, "height", LENGTH, height_m, 1e-6, 1e4, "height of a cone"),
    WORD(shape_in, "axis", axis, 0, "the way it lies; left out: z (section: x)", "x", "y", "z", "-x", "-y",
         "-z"),
    ROW("section", "section", "TABLE/ROW of a rolled shape, or dimensions"),
    VALUE(shape_in, "mass", MASS, mass_kg, 1e-9, 1e9, "mass of a piece that was weighed or is known"),
    TEXT(shape_in, "material", material, "row of the table `density`"),
    VALUE(shape_in, "density", DENSITY, density, 1e-3, 1e5, "density, in place of a material"),
    WHOLE(shape_in, "count", count, 1, 1e6, "how many of them, their common centre at `at`"),
    YESNO(shape_in, "hole", hole, "it is cut out"),
    TEXT(shape_in, "source", source, "where the figures come from"),
};
LIST(shape, "shape", "a shape");

static const bk_key ring_list[] = {
    KEY("at", VECTOR, LENGTH, "where it is drawn", NEEDED, IN(bk_ring, at_m)),
    NUMBER(bk_ring, "mass", MASS, mass_kg, 0, 1e7, "its mass; left out: its part's"),
    PARTS,
};
LIST(ring, "ring", "a ring");

static const bk_key anchor_list[] = {
    KEY("at", VECTOR_VALUE, LENGTH, "its place, with tolerance", IN(bk_anchor, at_m)),
    REFERENCE("on", "the trolley that holds it: RUNWAY.TROLLEY"),
    KEY("level", TOLERANCE, LENGTH, "how far its height may be off: ± 50 mm", APART),
    NUMBER(bk_anchor, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest force in any direction"),
    NUMBER(bk_anchor, "limit_horizontal", FORCE, limit_horizontal_N, 1e-3, 1e10, "greatest horizontal force"),
    PARTS,
};
LIST(anchor, "anchor", "an anchor");

static const bk_key line_list[] = {
    KEY("from", REFERENCE, NONE, "BODY.POINT, RING or ANCHOR, the upper end by custom", NEEDED, APART),
    KEY("to", REFERENCE, NONE, "BODY.POINT, RING or ANCHOR", NEEDED, APART),
    VALUE(bk_line, "length", LENGTH, length_m, 1e-6, 1e5, "unstretched; left out: the distance as drawn"),
    PARTS,
    WORD(bk_line, "hitch", hitch, BK_HITCH_STRAIGHT, "how it holds the load", "straight", "choker", "basket"),
    REFERENCE("hoist", "name of a hoist in it"),
    NUMBER(bk_line, "ea", FORCE, ea_N, 1, 1e15, "axial stiffness E A"),
    NUMBER(bk_line, "mass", MASS, mass_kg, 0, 1e7, "its mass; left out: that of its parts"),
    NUMBER(bk_line, "choke_angle", ANGLE, choke_angle_rad, 0, BK_PI, "angle of choke"),
    NUMBER(bk_line, "basket_angle", ANGLE, basket_angle_rad, 0, BK_PI / 2, "each leg of a basket from the vertical"),
    NUMBER(bk_line, "bend_diameter", LENGTH, bend_diameter_m, 1e-6, 100, "diameter it is bent around"),
    NUMBER(bk_line, "edge_radius", LENGTH, edge_radius_m, 1e-6, 100, "radius of the edge it lies on"),
    NUMBER(bk_line, "temperature", TEMPERATURE, temperature_K, 0, 0, "temperature of its gear"),
};
LIST(line, "line", "a line");

static const bk_key part_list[] = {
    TEXT(bk_part, "what", what, "the trade's word: sling, shackle, hook, ..."),
    TEXT(bk_part, "material", material, "key of the temperature and choke rules"), CITED,
#define X(key, field, dimension, text) NUMBER(bk_part, #key, dimension, field, 0, 0, text),
    BK_PART_NUMBERS(X)
#undef X
};
LIST(part, "part", "a part");

/* ---- hoists ------------------------------------------------------------------------------------ */

static const bk_key hoist_list[] = {
    CITED,
#define X(key, field, dimension, text) NUMBER(bk_hoist, #key, dimension, field, 0, 0, text),
    BK_HOIST_NUMBERS(X)
#undef X
        KEY("speeds", LIST, SPEED, "hoisting speeds: [main] or [main, creep]", .single = true, .low = 1e-6,
            .high = 20, APART),
    NUMBER(bk_hoist, "speed", SPEED, speed_m_s, 1e-6, 20, "main speed, as a table states it"),
    NUMBER(bk_hoist, "creep", SPEED, creep_m_s, 1e-6, 20, "creep speed, as a table states it"),
    NAMED_WORD(bk_hoist, "group", group, "group of the mechanism or duty class", "M1", "M2", "M3", "M4", "M5",
               "M6", "M7", "M8", "1Dm", "1Cm", "1Bm", "1Am", "2m", "3m", "4m", "5m", "H1", "H2", "H3", "H4",
               "H5"),
    NESTED("limiter", MAP, "limiter", "what limits its pull"),
    WORD(bk_hoist, "limiter_kind", limiter, BK_LIMITER_DIRECT, "kind of limiter, as a table states it",
         "direct", "indirect"),
    NUMBER(bk_hoist, "limiter_at", NONE, limiter_at, 1, 5,
           "limiter over rated capacity, as a table states it"),
    NAMED_WORD(bk_hoist, "hoisting_class", hoisting_class, "hoisting class", "HC1", "HC2", "HC3", "HC4"),
    NAMED_WORD(bk_hoist, "drive_class", drive_class, "hoist drive class", "HD1", "HD2", "HD3", "HD4", "HD5"),
    WORD(bk_hoist, "hung", hung, BK_BODY_UP, "which end is the hoist's body", "body_up", "body_down"),
    TEXT(bk_hoist, "chain_grade", chain_grade, "grade of the load chain: T, DAT, 80, ..."),
    YESNO(bk_hoist, "manual", manual, "a hand chain hoist"),
    KEY("level", TOLERANCE, LENGTH, "how far its hook may stand off: ± 50 mm", IN(bk_hoist, level_m)),
    KEY("clear", OTHER, NONE, "what the load must clear: 0.3 m over 2.1 m", APART),
    NESTED("duty", MAP, "duty", "the work it does"),
};
LIST(hoist, "hoist", "a hoist");

static const bk_key limiter_list[] = {
    KEY("kind", WORD, NONE, "direct such as a friction clutch, indirect such as an electronic one", NEEDED,
        .words = WORDS("direct", "indirect"), .low = BK_LIMITER_DIRECT, IN(bk_hoist, limiter)),
    NUMBER(bk_hoist, "at", NONE, limiter_at, 1, 5, "where it acts, over the rated capacity"),
};
LIST(limiter, "limiter", "a limiter");

static const bk_key duty_list[] = {
    NUMBER(bk_duty, "cycles_per_hour", NONE, cycles_per_hour, 1e-6, 3600, "lifts and lowerings an hour"),
    NUMBER(bk_duty, "mean_lift", LENGTH, mean_lift_m, 1e-3, 1e4, "mean height of a lift"),
    NUMBER(bk_duty, "hours_per_day", NONE, hours_per_day, 1e-6, 24, "hours of work a day"),
    NUMBER(bk_duty, "days_per_year", NONE, days_per_year, 1e-6, 366, "days of work a year"),
    NESTED("loads", LIST, "duty_load", "load spectrum: shares of rated capacity and of time"),
    NUMBER(bk_duty, "in_service", TIME, in_service_s, 0, 6.4e9, "time since it went into service"),
    KEY("meter", LIST, NONE, "readings of its meters: one map, or a list by date", .map = "meter",
        .single = true, APART),
    YESNO(bk_duty, "empty_return", empty_return, "a cycle has an empty lift and lowering as well"),
    NUMBER(bk_duty, "starts_per_cycle", NONE, starts_per_cycle, 1, 1000, "motor starts in a cycle"),
    NUMBER(bk_duty, "creep_share", NONE, creep_share, 0, 1, "share of running time at creep speed"),
    NUMBER(bk_duty, "creep_starts_share", NONE, creep_starts_share, 0, 1, "share of starts at creep speed"),
    TEXT(bk_duty, "recorded", recorded, "how hours and loads were recorded: recorder, counters, process, production, undocumented, unknown (table hoist-recording)"),
    KEY("history", TEXT, NONE, "whether its past is known", .words = WORDS("known", "unknown"), APART),
    NAMED_WORD(bk_duty, "service", service, "severity of service, for inspection intervals", "normal",
               "heavy", "severe"),
    KEY("inspected", DATE, NONE, "day of the last inspection, YYYY-MM-DD", IN(bk_duty, inspected)),
};
LIST(duty, "duty", "a duty");

static const bk_key duty_load_list[] = {
    KEY("of_rated", NUMBER, NONE, "load over rated capacity", NEEDED, .low = 0, .high = 1.25,
        IN(bk_duty_load, of_rated)),
    KEY("time", NUMBER, NONE, "share of running time", NEEDED, .low = 0, .high = 1, IN(bk_duty_load, time)),
};
LIST(duty_load, "duty_load", "a load of a duty");

static const bk_key meter_list[] = {
    KEY("date", DATE, NONE, "day of the reading, YYYY-MM-DD", IN(bk_meter, date)),
    NUMBER(bk_meter, "on_time", TIME, on_time_s, 0, 6.4e9, "hour meter"),
    NUMBER(bk_meter, "starts", NONE, starts, 0, 1e12, "start counter"),
    YESNO(bk_meter, "swapped", swapped, "a new meter starts here at these figures"),
    NESTED("loads", LIST, "duty_load", "load spectrum of the period that ends here"),
    TEXT(bk_meter, "recorded", recorded, "how the period was recorded"),
};
LIST(meter, "meter", "a meter reading");

/* ---- runways ----------------------------------------------------------------------------------- */

static const bk_key runway_list[] = {
    KEY("section", MAP, NONE, "TABLE/ROW of a rolled shape, or dimensions", NEEDED, .map = "section",
        .scalar = true, APART),
    ROW("steel", "steel", "TABLE/ROW or {fy, fu}"),
    KEY("ends", LIST, LENGTH, "the beam's ends along its own axis: [FROM, TO]", NEEDED, .low = -1e5,
        .high = 1e5, APART),
    KEY("supports", LIST, LENGTH, "supports along the beam, rising", NEEDED, .map = "support", .scalar = true,
        .low = -1e5, .high = 1e5, APART),
    NESTED("trolleys", NAMED, "trolley", "trolleys by name"),
    NESTED("loads", LIST, "standing_load", "further loads that stand on the beam"),
    YESNO(bk_runway, "self_weight", self_weight, "no leaves the beam's own weight out"),
    NUMBER(bk_runway, "load_height", LENGTH, load_height_m, -100, 100,
           "height of the load above the shear centre"),
    YESNO(bk_runway, "stabilising", stabilising, "count a load below the shear centre as stabilising"),
    NUMBER(bk_runway, "restraint", LENGTH, restraint_m, 1e-3, 1e5, "spacing of lateral restraints"),
    NUMBER(bk_runway, "lateral", NONE, lateral_share, 0, 1, "lateral load over vertical load"),
    KEY("deflection_limit", OTHER, NONE, "share of the span (L/500, 1/500, 0.002) or a length", APART),
    YESNO(bk_runway, "end_stops", end_stops, "the beam has end stops"),
};
LIST(runway, "runway", "a runway");

static const bk_key support_list[] = {
    KEY("at", NUMBER, LENGTH, "its place along the beam", NEEDED, .low = -1e5, .high = 1e5,
        IN(bk_support, at_m)),
    NUMBER(bk_support, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest upward force it may be asked for"),
    NUMBER(bk_support, "uplift_limit", FORCE, uplift_limit_N, 1e-3, 1e10, "greatest downward force"),
    YESNO(bk_support, "fixed", fixed, "it holds the beam's slope"),
    WHOLE(bk_support, "count", count, 1, 100, "equal hangers that share it"),
    PARTS,
};
LIST(support, "support", "a support");

static const bk_key trolley_list[] = {
    REFERENCE("hoist", "name of the hoist on it"),
    KEY("travel", LIST, LENGTH, "where its middle may stand: [FROM, TO]", NEEDED, .low = -1e5, .high = 1e5,
        APART),
    WHOLE(bk_trolley, "wheels", wheels, 2, 4, "2 or 4"),
    NUMBER(bk_trolley, "wheel_base", LENGTH, wheel_base_m, 1e-3, 100, "between its wheels along the beam"),
    NUMBER(bk_trolley, "wheel_to_edge", LENGTH, wheel_to_edge_m, 0, 1, "flange edge to wheel centre line"),
    NUMBER(bk_trolley, "mass", MASS, mass_kg, 0, 1e7, "the trolley alone"),
    NUMBER(bk_trolley, "load", FORCE, load_N, 0, 1e10, "a plain load, in place of a hoist and of what hangs from anchors"),
    NUMBER(bk_trolley, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest force it may take, own mass left out"),
    PARTS,
};
LIST(trolley, "trolley", "a trolley");

static const bk_key standing_list[] = {
    NUMBER(bk_standing_load, "at", LENGTH, from_m, -1e5, 1e5, "where a single force stands"),
    NUMBER(bk_standing_load, "force", FORCE, force_N, -1e10, 1e10, "that force, down"),
    NUMBER(bk_standing_load, "from", LENGTH, from_m, -1e5, 1e5, "where a spread load begins"),
    NUMBER(bk_standing_load, "to", LENGTH, to_m, -1e5, 1e5, "where it ends"),
    NUMBER(bk_standing_load, "per_metre", LINE_FORCE, per_metre_N_m, -1e9, 1e9, "that load per length, down"),
};
LIST(standing, "standing_load", "a standing load");

static const bk_key section_list[] = {CITED, YESNO(bk_section_in, "welded", welded, "made of plates"),
#define X(key, field, dimension, text) NUMBER(bk_section_in, #key, dimension, field, 0, 0, text),
                                      BK_SECTION_NUMBERS(X)
#undef X
};
LIST(section, "section", "a section");

static const bk_key steel_list[] = {CITED, NUMBER(steel_in, "fy", STRESS, fy, 0, 0, "yield strength"),
                                    NUMBER(steel_in, "fu", STRESS, fu, 0, 0, "tensile strength"),
#define X(mm)                                                                                                \
    NUMBER(steel_in, "fy_" #mm, STRESS, fy_to[STEEL_STEP_##mm], 0, 0, "yield strength up to " #mm " mm"),    \
        NUMBER(steel_in, "fu_" #mm, STRESS, fu_to[STEEL_STEP_##mm], 0, 0,                                    \
               "tensile strength up to " #mm " mm"),
                                    STEEL_STEPS(X)
#undef X
};
LIST(steel, "steel", "a steel");

/* ---- tackles ----------------------------------------------------------------------------------- */

static const bk_key tackle_list[] = {
    KEY("load", NUMBER, FORCE, "load on the moving block, its own weight in", .low = 1e-3, .high = 1e10, NEEDED,
        IN(bk_tackle, load_N)),
    KEY("falls", NUMBER, NONE, "parts of line that carry the moving block", .low = 1, .high = 40, .whole = true, NEEDED,
        IN(bk_tackle, falls)),
    WHOLE(bk_tackle, "lead_sheaves", lead_sheaves, 0, 20, "redirecting blocks behind the tackle"),
    WORD(bk_tackle, "bearing", bearing, BK_BEARING_PLAIN, "of the sheaves; plain and rolling: wire rope", "plain", "rolling",
         "fibre"),
    NUMBER(bk_tackle, "angle", ANGLE, angle_rad, 0, BK_PI, "between the lines at the redirecting block; left out: parallel"),
    NUMBER(bk_tackle, "pull_limit", FORCE, pull_limit_N, 1e-3, 1e10, "what the winch or the crew can pull"),
    NUMBER(bk_tackle, "limit", FORCE, limit_N, 1e-3, 1e10, "what holds the standing block may carry"),
    NUMBER(bk_tackle, "lead_limit", FORCE, lead_limit_N, 1e-3, 1e10, "what holds the redirecting block may carry"),
    ROW("line", "part", "the line: TABLE/ROW or the same keys inline"),
    ROW("block", "part", "the standing block: TABLE/ROW or the same keys inline"),
    ROW("lead_block", "part", "the redirecting block: TABLE/ROW or the same keys inline"),
};
LIST(tackle, "tackle", "a tackle");

/* ---- lists by name, bounds --------------------------------------------------------------------- */

const bk_key_map *bk_plan_keys_at(size_t i)
{
    static const bk_key_map *const all[] = {
        &plan_keys,       &dynamic_keys, &wind_keys,     &inspection_keys, &body_keys,  &point_keys,
        &body_steel_keys, &shape_keys,   &ring_keys,     &anchor_keys,     &line_keys,  &part_keys,
        &hoist_keys,      &limiter_keys, &duty_keys,     &duty_load_keys,  &meter_keys, &runway_keys,
        &support_keys,    &trolley_keys, &standing_keys, &section_keys,    &steel_keys, &tackle_keys};
    return i < COUNT(all) ? all[i] : NULL;
}

const bk_key_map *bk_plan_keys(const char *map)
{
    for (size_t i = 0; bk_plan_keys_at(i); i++)
        if (!strcmp(bk_plan_keys_at(i)->name, map)) return bk_plan_keys_at(i);
    return NULL;
}

void key_bounds(const bk_key *key, double *low, double *high, bool *whole)
{
    /* keys that come from the lists of plan.h and are narrower than their dimension */
    static const struct {
        const char *name;
        double low, high;
        bool whole;
    } narrow[] = {{"efficiency", 0.01, 1, false},
                  {"design_factor", 1, 100, false},
                  {"stretch_at_wll", 1e-6, 0.5, false},
                  {"sheaves", 1, 100, true},
                  {"falls", 1, 32, true},
                  {"cyclic_duration_factor", 0.001, 1, false},
                  {"starts_per_hour", 1, 1e5, false},
                  {"slope", 0, 1, false},
                  {"r", 0, 1, false},
                  {"r2", 0, 1, false},
                  {"a_weld", 0, 1, false}};
    static const struct {
        bk_dim dim;
        double low, high;
    } usual[] = {{BK_DIM_NONE, 0, 1e9},       {BK_DIM_LENGTH, 1e-6, 1e5},   {BK_DIM_AREA, 1e-9, 1e6},
                 {BK_DIM_VOLUME, 1e-15, 1e6}, {BK_DIM_INERTIA, 1e-18, 1e6}, {BK_DIM_WARPING, 1e-24, 1e6},
                 {BK_DIM_MASS, 0, 1e7},       {BK_DIM_LINE_MASS, 0, 1e5},   {BK_DIM_FORCE, 1e-3, 1e10},
                 {BK_DIM_STRESS, 1e6, 1e10},  {BK_DIM_MOMENT, 1e-6, 1e9},   {BK_DIM_ANGLE, 0, BK_PI},
                 {BK_DIM_TIME, 0, 6.4e9},     {BK_DIM_TEMPERATURE, 1, 3000}};
    *low = key->low;
    *high = key->high;
    *whole = key->whole;
    if (*low < 0 || *low > 0 || *high > 0) return;
    *low = -1e30;
    *high = 1e30;
    for (size_t i = 0; i < COUNT(usual); i++)
        if (usual[i].dim == key->dim) {
            *low = usual[i].low;
            *high = usual[i].high;
        }
    for (size_t i = 0; i < COUNT(narrow); i++)
        if (!strcmp(narrow[i].name, key->name)) {
            *low = narrow[i].low;
            *high = narrow[i].high;
            *whole = narrow[i].whole;
        }
}
