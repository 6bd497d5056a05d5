/* tables: rows of figures with their unit, citation and how sure they are; and rule sets.
 *
 * A table is a YAML file that a user can edit, copy and add to (form: tables/README.md).  A row is
 * handed on as a YAML map whose scalars already carry their units ("3.15 t"), so that a table row and
 * the same keys written inline in a plan are read by one and the same code.  Knows nothing of plans.
 *
 * Search order: user directories first (--tables, plan's folder, user configuration), then shipped.
 * A table is read at most once, and only when something names it.
 */
#ifndef BECKET_TABLES_H
#define BECKET_TABLES_H

#include <becket/quantity.h>

BK_C_BEGIN

typedef enum bk_mark {
    BK_MARK_PUBLISHED, /* read in the source */
    BK_MARK_COMPUTED,  /* from a stated formula */
    BK_MARK_PRACTICE,  /* common practice, no source */
    BK_MARK_USER,      /* stated by the user: inline in the plan, or a user's table without a mark */
    BK_MARK_DEMO,      /* invented, for examples only */
    BK_MARK_MEMORY     /* not yet confirmed against the source: the report says so */
} bk_mark;
const char *bk_mark_text(bk_mark mark); /* "published", "common practice, no source", ... */
bool bk_mark_read(const char *text, bk_mark *mark);

typedef struct bk_column {
    const char *name, *unit; /* unit "" for text or pure numbers */
    const char *note;        /* "" if none */
} bk_column;

typedef struct bk_table {
    const char *name; /* file name without folder and ending: "chain-en818-4" */
    const char *path; /* as opened, as safe text */
    const char *title, *source, *edition, *clause, *note; /* "" where not given */
    bk_mark mark;     /* of the whole table; a row may carry its own */
    bool shipped;     /* found in a shipped directory */
    char digest[65];  /* SHA-256 of the file */
    size_t n_columns;
    const bk_column *columns; /* data columns; name, mark and source of a row are its fields */
    size_t n_rows;
    const struct bk_row *rows;
} bk_table;

typedef struct bk_row {
    const bk_table *table;
    const char *name;    /* the part after TABLE/ */
    const char *ref;     /* "TABLE/ROW" */
    const bk_yaml *map;  /* keys and texts with units; belongs to the tables */
    const char *source;  /* "EN 818-4, table 3": table's source and clause, or the row's own */
    bk_mark mark;
} bk_row;

typedef struct bk_tables bk_tables;

/* dirs: searched in order, the first that holds NAME.yaml (in itself or any folder below it) wins.
 * shipped_from: index of the first directory that counts as shipped.  Nothing is read yet. */
bk_tables *bk_tables_new(const char *const *dirs, size_t n_dirs, size_t shipped_from);
void bk_tables_free(bk_tables *tables);

/* A whole table by name.  BK_E_TABLE with the nearest name, or the table's own mistakes. */
bk_status bk_tables_table(bk_tables *tables, const char *name, bk_place where, const bk_table **out,
                          bk_errors *errors);
/* A row by "TABLE/ROW" (split at the first slash).  BK_E_TABLE, BK_E_ROW with the nearest row. */
bk_status bk_tables_row(bk_tables *tables, const char *ref, bk_place where, const bk_row **out,
                        bk_errors *errors);
/* Reads one file as a table, or as a rule set if it is one, whatever its place: `becket tables --check`.
 * errors are put in the order of the file. */
bk_status bk_tables_check_file(bk_tables *tables, const char *path, const bk_table **out, bk_errors *errors);
/* Names of all tables that can be found, sorted by name; user tables hide shipped ones of one name. */
bk_status bk_tables_list(bk_tables *tables, const char *const **names, size_t *n, bk_errors *errors);
/* The same of rule sets: "en", "us". */
bk_status bk_tables_list_rules(bk_tables *tables, const char *const **names, size_t *n, bk_errors *errors);
/* Tables read so far, in the order read: what a report must name. */
const bk_table *const *bk_tables_used(const bk_tables *tables, size_t *n);

/* ---- keys of a row ----------------------------------------------------------------------------- */

/* Keys that mean the same in a row of a table and inline in a plan: key, field, dimension, what it is.
 * One list serves the plan reader, the tables' column check, the schema and the manual.  A row may have
 * other columns: they document. */

