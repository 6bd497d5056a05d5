/* plan: what the user wrote, checked and resolved; read-only after reading.
 *
 * Arrays with indices, in the plan's order.  Every name is resolved, every number SI.  A plan owns
 * everything reached from it; bk_plan_free(NULL) is allowed.
 * Missing values: NaN for a number, NULL for a text, BK_NONE for an index.
 * Frame: world right-handed, z up; a body's own axes are parallel to the world's as drawn.
 */
#ifndef BECKET_PLAN_H
#define BECKET_PLAN_H

#include <becket/tables.h>

BK_C_BEGIN

#define BK_NONE SIZE_MAX

/* Where a figure comes from; sets the default tolerance of the rule set. */
typedef enum bk_known_by { BK_BY_NOTHING, BK_BY_WEIGHED, BK_BY_DRAWING, BK_BY_ESTIMATE } bk_known_by;

/* ---- parts ------------------------------------------------------------------------------------- */

/* A row of a table or the same keys inline. */
typedef struct bk_part {
    const char *ref;      /* "chain-en818-4/10", NULL when inline */
    const char *what;     /* "chain sling", "shackle", ...: the trade's word; never NULL */
    const char *material; /* key of the temperature and choke rules: "chain-grade-8", "wire-rope-steel-core",
                             "polyester", ...; NULL if not given */
    const char *source;   /* citation; "stated in the plan" when inline */
    bk_mark mark;
    bk_place place;
    const bk_row *row;    /* NULL when inline */
#define X(key, field, dim, text) double field;
    BK_PART_NUMBERS(X)
#undef X
} bk_part;

/* ---- rig --------------------------------------------------------------------------------------- */

typedef struct bk_point {
    const char *name;
    size_t body;
    bk_vec3 at_m;        /* body's own axes, from its origin */
    bk_vec3 axis, plane; /* own axes, unit; NaN when not given: of the eye, and normal of its flat */
    size_t first_part, n_parts; /* eyebolt, lug, ... */
    double limit_N;
    bk_place place;
} bk_point;

/* A steel beam inside a body, from its solved forces: spreader and lifting beams. */
typedef struct bk_body_steel {
    size_t section, steel; /* indices in plan */
    size_t from, to;       /* points it runs between */
    double ky_m, kz_m;     /* buckling lengths; NaN: the whole length */
    bk_place place;
} bk_body_steel;

/* One shape of a take-off. */
typedef struct bk_shape {
    const char *name;      /* what the plan calls it; NULL */
    const char *what;      /* "box", "cylinder", "tube", "plate", "sphere", "cone", "section", "mass" */
    const char *material;  /* row of the density table, NULL when a density is stated */
    bk_value mass_kg;      /* what is computed or stated, with its tolerance; < 0 for a hole */
    bk_vec3 cog_m;         /* body's own axes */
    double volume_m3, density_kg_m3; /* NaN for a stated mass */
    const char *source;
    bk_mark mark;
    bk_place place;
} bk_shape;

typedef struct bk_body {
    const char *name;
    bk_value mass_kg;        /* with the tolerance of the plan, or the rule set's for mass_by */
    bk_vec3_value cog_m;     /* own axes */
    bk_known_by mass_by, cog_by;
    bool mass_tol_assumed, cog_tol_assumed; /* tolerance is the rule set's default */
    bk_vec3 at_m;            /* origin as drawn */
    double tilt_limit_rad;   /* NaN: the rule set's */
    double wll_N;            /* of a lifting or spreader beam, by its tag; NaN: not known */
    double ei_y_Nm2;         /* > 0: flexible along the line of its points; NaN: rigid */
    double wind_area_m2, drag;
    size_t first_point, n_points;
    size_t first_shape, n_shapes; /* made_of */
    bk_value stated_mass_kg; /* mass: beside made_of; NaN if not given */
    bool has_steel;
    bk_body_steel steel;
    bool equalised;          /* legs share by a device: all count */
    bk_place place;
} bk_body;

typedef struct bk_ring {
    const char *name;
    bk_vec3 at_m; /* as drawn */
    double mass_kg;
    size_t first_part, n_parts; /* 0 or 1 */
    bk_place place;
} bk_ring;

typedef struct bk_anchor {
    const char *name;
    bk_vec3_value at_m;       /* NaN z allowed only with on: then the beam's trolley */
    size_t runway, trolley;   /* BK_NONE when not on a trolley; trolley is an index in plan->trolleys */
    double limit_N;           /* greatest force, any direction; NaN: no limit known */
    double limit_horizontal_N;/* NaN: not limited apart */
    size_t first_part, n_parts;
    bk_place place;
} bk_anchor;

