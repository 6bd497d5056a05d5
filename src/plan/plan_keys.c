/* Every key of a plan, once.
 *
 * A list a map.  The reader walks a list to read a map, complains out of it (what was wanted, the nearest
 * known word), and the schema and the manual are printed from it: to add a key, add a line here and a field
 * where it is kept.  Bounds are those of sense, not of the trade: they catch a slip of the unit.
 */
#include "plan_keys.h"

#include <string.h>

#define NOWHERE SIZE_MAX
#define COUNT(list) (sizeof(list) / sizeof *(list))
#define WORDS(...) (const char *const[]){__VA_ARGS__, NULL}
#define PER_DEGREE (BK_PI / 180)

/* scalars kept in field `f` of struct T */
#define NUMBER(T, key, dimension, f, lo, hi, text)                                                                 \
    {.name = key, .kind = BK_KEY_NUMBER, .dim = BK_DIM_##dimension, .about = text, .low = lo, .high = hi,          \
     .offset = offsetof(T, f)}
#define WHOLE(T, key, f, lo, hi, text)                                                                             \
    {.name = key, .kind = BK_KEY_NUMBER, .dim = BK_DIM_NONE, .about = text, .low = lo, .high = hi, .whole = true,  \
     .offset = offsetof(T, f)}
#define SCALAR(T, key, K, dimension, f, text)                                                                      \
    {.name = key, .kind = BK_KEY_##K, .dim = BK_DIM_##dimension, .about = text, .offset = offsetof(T, f)}
#define VALUE(T, key, dimension, f, lo, hi, text)                                                                  \
    {.name = key, .kind = BK_KEY_VALUE, .dim = BK_DIM_##dimension, .about = text, .low = lo, .high = hi,           \
     .offset = offsetof(T, f)}
/* first: the enum's value of the first word */
#define WORD(T, key, f, first, text, ...)                                                                                 \
    {.name = key, .kind = BK_KEY_WORD, .dim = BK_DIM_NONE, .about = text, .words = WORDS(__VA_ARGS__),             \
     .low = first, .offset = offsetof(T, f)}
#define TEXT(T, key, f, text) SCALAR(T, key, TEXT, NONE, f, text)
#define YESNO(T, key, f, text) SCALAR(T, key, YESNO, NONE, f, text)
/* read apart by the map's own reader */
#define APART(key, K, dimension, text)                                                                             \
    {.name = key, .kind = BK_KEY_##K, .dim = BK_DIM_##dimension, .about = text, .offset = NOWHERE}
#define REFERENCE(key, text) APART(key, REFERENCE, NONE, text)
#define NESTED(key, K, list, text)                                                                                 \
    {.name = key, .kind = BK_KEY_##K, .dim = BK_DIM_NONE, .about = text, .map = list, .offset = NOWHERE}
#define ROW(key, list, text)                                                                                       \
    {.name = key, .kind = BK_KEY_MAP, .dim = BK_DIM_NONE, .about = text, .map = list, .scalar = true,              \
     .offset = NOWHERE}
#define PARTS                                                                                                      \
    ROW("part", "part", "TABLE/ROW or the same keys inline"),                                                      \
        {.name = "parts", .kind = BK_KEY_LIST, .dim = BK_DIM_NONE, .map = "part", .scalar = true, .offset = NOWHERE, \
         .about = "list of TABLE/ROW or the same keys inline"}
#define CITED                                                                                                      \
    REFERENCE("part", "TABLE/ROW whose figures the other keys replace"),                                           \
        APART("source", TEXT, NONE, "where the figures come from"),                                                \
        APART("mark", TEXT, NONE, "how sure they are: published, computed, memory, ...")

#define LIST(variable, called, text)                                                                               \
    const bk_key_map variable##_keys = {.name = called, .about = text, .keys = variable##_list,                    \
                                        .n = COUNT(variable##_list)}

/* ---- the plan ---------------------------------------------------------------------------------- */

static const bk_key plan_list[] = {
    {.name = "becket", .kind = BK_KEY_OTHER, .dim = BK_DIM_NONE, .required = true, .offset = NOWHERE,
     .about = "version of the plan's format: 1"},
    TEXT(bk_plan, "title", title, "what the plan is of"),
    REFERENCE("rules", "rule set: a file in tables/rules (en, us)"),
    WORD(bk_plan, "units", units, BK_SI, "how results are printed", "si", "us"),
    SCALAR(bk_plan, "date", DATE, NONE, date, "date of the plan, YYYY-MM-DD"),
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
    NUMBER(bk_plan, "edge_radius", LENGTH, edge_radius_m, 1e-6, 100, "least radius of edges that slings lie on"),
    NUMBER(bk_plan, "floor", LENGTH, floor_m, -1e6, 1e6, "height of the floor"),
    NESTED("wind", MAP, "wind", "wind on the hanging bodies"),
    NESTED("inspect", NAMED, "inspection", "measured gear: keep or discard"),
};
LIST(plan, "plan", "a plan");

static const bk_key dynamic_list[] = {
    {.name = "factor", .kind = BK_KEY_VALUE, .dim = BK_DIM_NONE, .low = 1, .high = 10, .offset = NOWHERE,
     .about = "dynamic factor in place of every computed one, 1 or more"},
    NUMBER(bk_plan, "rigging", NONE, rigging_factor, 1, 10, "factor on the static tension of gear below the hook"),
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
    {.name = "what", .kind = BK_KEY_TEXT, .dim = BK_DIM_NONE, .required = true, .offset = offsetof(bk_inspection, what),
     .about = "kind of gear, as the table of discard limits calls it: hook, chain sling, hoist chain, ..."},
};
const bk_key_map inspection_keys = {.name = "inspection", .about = "an inspection", .open = true,
                                    .keys = inspection_list, .n = COUNT(inspection_list)};

/* ---- rig --------------------------------------------------------------------------------------- */

static const bk_key body_list[] = {
    VALUE(bk_body, "mass", MASS, mass_kg, 1e-6, 1e9, "its mass, with tolerance"),
    WORD(bk_body, "mass_source", mass_by, BK_BY_WEIGHED, "how the mass is known", "weighed", "drawing", "estimated"),
    SCALAR(bk_body, "cog", VECTOR_VALUE, LENGTH, cog_m, "centre of gravity in its own axes, with tolerance"),
    WORD(bk_body, "cog_source", cog_by, BK_BY_WEIGHED, "how the centre of gravity is known", "weighed", "drawing", "estimated"),
    SCALAR(bk_body, "at", VECTOR, LENGTH, at_m, "where its origin is drawn; left out: 0 0 0 m"),
    {.name = "points", .kind = BK_KEY_NAMED, .dim = BK_DIM_LENGTH, .map = "point", .scalar = true,
     .offset = NOWHERE, .about = "its points by name: a place in its own axes, or a map"},
    NESTED("made_of", LIST, "shape", "take-off: the shapes it is made of, in place of mass and cog"),
    NESTED("steel", MAP, "body_steel", "the steel beam inside it"),
    NUMBER(bk_body, "ei", BIMOMENT, ei_y_Nm2, 1e-3, 1e18, "bending stiffness E I of a flexible beam or truss"),
    NUMBER(bk_body, "tilt_limit", ANGLE, tilt_limit_rad, 0.1 * PER_DEGREE, 90 * PER_DEGREE, "greatest tilt allowed"),
    NUMBER(bk_body, "wind_area", AREA, wind_area_m2, 0, 1e6, "area that the wind sees"),
    NUMBER(bk_body, "drag", NONE, drag, 0, 5, "drag coefficient of that area"),
    YESNO(bk_body, "equalised", equalised, "a device shares the load: every leg on it counts"),
};
LIST(body, "body", "a body");

static const bk_key point_list[] = {
    {.name = "at", .kind = BK_KEY_VECTOR, .dim = BK_DIM_LENGTH, .required = true, .offset = offsetof(bk_point, at_m),
     .about = "its place in the body's own axes"},
    SCALAR(bk_point, "axis", DIRECTION, NONE, axis, "axis of the eye: the straight pull"),
    SCALAR(bk_point, "plane", DIRECTION, NONE, plane, "normal of the plane of the eye"),
    NUMBER(bk_point, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest force it may take"),
    PARTS,
};
LIST(point, "point", "a point");

static const bk_key body_steel_list[] = {
    ROW("section", "section", "TABLE/ROW or dimensions"),
    ROW("steel", "steel", "TABLE/ROW or {fy, fu}"),
    APART("between", REFERENCES, NONE, "two of the body's points: [FROM, TO]"),
    NUMBER(bk_body_steel, "ky", LENGTH, ky_m, 1e-3, 1e4, "buckling length about the strong axis"),
    NUMBER(bk_body_steel, "kz", LENGTH, kz_m, 1e-3, 1e4, "buckling length about the weak axis"),
};
LIST(body_steel, "body_steel", "the steel of a body");

static const bk_key shape_list[] = {
    WORD(shape_in, "shape", shape, SHAPE_BOX, "what it is", "box", "cylinder", "tube", "plate", "sphere", "cone", "section",
         "mass"),
    TEXT(shape_in, "name", name, "what to call it in the table"),
    SCALAR(shape_in, "at", VECTOR_VALUE, LENGTH, at_m, "its centre (cone: centre of the base), body's own axes"),
    SCALAR(shape_in, "size", VECTOR_VALUE, LENGTH, size_m, "of a box or plate: along x, y and z"),
    VALUE(shape_in, "diameter", LENGTH, diameter_m, 1e-6, 1e4, "outside diameter"),
    VALUE(shape_in, "wall", LENGTH, wall_m, 1e-6, 1e3, "wall of a tube"),
    VALUE(shape_in, "length", LENGTH, length_m, 1e-6, 1e5, "length of a cylinder, tube or section"),
    VALUE(shape_in, "height", LENGTH, height_m, 1e-6, 1e4, "height of a cone"),
    WORD(shape_in, "axis", axis, 0, "the way it lies; left out: z (section: x)", "x", "y", "z", "-x", "-y", "-z"),
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
    {.name = "at", .kind = BK_KEY_VECTOR, .dim = BK_DIM_LENGTH, .required = true, .offset = offsetof(bk_ring, at_m),
     .about = "where it is drawn"},
    NUMBER(bk_ring, "mass", MASS, mass_kg, 0, 1e7, "its mass; left out: its part's"),
    PARTS,
};
LIST(ring, "ring", "a ring");

static const bk_key anchor_list[] = {
    SCALAR(bk_anchor, "at", VECTOR_VALUE, LENGTH, at_m, "its place, with tolerance"),
    REFERENCE("on", "the trolley that holds it: RUNWAY.TROLLEY"),
    APART("level", TOLERANCE, LENGTH, "how far its height may be off: ± 50 mm"),
    NUMBER(bk_anchor, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest force in any direction"),
    NUMBER(bk_anchor, "limit_horizontal", FORCE, limit_horizontal_N, 1e-3, 1e10, "greatest horizontal force"),
    PARTS,
};
LIST(anchor, "anchor", "an anchor");

static const bk_key line_list[] = {
    {.name = "from", .kind = BK_KEY_REFERENCE, .dim = BK_DIM_NONE, .required = true, .offset = NOWHERE,
     .about = "BODY.POINT, RING or ANCHOR, the upper end by custom"},
    {.name = "to", .kind = BK_KEY_REFERENCE, .dim = BK_DIM_NONE, .required = true, .offset = NOWHERE,
     .about = "BODY.POINT, RING or ANCHOR"},
    VALUE(bk_line, "length", LENGTH, length_m, 1e-6, 1e5, "unstretched; left out: the distance as drawn"),
    PARTS,
    WORD(bk_line, "hitch", hitch, BK_HITCH_STRAIGHT, "how it holds the load", "straight", "choker", "basket"),
    REFERENCE("hoist", "name of a hoist in it"),
    NUMBER(bk_line, "ea", FORCE, ea_N, 1, 1e15, "axial stiffness E A"),
    NUMBER(bk_line, "mass", MASS, mass_kg, 0, 1e7, "its mass; left out: that of its parts"),
    NUMBER(bk_line, "choke_angle", ANGLE, choke_angle_rad, 0, BK_PI, "angle of choke"),
    NUMBER(bk_line, "bend_diameter", LENGTH, bend_diameter_m, 1e-6, 100, "diameter it is bent around"),
    NUMBER(bk_line, "edge_radius", LENGTH, edge_radius_m, 1e-6, 100, "radius of the edge it lies on"),
    NUMBER(bk_line, "temperature", TEMPERATURE, temperature_K, 0, 0, "temperature of its gear"),
};
LIST(line, "line", "a line");

static const bk_key part_list[] = {
    TEXT(bk_part, "what", what, "the trade's word: sling, shackle, hook, ..."),
    TEXT(bk_part, "material", material, "key of the temperature and choke rules"),
    CITED,
#define X(key, field, dimension, text) NUMBER(bk_part, #key, dimension, field, 0, 0, text),
    BK_PART_NUMBERS(X)
#undef X
};
LIST(part, "part", "a part");

/* ---- hoists ------------------------------------------------------------------------------------ */

#define GROUPS                                                                                                     \
    "M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8", "1Dm", "1Cm", "1Bm", "1Am", "2m", "3m", "4m", "5m", "H1", "H2", \
        "H3", "H4", "H5"
static const char *const group_words[] = {GROUPS, NULL};
static const char *const hoisting_words[] = {"HC1", "HC2", "HC3", "HC4", NULL};
static const char *const drive_words[] = {"HD1", "HD2", "HD3", "HD4", "HD5", NULL};
static const char *const history_words[] = {"known", "unknown", NULL};
static const char *const service_words[] = {"normal", "heavy", "severe", NULL};
/* a word kept as text */
#define NAMED_WORD(T, key, f, list, text)                                                                          \
    {.name = key, .kind = BK_KEY_TEXT, .dim = BK_DIM_NONE, .about = text, .words = list, .offset = offsetof(T, f)}

static const bk_key hoist_list[] = {
    CITED,
#define X(key, field, dimension, text) NUMBER(bk_hoist, #key, dimension, field, 0, 0, text),
    BK_HOIST_NUMBERS(X)
#undef X
    {.name = "speeds", .kind = BK_KEY_LIST, .dim = BK_DIM_SPEED, .single = true, .low = 1e-6, .high = 20,
     .offset = NOWHERE,
     .about = "hoisting speeds: [main] or [main, creep]"},
    NUMBER(bk_hoist, "speed", SPEED, speed_m_s, 1e-6, 20, "main speed, as a table states it"),
    NUMBER(bk_hoist, "creep", SPEED, creep_m_s, 1e-6, 20, "creep speed, as a table states it"),
    NAMED_WORD(bk_hoist, "group", group, group_words, "group of the mechanism or duty class"),
    NESTED("limiter", MAP, "limiter", "what limits its pull"),
    WORD(bk_hoist, "limiter_kind", limiter, BK_LIMITER_DIRECT, "kind of limiter, as a table states it", "direct", "indirect"),
    NUMBER(bk_hoist, "limiter_at", NONE, limiter_at, 1, 5, "limiter over rated capacity, as a table states it"),
    NAMED_WORD(bk_hoist, "hoisting_class", hoisting_class, hoisting_words, "hoisting class"),
    NAMED_WORD(bk_hoist, "drive_class", drive_class, drive_words, "hoist drive class"),
    WORD(bk_hoist, "hung", hung, BK_BODY_UP, "which end is the hoist's body", "body_up", "body_down"),
    TEXT(bk_hoist, "chain_grade", chain_grade, "grade of the load chain: T, DAT, 80, ..."),
    YESNO(bk_hoist, "manual", manual, "a hand chain hoist"),
    SCALAR(bk_hoist, "level", TOLERANCE, LENGTH, level_m, "how far its hook may stand off: ± 50 mm"),
    APART("clear", OTHER, NONE, "what the load must clear: 0.3 m over 2.1 m"),
    NESTED("duty", MAP, "duty", "the work it does"),
};
LIST(hoist, "hoist", "a hoist");

static const bk_key limiter_list[] = {
    {.name = "kind", .kind = BK_KEY_WORD, .dim = BK_DIM_NONE, .required = true, .words = WORDS("direct", "indirect"),
     .low = BK_LIMITER_DIRECT, .offset = offsetof(bk_hoist, limiter),
     .about = "direct such as a friction clutch, indirect such as an electronic one"},
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
    {.name = "meter", .kind = BK_KEY_LIST, .dim = BK_DIM_NONE, .map = "meter", .single = true, .offset = NOWHERE,
     .about = "readings of its meters: one map, or a list by date"},
    YESNO(bk_duty, "empty_return", empty_return, "a cycle has an empty lift and lowering as well"),
    NUMBER(bk_duty, "starts_per_cycle", NONE, starts_per_cycle, 1, 1000, "motor starts in a cycle"),
    NUMBER(bk_duty, "creep_share", NONE, creep_share, 0, 1, "share of running time at creep speed"),
    NUMBER(bk_duty, "creep_starts_share", NONE, creep_starts_share, 0, 1, "share of starts at creep speed"),
    TEXT(bk_duty, "recorded", recorded, "how hours and loads were recorded: key of the recording factors"),
    {.name = "history", .kind = BK_KEY_TEXT, .dim = BK_DIM_NONE, .words = history_words, .offset = NOWHERE,
     .about = "whether its past is known"},
    NAMED_WORD(bk_duty, "service", service, service_words, "severity of service, for inspection intervals"),
    SCALAR(bk_duty, "inspected", DATE, NONE, inspected, "day of the last inspection, YYYY-MM-DD"),
};
LIST(duty, "duty", "a duty");

static const bk_key duty_load_list[] = {
    {.name = "of_rated", .kind = BK_KEY_NUMBER, .dim = BK_DIM_NONE, .required = true, .low = 0, .high = 1.25,
     .offset = offsetof(bk_duty_load, of_rated), .about = "load over rated capacity"},
    {.name = "time", .kind = BK_KEY_NUMBER, .dim = BK_DIM_NONE, .required = true, .low = 0, .high = 1,
     .offset = offsetof(bk_duty_load, time), .about = "share of running time"},
};
LIST(duty_load, "duty_load", "a load of a duty");

static const bk_key meter_list[] = {
    SCALAR(bk_meter, "date", DATE, NONE, date, "day of the reading, YYYY-MM-DD"),
    NUMBER(bk_meter, "on_time", TIME, on_time_s, 0, 6.4e9, "hour meter"),
    NUMBER(bk_meter, "starts", NONE, starts, 0, 1e12, "start counter"),
    YESNO(bk_meter, "swapped", swapped, "a new meter starts here at these figures"),
    NESTED("loads", LIST, "duty_load", "load spectrum of the period that ends here"),
    TEXT(bk_meter, "recorded", recorded, "how the period was recorded"),
};
LIST(meter, "meter", "a meter reading");

/* ---- runways ----------------------------------------------------------------------------------- */

static const bk_key runway_list[] = {
    {.name = "section", .kind = BK_KEY_MAP, .dim = BK_DIM_NONE, .required = true, .map = "section", .scalar = true,
     .offset = NOWHERE, .about = "TABLE/ROW of a rolled shape, or dimensions"},
    ROW("steel", "steel", "TABLE/ROW or {fy, fu}"),
    {.name = "ends", .kind = BK_KEY_LIST, .dim = BK_DIM_LENGTH, .required = true, .low = -1e5, .high = 1e5,
     .offset = NOWHERE, .about = "the beam's ends along its own axis: [FROM, TO]"},
    {.name = "supports", .kind = BK_KEY_LIST, .dim = BK_DIM_LENGTH, .required = true, .map = "support",
     .scalar = true, .offset = NOWHERE, .low = -1e5, .high = 1e5, .about = "supports along the beam, rising"},
    NESTED("trolleys", NAMED, "trolley", "trolleys by name"),
    NESTED("loads", LIST, "standing_load", "further loads that stand on the beam"),
    YESNO(bk_runway, "self_weight", self_weight, "no leaves the beam's own weight out"),
    NUMBER(bk_runway, "load_height", LENGTH, load_height_m, -100, 100, "height of the load above the shear centre"),
    YESNO(bk_runway, "stabilising", stabilising, "count a load below the shear centre as stabilising"),
    NUMBER(bk_runway, "restraint", LENGTH, restraint_m, 1e-3, 1e5, "spacing of lateral restraints"),
    NUMBER(bk_runway, "lateral", NONE, lateral_share, 0, 1, "lateral load over vertical load"),
    APART("deflection_limit", OTHER, NONE, "share of the span (L/500, 1/500, 0.002) or a length"),
    YESNO(bk_runway, "end_stops", end_stops, "the beam has end stops"),
};
LIST(runway, "runway", "a runway");

static const bk_key support_list[] = {
    {.name = "at", .kind = BK_KEY_NUMBER, .dim = BK_DIM_LENGTH, .required = true, .low = -1e5, .high = 1e5,
     .offset = offsetof(bk_support, at_m), .about = "its place along the beam"},
    NUMBER(bk_support, "limit", FORCE, limit_N, 1e-3, 1e10, "greatest upward force it may be asked for"),
    NUMBER(bk_support, "uplift_limit", FORCE, uplift_limit_N, 1e-3, 1e10, "greatest downward force"),
    YESNO(bk_support, "fixed", fixed, "it holds the beam's slope"),
    WHOLE(bk_support, "count", count, 1, 100, "equal hangers that share it"),
    PARTS,
};
LIST(support, "support", "a support");

static const bk_key trolley_list[] = {
    REFERENCE("hoist", "name of the hoist on it"),
    {.name = "travel", .kind = BK_KEY_LIST, .dim = BK_DIM_LENGTH, .required = true, .low = -1e5, .high = 1e5,
     .offset = NOWHERE, .about = "where its middle may stand: [FROM, TO]"},
    WHOLE(bk_trolley, "wheels", wheels, 2, 4, "2 or 4"),
    NUMBER(bk_trolley, "wheel_base", LENGTH, wheel_base_m, 1e-3, 100, "between its wheels along the beam"),
    NUMBER(bk_trolley, "wheel_to_edge", LENGTH, wheel_to_edge_m, 0, 1, "flange edge to wheel centre line"),
    NUMBER(bk_trolley, "mass", MASS, mass_kg, 0, 1e7, "the trolley alone"),
    NUMBER(bk_trolley, "load", FORCE, load_N, 0, 1e10, "a plain load, in place of a hoist's"),
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

static const bk_key section_list[] = {
    CITED,
    YESNO(bk_section_in, "welded", welded, "made of plates"),
#define X(key, field, dimension, text) NUMBER(bk_section_in, #key, dimension, field, 0, 0, text),
    BK_SECTION_NUMBERS(X)
#undef X
};
LIST(section, "section", "a section");

static const bk_key steel_list[] = {
    CITED,
    NUMBER(steel_in, "fy", STRESS, fy, 0, 0, "yield strength"),
    NUMBER(steel_in, "fu", STRESS, fu, 0, 0, "tensile strength"),
#define X(mm)                                                                                                      \
    NUMBER(steel_in, "fy_" #mm, STRESS, fy_to[STEEL_STEP_##mm], 0, 0, "yield strength up to " #mm " mm"),          \
        NUMBER(steel_in, "fu_" #mm, STRESS, fu_to[STEEL_STEP_##mm], 0, 0, "tensile strength up to " #mm " mm"),
    STEEL_STEPS(X)
#undef X
};
LIST(steel, "steel", "a steel");

/* ---- lists by name, bounds --------------------------------------------------------------------- */

const bk_key_map *bk_plan_keys_at(size_t i)
{
    static const bk_key_map *const all[] = {
        &plan_keys,  &dynamic_keys, &wind_keys,      &inspection_keys, &body_keys,    &point_keys,
        &body_steel_keys, &shape_keys, &ring_keys,   &anchor_keys,     &line_keys,    &part_keys,
        &hoist_keys, &limiter_keys, &duty_keys,      &duty_load_keys,  &meter_keys,   &runway_keys,
        &support_keys, &trolley_keys, &standing_keys, &section_keys,   &steel_keys};
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