/* Every number a part may carry. */
#define BK_PART_NUMBERS(X)                                                                         \
    X(wll, wll_N, FORCE, "working load limit in a straight pull")                                  \
    X(choker_wll, choker_wll_N, FORCE, "working load limit in a choker hitch, if the tag gives one") \
    X(basket_wll, basket_wll_N, FORCE, "working load limit in a basket hitch with upright legs")   \
    X(inclined_wll, inclined_wll_N, FORCE, "working load limit at the inclined angle of the table") \
    X(wll_2_leg_30, wll_2_leg_30_N, FORCE, "two-leg sling, legs 0 to 30 degrees from the vertical, where rated apart") \
    X(wll_2_leg_45, wll_2_leg_45_N, FORCE, "two-leg sling, legs 0 to 45 degrees from the vertical") \
    X(wll_2_leg_60, wll_2_leg_60_N, FORCE, "two-leg sling, legs 45 to 60 degrees from the vertical") \
    X(wll_4_leg_30, wll_4_leg_30_N, FORCE, "three- or four-leg sling, 0 to 30 degrees, where rated apart") \
    X(wll_4_leg_45, wll_4_leg_45_N, FORCE, "three- or four-leg sling, 0 to 45 degrees")            \
    X(wll_4_leg_60, wll_4_leg_60_N, FORCE, "three- or four-leg sling, 45 to 60 degrees")           \
    X(wll_endless, wll_endless_N, FORCE, "endless sling in a choker hitch")                        \
    X(breaking_load, breaking_load_N, FORCE, "least breaking force")                               \
    X(design_factor, design_factor, NONE, "breaking force over working load limit")                \
    X(stretch_at_wll, stretch_at_wll, NONE, "elongation at the working load limit")                \
    X(mass, mass_kg, MASS, "mass of one piece")                                                    \
    X(mass_per_m, mass_per_m_kg_m, LINE_MASS, "mass per length")                                   \
    X(length, length_m, LENGTH, "length of this part of the line")                                 \
    X(diameter, diameter_m, LENGTH, "nominal diameter: chain, rope, shackle bow, thread")          \
    X(pin_diameter, pin_diameter_m, LENGTH, "shackle pin")                                         \
    X(width, width_m, LENGTH, "webbing width")                                                     \
    X(thickness, thickness_m, LENGTH, "webbing thickness, lug thickness")                          \
    X(engagement, engagement_m, LENGTH, "thread of an eyebolt that is screwed in")                   \
    X(efficiency, efficiency, NONE, "strength of the termination over that of the rope")           \
    X(max_side_angle, max_side_angle_rad, ANGLE, "greatest direction of pull off the part's axis") \
    X(max_included_angle, max_included_angle_rad, ANGLE, "greatest angle between legs in one part") \
    X(min_temperature, min_temperature_K, TEMPERATURE, "lowest temperature of use")                \
    X(max_temperature, max_temperature_K, TEMPERATURE, "highest temperature of use")               \
    X(sheaves, sheaves, NONE, "sheaves of a block")                                                \
    X(torque, torque_Nm, MOMENT, "tightening torque")                                              \
    X(stress_area, stress_area_m2, AREA, "tensile stress area of a thread")                        \
    X(shank_area, shank_area_m2, AREA, "area of the shank of a rod or bolt")                       \
    X(fub, fub_Pa, STRESS, "ultimate strength of a bolt class")                                    \
    X(fu, fu_Pa, STRESS, "ultimate strength of a rod's steel")

/* Every number of a hoist. */
#define BK_HOIST_NUMBERS(X)                                                                        \
    X(rated, rated_N, FORCE, "rated capacity")                                                     \
    X(self_mass, self_mass_kg, MASS, "mass of the hoist without hook block and chain")             \
    X(hook_mass, hook_mass_kg, MASS, "mass of the bottom block")                                   \
    X(chain_mass_per_m, chain_mass_per_m_kg_m, LINE_MASS, "mass of one fall of load chain per length") \
    X(falls, falls, NONE, "parts of load chain that carry the load")                               \
    X(height_of_lift, height_of_lift_m, LENGTH, "greatest travel of the hook")                     \
    X(cyclic_duration_factor, cyclic_duration_factor, NONE, "share of time the motor may run")     \
    X(starts_per_hour, starts_per_hour, NONE, "motor starts allowed in an hour")                   \
    X(headroom, headroom_m, LENGTH, "suspension point to hook at its upper limit")                 \
    X(chain_diameter, chain_diameter_m, LENGTH, "nominal diameter of the load chain")              \
    X(chain_pitch, chain_pitch_m, LENGTH, "nominal inside pitch of a link of load chain")          \
    X(braking_time, braking_time_s, TIME, "time the brake takes to stop a lowering load")          \
    X(braking_distance, braking_distance_m, LENGTH, "travel of the hook while braking")            \
    X(response_time, response_time_s, TIME, "time an indirect limiter takes to act")