typedef enum bk_end_kind { BK_END_POINT, BK_END_RING, BK_END_ANCHOR } bk_end_kind;
typedef struct bk_end {
    bk_end_kind kind;
    size_t index; /* in points, rings or anchors */
} bk_end;
typedef enum bk_hitch { BK_HITCH_STRAIGHT, BK_HITCH_CHOKER, BK_HITCH_BASKET } bk_hitch;

typedef struct bk_line {
    const char *name;
    bk_end from, to;
    bk_value length_m;       /* unstretched */
    bool length_given;       /* false: the straight distance as drawn */
    double ea_N;             /* axial stiffness; never NaN: see ea_by */
    const char *ea_by;       /* "ea in the plan", "stretch_at_wll of its parts", "assumed ..." */
    bool ea_assumed;
    double mass_kg;          /* sling, shackles; half acts at each end; hoist and hook block apart */
    double from_mass_kg, to_mass_kg; /* hoist body with all its chain, and hook block, at the ends they hang at */
    size_t first_part, n_parts;
    bk_hitch hitch;
    double choke_angle_rad, basket_angle_rad, bend_diameter_m, edge_radius_m, temperature_K; /* NaN: not stated */
    size_t hoist;            /* BK_NONE */
    bool upper_is_from;      /* the upper end as drawn */
    bk_place place;
} bk_line;

/* ---- hoists ------------------------------------------------------------------------------------ */

typedef enum bk_limiter { BK_LIMITER_NONE, BK_LIMITER_DIRECT, BK_LIMITER_INDIRECT } bk_limiter;
typedef enum bk_hung { BK_BODY_UP, BK_BODY_DOWN } bk_hung;

typedef struct bk_duty_load {
    double of_rated, time; /* shares, 0..1 */
} bk_duty_load;
/* One reading of the meters, or one period of the log. */
typedef struct bk_meter {
    const char *date;     /* YYYY-MM-DD, NULL */
    double on_time_s, starts; /* NaN if not read */
    bool swapped;         /* a new meter starts here at these figures */
    size_t first_load, n_loads; /* spectrum of the period that ends here; 0: that of the duty */
    const char *recorded; /* how: key of the recording factors, NULL */
    bk_place place;
} bk_meter;
typedef struct bk_duty {
    bool given;
    double cycles_per_hour, hours_per_day, days_per_year; /* NaN if not given */
    double mean_lift_m, in_service_s;
    double starts_per_cycle, creep_share, creep_starts_share; /* NaN: the rule's own */
    bool empty_return, empty_return_given;
    size_t first_load, n_loads; /* in plan->duty_loads */
    size_t first_meter, n_meters;
    const char *recorded;  /* how hours and loads were recorded */
    bool history_unknown;
    const char *service;   /* "normal", "heavy", "severe", NULL */
    const char *inspected; /* day of the last inspection, YYYY-MM-DD; NULL */
    bk_place place;
} bk_duty;

typedef struct bk_hoist {
    const char *name;
    const bk_row *row;     /* NULL when inline */
    const char *ref;
    const char *source;
    bk_mark mark;
#define X(key, field, dim, text) double field;
    BK_HOIST_NUMBERS(X)
#undef X
    double speed_m_s, creep_m_s;   /* main, creep; NaN */
    const char *group;             /* "M5", "2m", "H4" */
    bk_limiter limiter;
    double limiter_at;             /* multiple of the rated capacity; NaN */
    const char *hoisting_class, *drive_class; /* "HC2", "HD3" */
    const char *chain_grade;
    bk_hung hung;
    bool manual;                   /* hand chain hoist */
    double level_m;                /* how far its hook may stand off the drawn height; 0.  Already in the
                                      length tolerance of its lines */
    double clear_m, clear_over_m;  /* the load must clear this much over this height; NaN */
    bk_duty duty;
    bk_place place;
} bk_hoist;

/* ---- runways ----------------------------------------------------------------------------------- */

typedef enum bk_section_family { BK_SECTION_I, BK_SECTION_I_TAPER } bk_section_family;
typedef struct bk_section_in {
    const char *ref, *source;
    bk_mark mark;
    const bk_row *row;
    bool welded;
#define X(key, field, dim, text) double field;
    BK_SECTION_NUMBERS(X)
#undef X
    bk_place place;
} bk_section_in;