/* A rolled or welded I shape by its dimensions (metres, radians); printed values where a table has them. */
#define BK_SECTION_NUMBERS(X)                                                                      \
    X(h, h_m, LENGTH, "depth")                                                                     \
    X(b, b_m, LENGTH, "flange width")                                                              \
    X(tw, tw_m, LENGTH, "web thickness")                                                           \
    X(tf, tf_m, LENGTH, "flange thickness, of a taper flange where the table states it")           \
    X(r, r_m, LENGTH, "root radius")                                                               \
    X(r2, r2_m, LENGTH, "toe radius of a taper flange")                                            \
    X(slope, slope, NONE, "slope of the flange's inner face: 0, 0.14, 1/6")                        \
    X(a_weld, a_weld_m, LENGTH, "throat of the web-flange weld of a welded shape")                 \
    X(area, area_m2, AREA, "printed area")                                                         \
    X(Iy, Iy_m4, INERTIA, "printed second moment, strong axis")                                    \
    X(Iz, Iz_m4, INERTIA, "printed second moment, weak axis")                                      \
    X(It, It_m4, INERTIA, "printed torsion constant")                                              \
    X(Iw, Iw_m6, WARPING, "printed warping constant")                                              \
    X(Wely, Wely_m3, VOLUME, "printed elastic modulus, strong axis")                               \
    X(Wply, Wply_m3, VOLUME, "printed plastic modulus, strong axis")                               \
    X(Welz, Welz_m3, VOLUME, "printed elastic modulus, weak axis")                                 \
    X(Wplz, Wplz_m3, VOLUME, "printed plastic modulus, weak axis")                                 \
    X(mass_per_m, mass_per_m_kg_m, LINE_MASS, "printed mass per length")

/* ---- rule sets --------------------------------------------------------------------------------- */

/* One value of a rule set, under a dotted name: "angle.max_from_vertical". */
typedef struct bk_rule {
    const char *name;
    double value;        /* SI; NaN where the rule is a word */
    bk_dim dim;
    const char *text;    /* as written */
    const char *source;
    bk_mark mark;
    bk_place place;
} bk_rule;
/* Steps over a quantity: factor for x from `from` to `to`, infinite where open.  Or the points of a
 * curve, with from = to.  In rising order. */
typedef struct bk_band {
    double from, to, factor; /* SI; factor NaN: not allowed */
} bk_band;
typedef struct bk_bands {
    const char *name, *source;
    bk_mark mark;
    bk_place place;
    bk_dim dim;
    bool points; /* a curve: straight between its points */
    size_t n;
    const bk_band *at;
} bk_bands;
typedef struct bk_rules {
    const char *name;  /* "en" */
    const bk_table *table; /* title, source, digest, path; no rows */
    size_t n;
    const bk_rule *at;
    size_t n_bands;
    const bk_bands *bands;
} bk_rules;

/* Rule set NAME from rules/NAME.yaml, with the rules of hoists and beams from the file that its `above_hook` names. */
bk_status bk_tables_rules(bk_tables *tables, const char *name, bk_place where, const bk_rules **out,
                          bk_errors *errors);
/* The same without the file above the hook, which is then not read: all that a rig needs. */
bk_status bk_tables_rig_rules(bk_tables *tables, const char *name, bk_place where, const bk_rules **out,
                              bk_errors *errors);
/* Holds a user's set against those shipped: BK_E_UNKNOWN_KEY for a rule that none of them knows (nothing would ask for
 * it), BK_E_RULE where it lacks what all of them have; whole: as bk_tables_rules gives it, not bk_tables_rig_rules.
 * BK_OK for a shipped set, and where none is shipped. */
bk_status bk_tables_hold_rules(bk_tables *tables, const bk_rules *rules, bool whole, bk_errors *errors);
/* NULL when the set does not have it. */
const bk_rule *bk_rules_find(const bk_rules *rules, const char *name);
const bk_bands *bk_rules_bands(const bk_rules *rules, const char *name);
/* The rule as a number of that dimension; NULL also where the set has a word or another dimension there: 60 is no angle. */
const bk_rule *bk_rules_number(const bk_rules *rules, const char *name, bk_dim dim);
/* The factor for x; NaN outside all bands or where not allowed.  A value on a boundary takes the
 * lower factor of its two bands.  A curve is NaN below its first point and flat beyond its last only
 * where the quantity is a pure number (a ratio); elsewhere NaN. */
double bk_bands_factor(const bk_bands *bands, double x);

BK_C_END

#endif