/* A steel: yield and tensile strength by thickness (steps up to t_max_m[i]). */
#define BK_STEEL_STEPS_MAX 12
typedef struct bk_steel {
    const char *ref, *source;
    bk_mark mark;
    size_t n;
    double t_max_m[BK_STEEL_STEPS_MAX], fy_Pa[BK_STEEL_STEPS_MAX], fu_Pa[BK_STEEL_STEPS_MAX];
    bk_place place;
} bk_steel;

typedef struct bk_support {
    double at_m;
    double limit_N;        /* upward force it may be asked for; NaN */
    double uplift_limit_N; /* downward force it may be asked for; NaN */
    bool fixed;            /* holds the slope: only at the beam's own ends of support */
    size_t first_part, n_parts; /* hanger rod, bolts, clamp, plate eye */
    double count;          /* equal hangers that share it by a named choice; 1 */
    bk_place place;
} bk_support;
typedef struct bk_trolley {
    const char *name;
    size_t hoist;          /* BK_NONE */
    double from_m, to_m;   /* travel of the trolley's middle, beam's own axis */
    double wheels, wheel_base_m, wheel_to_edge_m; /* wheel_to_edge: flange edge to wheel centre line */
    double mass_kg;        /* trolley alone */
    double load_N;         /* plain load; NaN */
    double limit_N;        /* greatest force it may take; NaN */
    size_t first_part, n_parts; /* its own row */
    bk_place place;
} bk_trolley;
typedef struct bk_standing_load { /* force (N, down +) at from_m; or per_metre between from and to */
    double from_m, to_m, force_N, per_metre_N_m;
    bk_place place;
} bk_standing_load;
typedef struct bk_runway {
    const char *name;
    size_t section, steel;     /* indices; BK_NONE */
    double from_m, to_m;       /* ends of the beam */
    size_t first_support, n_supports;
    size_t first_trolley, n_trolleys;
    size_t first_load, n_loads;
    bool self_weight;
    double load_height_m;      /* of the load above the shear centre; NaN: the safe default */
    bool stabilising;          /* named choice: count the load below the shear centre */
    double restraint_m;        /* spacing of lateral restraints; NaN: between supports */
    double lateral_share;      /* lateral load as a share of the vertical; NaN: the rule set's */
    double deflection_limit;   /* as a share of the span; NaN: the rule set's */
    double deflection_limit_m; /* absolute; NaN */
    bool end_stops;
    bk_place place;
} bk_runway;

/* ---- inspection -------------------------------------------------------------------------------- */

/* One measured piece of gear: keep or discard. */
typedef struct bk_inspection {
    const char *name, *what;   /* what: key of the discard table */
    const bk_yaml *map;        /* measured values, read by the check that knows them */
    bk_place place;
} bk_inspection;

/* ---- tackles ----------------------------------------------------------------------------------- */

typedef enum bk_sheave { BK_BEARING_PLAIN, BK_BEARING_ROLLING, BK_BEARING_FIBRE } bk_sheave;
/* A line over blocks: falls carry the moving block, the lead line goes over further sheaves to whoever hauls. */
typedef struct bk_tackle {
    const char *name;
    double load_N;          /* on the moving block, its own weight in */
    double falls;           /* parts of line at the moving block */
    double lead_sheaves;    /* redirecting blocks behind the tackle */
    bk_sheave bearing;     /* of the sheaves: wire rope on plain or rolling bearings, fibre line */
    double angle_rad;       /* between the two lines at the redirecting block; NaN: parallel, the worst */
    double pull_limit_N;    /* what hauls can pull; NaN */
    double limit_N;         /* of the point that holds the standing block; NaN */
    double lead_limit_N;    /* of the point that holds the redirecting block; NaN */
    size_t line_part, block_part, lead_part; /* in parts: the line, the standing block, the redirecting block; BK_NONE */
    bk_place place;
} bk_tackle;

/* ---- the plan ---------------------------------------------------------------------------------- */

typedef struct bk_wind {
    double speed_m_s, pressure_Pa; /* NaN */
    double from_rad;               /* bearing it blows towards, from +x; NaN: any direction */
} bk_wind;

typedef struct bk_plan {
    bk_arena *arena;
    const char *file;               /* as safe text */
    const char *title;              /* "" where not given */
    const char *date, *reference, *site, *author; /* NULL where not given */
    char digest[65];
    const char *text;               /* the file as read, text_n bytes */
    size_t text_n;
    const bk_rules *rules;
    bk_system units;
    bk_value dynamic_factor;        /* v NaN: computed */
    double rigging_factor;          /* dynamic: {rigging: ...}; 1 */
    bool equalised;                 /* for the whole plan */
    bool lose_a_line, people_below, critical;
    double temperature_K, edge_radius_m; /* NaN */
    double floor_m;                 /* height of the floor, world z; NaN */
    bk_wind wind;
    size_t n_bodies, n_points, n_rings, n_anchors, n_lines, n_parts, n_hoists, n_runways, n_supports,
        n_trolleys, n_standing, n_sections, n_steels, n_shapes, n_duty_loads, n_meters, n_inspections, n_tackles,
        n_notes;
    const bk_body *bodies;
    const bk_point *points;
    const bk_ring *rings;
    const bk_anchor *anchors;
    const bk_line *lines;
    const bk_part *parts;
    const bk_hoist *hoists;
    const bk_runway *runways;
    const bk_support *supports;
    const bk_trolley *trolleys;
    const bk_standing_load *standing;
    const bk_section_in *sections;
    const bk_steel *steels;
    const bk_shape *shapes;
    const bk_duty_load *duty_loads;
    const bk_meter *meters;
    const bk_inspection *inspections;
    const bk_tackle *tackles;
    const char *const *notes;       /* what reading assumed, as sentences for the report */
} bk_plan;

/* Reads path ("-": standard input).  tables: the plan keeps pointers into it, so it must outlive the
 * plan.  All mistakes of the file go to errors; the first one's status is returned and *out is NULL. */
bk_status bk_plan_read(const char *path, bk_tables *tables, bk_plan **out, bk_errors *errors);
/* The same from bytes already in hand; name is used in places. */
bk_status bk_plan_parse(const char *name, const char *bytes, size_t n, bk_tables *tables, bk_plan **out,
                        bk_errors *errors);
void bk_plan_free(bk_plan *plan);

/* ---- keys --------------------------------------------------------------------------------------- */

/* Every key of a plan, one list a map: the reader, its messages, the schema and the manual all come
 * from these. */
typedef enum bk_key_kind {
    BK_KEY_NUMBER,       /* a quantity of dim, no tolerance */
    BK_KEY_VALUE,        /* a quantity of dim, tolerance allowed */
    BK_KEY_TOLERANCE,    /* "± 50 mm" alone */
    BK_KEY_VECTOR,       /* three numbers and one unit */
    BK_KEY_VECTOR_VALUE, /* the same, tolerance allowed */
    BK_KEY_DIRECTION,    /* three numbers without a unit, not all 0 */
    BK_KEY_YESNO,
    BK_KEY_TEXT,
    BK_KEY_DATE,         /* YYYY-MM-DD */
    BK_KEY_WORD,         /* one of words */
    BK_KEY_REFERENCE,    /* name of another thing; about says of what */
    BK_KEY_REFERENCES,   /* list of such names */
    BK_KEY_OTHER,        /* a scalar with a form of its own; about says which */
    BK_KEY_MAP,          /* keys of the list `map` */
    BK_KEY_NAMED,        /* NAME: item, in the user's own names */
    BK_KEY_LIST          /* items */
} bk_key_kind;
typedef struct bk_key {
    const char *name;
    bk_key_kind kind;
    bk_dim dim;
    const char *about;
    bool required, whole;     /* whole: counts, no fractions */
    double low, high;         /* SI, inclusive; both 0: the bounds of its dimension.  Of a word: low is the
                                 number of the first */
    const char *const *words; /* NULL-terminated */
    const char *map;          /* list of keys of the map, or of each item; NULL: items are quantities of dim */
    bool scalar;              /* a scalar may stand for the map or the item: TABLE/ROW, or a quantity of dim */
    bool single;              /* one item may stand for the list */
    size_t offset;            /* where the reader keeps it in its struct; SIZE_MAX: read apart */
} bk_key;
typedef struct bk_key_map {
    const char *name, *about; /* "body": one body */
    const bk_key *keys;
    size_t n;
    bool open; /* further keys are the reader's of another room: measurements */
} bk_key_map;
/* Every list, the plan itself first; NULL past the end. */
const bk_key_map *bk_plan_keys_at(size_t i);
/* The list of that name, NULL if there is none. */
const bk_key_map *bk_plan_keys(const char *map);

/* Drawn place of a line's end, world axes. */
bk_vec3 bk_plan_end_at(const bk_plan *plan, bk_end end);
/* "load.nw", "master", "hook"; arena text or plan text; NULL when memory is out. */
const char *bk_plan_end_name(const bk_plan *plan, bk_end end);

BK_C_END

#endif
