/* plan: a sound plan read into SI, and one provoked mistake of every kind, each in its exact place.
 *
 * A broken plan is the sound one with one piece replaced.  `@` in the replacement marks where the message
 * must point: it is taken out before reading.
 */
#include <becket/plan.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bk_tables *tables;
static bk_errors *errors;
static bk_plan *plan;

static void set_up(void)
{
    const char *dirs[] = {getenv("BECKET_TABLES")};
    ck_assert_ptr_nonnull(dirs[0]);
    tables = bk_tables_new(dirs, 1, 0);
    errors = bk_errors_new();
    plan = NULL;
    ck_assert(tables && errors);
}

static void tear_down(void)
{
    bk_plan_free(plan);
    bk_errors_free(errors);
    bk_tables_free(tables);
}

static bk_status parse(const char *text)
{
    return bk_plan_parse("plan.yaml", text, strlen(text), tables, &plan, errors);
}

static void print_errors(void)
{
    for (size_t i = 0; i < errors->n; i++) {
        char *line = bk_message_print(&errors->at[i]);
        fprintf(stderr, "    %s\n", line ? line : "?");
        free(line);
    }
}

/* ---- a sound plan with a bit of everything ------------------------------------------------------ */

static const char sound[] =
    "becket: 1\n"
    "title: Pump skid of Ostrel works (demo)\n"
    "rules: en\n"
    "units: us\n"
    "date: 2024-02-29\n"
    "reference: L-17\n"
    "site: hall 3\n"
    "author: rigging loft\n"
    "bodies:\n"
    "  load:\n"
    "    mass: 3.6 t ± 5 %\n"
    "    mass_source: drawing\n"
    "    cog: 1.10 0.05 0.70 m ± 0.10 0.20 0.05 m\n"
    "    cog_source: estimated\n"
    "    at: 0.5 -0.25 0 m\n"
    "    points:\n"
    "      nw: 0.10 0.90 1.20 m\n"
    "      se: {at: 2.30 -0.80 1.20 m, axis: 0 0 2, plane: 1 0 0, limit: 3 t, part: {what: eyebolt, wll: 3.2 "
    "t}}\n"
    "    tilt_limit: 4 deg\n"
    "    wll: 3.5 t\n"
    "    wind_area: 2.5 m2\n"
    "    drag: 1.3\n"
    "    equalised: yes\n"
    "  beam:\n"
    "    mass: 250 kg\n"
    "    mass_source: weighed\n"
    "    cog: 1.5 0 0 m\n"
    "    cog_source: drawing\n"
    "    at: 0 0 3 m\n"
    "    points: {tl: 0 0 0.2 m, tr: 3.1 0 0.2 m, bl: 0.1 0 -0.2 m, br: 3.0 0 -0.2 m}\n"
    "    steel: {section: heb/240, steel: en10025-2/S355, between: [tl, beam.tr], ky: 3 m, kz: 2.9 m}\n"
    "    ei: 12 MN*m2\n"
    "rings:\n"
    "  master: {at: 1.5 0 5.1 m, part: {what: master link, wll: 6 t, mass: 2.3 kg}}\n"
    "  apex: {at: 1.6 0 2.4 m, mass: 1.5 kg}\n"
    "anchors:\n"
    "  hook: {at: 1.5 0 7.2 m ± 0 0 0.03 m, level: ± 20 mm, limit: 60 kN, limit_horizontal: 2 kN}\n"
    "  trolley: {on: bay.t2}\n"
    "lines:\n"
    "  drop: {from: master, to: hook, hoist: main, length: 2.1 m}\n"
    "  second: {from: trolley, to: beam.tl, hoist: spare}\n"
    "  left:\n"
    "    from: master\n"
    "    to: beam.tr\n"
    "    length: 2.8 m ± 10 mm\n"
    "    parts: [{what: sling, wll: 2 t, stretch_at_wll: 0.5 %, mass: 3 kg}, {what: shackle, wll: 4.75 t, "
    "mass: 1.1 kg, length: 0.07 m}]\n"
    "    hitch: choker\n"
    "    choke_angle: 110 deg\n"
    "    bend_diameter: 60 mm\n"
    "    edge_radius: 5 mm\n"
    "    temperature: 20 degC\n"
    "  down: {from: beam.br, to: load.se, ea: 5 MN, mass: 4 kg}\n"
    "  other: {from: beam.bl, to: apex, part: {wll: 1 t, mass_per_m: 1.5 kg/m}}\n"
    "  last: {from: apex, to: load.nw}\n"
    "hoists:\n"
    "  main:\n"
    "    rated: 5 t\n"
    "    self_mass: 120 kg\n"
    "    hook_mass: 9 kg\n"
    "    chain_mass_per_m: 2.2 kg/m\n"
    "    falls: 2\n"
    "    height_of_lift: 6 m\n"
    "    speeds: [6 m/min, 1 m/min]\n"
    "    group: M5\n"
    "    cyclic_duration_factor: 40 %\n"
    "    starts_per_hour: 240\n"
    "    limiter: {kind: direct, at: 1.6}\n"
    "    hoisting_class: HC2\n"
    "    drive_class: HD3\n"
    "    hung: body_down\n"
    "    headroom: 0.7 m\n"
    "    chain_diameter: 9 mm\n"
    "    chain_pitch: 27 mm\n"
    "    chain_grade: T\n"
    "    braking_time: 0.2 s\n"
    "    braking_distance: 10 mm\n"
    "    response_time: 0.1 s\n"
    "    manual: no\n"
    "    level: ± 15 mm\n"
    "    clear: 0.3 m over 2.1 m\n"
    "    duty:\n"
    "      cycles_per_hour: 12\n"
    "      mean_lift: 3 m\n"
    "      hours_per_day: 8\n"
    "      days_per_year: 220\n"
    "      loads: [{of_rated: 100 %, time: 10 %}, {of_rated: 40 %, time: 60 %}, {of_rated: 0, time: 0.3}]\n"
    "      in_service: 2 years\n"
    "      meter:\n"
    "        - {date: 2023-01-10, on_time: 1200 h, starts: 90000}\n"
    "        - {date: 2024-01-09, on_time: 40 h, starts: 2000, swapped: yes, loads: [{of_rated: 50 %, time: "
    "100 %}], recorded: iso-counters}\n"
    "      empty_return: yes\n"
    "      starts_per_cycle: 9\n"
    "      creep_share: 20 %\n"
    "      recorded: iso-counters\n"
    "      history: unknown\n"
    "      service: heavy\n"
    "  spare: {part: hoist-demo/2t, headroom: 510 mm, rated: 1.9 t}\n"
    "runways:\n"
    "  bay:\n"
    "    section: ipe/300\n"
    "    steel: {fy: 250 MPa, fu: 400 MPa}\n"
    "    ends: [-0.5 m, 12.5 m]\n"
    "    supports: [0 m, {at: 6 m, limit: 60 kN, uplift_limit: 5 kN, count: 2, parts: [{what: rod, wll: 30 "
    "kN}]}, 12 m]\n"
    "    trolleys:\n"
    "      t1: {hoist: main, travel: [0.3 m, 5.2 m], wheels: 4, wheel_base: 0.20 m, wheel_to_edge: 20 mm, "
    "mass: 45 kg}\n"
    "      t2: {travel: [7 m, 7 m], wheels: 2}\n"
    "      t3: {load: 32 kN, travel: [8 m, 9 m], wheels: 2, mass: 10 kg}\n"
    "    loads: [{at: 2 m, force: 5 kN}, {from: 0 m, to: 4 m, per_metre: 0.5 kN/m}]\n"
    "    self_weight: no\n"
    "    load_height: -120 mm\n"
    "    stabilising: yes\n"
    "    restraint: 3 m\n"
    "    lateral: 10 %\n"
    "    deflection_limit: L/600\n"
    "    end_stops: yes\n"
    "dynamic: {factor: 1.2 ± 0.1, rigging: 1.1}\n"
    "equalised: no\n"
    "lose_a_line: yes\n"
    "people_below: no\n"
    "critical: yes\n"
    "temperature: 293.15 K\n"
    "edge_radius: 3 mm\n"
    "floor: -0.4 m\n"
    "wind: {speed: 9 m/s, from: 30 deg}\n"
    "inspect:\n"
    "  hook of the main hoist: {what: hook, throat: {new: 30 mm, measured: 32 mm}, twist: 4 deg}\n";

#define CLOSE(a, b) ck_assert_double_eq_tol(a, b, 1e-9 * (1 + fabs((double)(b))))
#define G           9.80665

START_TEST(a_sound_plan_is_read_in_si)
{
    bk_status status = parse(sound);
    print_errors();
    ck_assert_int_eq(status, BK_OK);
    ck_assert_uint_eq(errors->n, 0);
    ck_assert_str_eq(plan->title, "Pump skid of Ostrel works (demo)");
    ck_assert_str_eq(plan->date, "2024-02-29");
    ck_assert_str_eq(plan->author, "rigging loft");
    ck_assert_int_eq(plan->units, BK_US);
    ck_assert_str_eq(plan->rules->name, "en");
    ck_assert_uint_eq(strlen(plan->digest), 64);
    CLOSE(plan->dynamic_factor.v, 1.2);
    CLOSE(plan->dynamic_factor.tol, 0.1);
    CLOSE(plan->rigging_factor, 1.1);
    ck_assert(plan->lose_a_line && plan->critical && !plan->people_below && !plan->equalised);
    CLOSE(plan->temperature_K, 293.15);
    CLOSE(plan->floor_m, -0.4);
    CLOSE(plan->wind.speed_m_s, 9);
    CLOSE(plan->wind.from_rad, BK_PI / 6);
    ck_assert(isnan(plan->wind.pressure_Pa));

    const bk_body *load = &plan->bodies[0], *beam = &plan->bodies[1];
    CLOSE(load->mass_kg.v, 3600);
    CLOSE(load->mass_kg.tol, 180);
    CLOSE(load->cog_m.v.z, 0.70);
    CLOSE(load->cog_m.tol.y, 0.20);
    ck_assert_int_eq(load->mass_by, BK_BY_DRAWING);
    ck_assert_int_eq(load->cog_by, BK_BY_ESTIMATE);
    ck_assert(!load->mass_tol_assumed && !load->cog_tol_assumed && load->equalised);
    CLOSE(load->tilt_limit_rad, 4 * BK_PI / 180);
    CLOSE(load->wll_N, 3500 * BK_STANDARD_GRAVITY_M_PER_S2);
    CLOSE(load->wind_area_m2, 2.5);
    const bk_point *se = &plan->points[1];
    CLOSE(se->axis.z, 1);
    CLOSE(se->plane.x, 1);
    CLOSE(se->limit_N, 3000 * G);
    ck_assert_str_eq(plan->parts[se->first_part].what, "eyebolt");
    CLOSE(plan->parts[se->first_part].wll_N, 3200 * G);
    ck_assert_str_eq(plan->parts[se->first_part].source, "stated in the plan");
    ck_assert_int_eq(plan->parts[se->first_part].mark, BK_MARK_USER);
    ck_assert(isnan(plan->parts[se->first_part].choker_wll_N));
    ck_assert(isnan(plan->points[0].axis.x));

    /* no tolerance given: the rule set's, for a mass that was weighed and a place off a drawing */
    ck_assert(beam->mass_tol_assumed && beam->cog_tol_assumed);
    ck_assert_double_gt(beam->mass_kg.tol, 0);
    ck_assert_double_gt(beam->cog_m.tol.x, 0);
    ck_assert(beam->has_steel);
    ck_assert_uint_eq(beam->steel.to, beam->first_point + 1);
    CLOSE(beam->steel.kz_m, 2.9);
    CLOSE(plan->sections[beam->steel.section].h_m, 0.240);
    CLOSE(plan->steels[beam->steel.steel].fy_Pa[1], 345e6); /* EN 10025-2, S355 above 16 up to 40 mm */
    CLOSE(plan->steels[beam->steel.steel].t_max_m[1], 0.040);
    CLOSE(beam->ei_y_Nm2, 12e6);

    CLOSE(plan->rings[0].mass_kg, 2.3);
    CLOSE(plan->rings[1].mass_kg, 1.5);
    CLOSE(plan->anchors[0].at_m.tol.z, 0.05);
    CLOSE(plan->anchors[0].limit_N, 60e3);
    ck_assert_uint_eq(plan->anchors[1].runway, 0);
    ck_assert_uint_eq(plan->anchors[1].trolley, 1);

    const bk_line *drop = &plan->lines[0], *second = &plan->lines[1], *left = &plan->lines[2],
                  *down = &plan->lines[3], *other = &plan->lines[4];
    ck_assert_str_eq(bk_plan_end_name(plan, left->to), "beam.tr");
    ck_assert_str_eq(bk_plan_end_name(plan, drop->to), "hook");
    ck_assert(!drop->upper_is_from && left->upper_is_from);
    ck_assert_int_eq(left->hitch, BK_HITCH_CHOKER);
    CLOSE(left->temperature_K, 293.15);
    CLOSE(left->length_m.tol, 0.010);
    CLOSE(left->mass_kg, 4.1);
    /* the sling has what the shackle leaves; the shackle states no stretch and is rigid */
    CLOSE(left->ea_N, 2.8 / ((2.8 - 0.07) * 0.005 / (2000 * G)));
    ck_assert(!left->ea_assumed);
    CLOSE(down->ea_N, 5e6);
    /* drawn: beam.br (3.0 0 2.8) to load.se (2.8 -1.05 1.2) */
    CLOSE(down->length_m.v, sqrt(0.2 * 0.2 + 1.05 * 1.05 + 1.6 * 1.6));
    ck_assert(!down->length_given && other->ea_assumed);
    CLOSE(other->mass_kg, 1.5 * other->length_m.v);

    /* body down: the hoist hangs at the lower end (from: the ring), with all of its chain */
    CLOSE(drop->mass_kg, 0);
    CLOSE(drop->from_mass_kg, 120 + 2.2 * 2 * 6);
    CLOSE(drop->to_mass_kg, 9);
    CLOSE(drop->length_m.tol, 0.015);
    /* plumb above beam.tl by the headroom of the spare hoist */
    bk_vec3 up = bk_plan_end_at(plan, second->from), tl = bk_plan_end_at(plan, second->to);
    CLOSE(up.x, tl.x);
    CLOSE(up.z, tl.z + plan->hoists[1].headroom_m);

    const bk_hoist *main_hoist = &plan->hoists[0], *spare = &plan->hoists[1];
    CLOSE(main_hoist->speed_m_s, 0.1);
    CLOSE(main_hoist->creep_m_s, 1.0 / 60);
    CLOSE(main_hoist->limiter_at, 1.6);
    ck_assert_int_eq(main_hoist->limiter, BK_LIMITER_DIRECT);
    ck_assert_int_eq(main_hoist->hung, BK_BODY_DOWN);
    ck_assert_str_eq(main_hoist->group, "M5");
    CLOSE(main_hoist->clear_m, 0.3);
    CLOSE(main_hoist->clear_over_m, 2.1);
    const bk_duty *duty = &main_hoist->duty;
    ck_assert(duty->given && duty->empty_return && duty->empty_return_given && duty->history_unknown);
    ck_assert_uint_eq(duty->n_loads, 3);
    CLOSE(plan->duty_loads[duty->first_load + 1].time, 0.6);
    ck_assert_uint_eq(duty->n_meters, 2);
    CLOSE(plan->meters[duty->first_meter].on_time_s, 1200 * 3600.0);
    ck_assert(plan->meters[duty->first_meter + 1].swapped);
    CLOSE(plan->duty_loads[plan->meters[duty->first_meter + 1].first_load].of_rated, 0.5);
    ck_assert_str_eq(duty->service, "heavy");
    CLOSE(duty->creep_share, 0.2);

    /* a row with one figure replaced */
    CLOSE(spare->rated_N, 1900 * G);
    CLOSE(spare->self_mass_kg, 37);
    ck_assert_str_eq(spare->ref, "hoist-demo/2t");
    ck_assert_int_eq(spare->mark, BK_MARK_DEMO); /* the least sure of row and plan */
    ck_assert_ptr_nonnull(strstr(spare->source, "changed in the plan"));
    ck_assert(!spare->duty.given);
    CLOSE(spare->creep_m_s, 0.65 / 60);
    CLOSE(spare->limiter_at, 1.6);

    const bk_runway *bay = &plan->runways[0];
    CLOSE(bay->from_m, -0.5);
    ck_assert_uint_eq(bay->n_supports, 3);
    CLOSE(plan->supports[1].limit_N, 60e3);
    CLOSE(plan->supports[1].count, 2);
    CLOSE(plan->supports[2].at_m, 12);
    ck_assert(isnan(plan->supports[0].limit_N));
    CLOSE(plan->sections[bay->section].b_m, 0.150);
    CLOSE(plan->steels[bay->steel].fy_Pa[0], 250e6);
    CLOSE(plan->trolleys[0].wheel_to_edge_m, 0.02);
    ck_assert_uint_eq(plan->trolleys[0].hoist, 0);
    CLOSE(plan->trolleys[2].load_N, 32e3);
    CLOSE(plan->standing[1].per_metre_N_m, 500);
    CLOSE(plan->standing[0].to_m, 2);
    CLOSE(bay->deflection_limit, 1.0 / 600);
    CLOSE(bay->load_height_m, -0.12);
    CLOSE(bay->lateral_share, 0.1);
    ck_assert(!bay->self_weight && bay->stabilising && bay->end_stops);

    ck_assert_str_eq(plan->inspections[0].what, "hook");
    ck_assert_ptr_nonnull(bk_yaml_get(plan->inspections[0].map, "throat"));
    ck_assert_uint_gt(plan->n_notes, 0);
}
END_TEST

/* ---- one mistake at a time ---------------------------------------------------------------------- */

typedef struct mistake {
    const char *piece, *with; /* piece of the sound plan; `@` in with: where the message points */
    bk_status status;
    const char *says; /* part of the message */
} mistake;

static const mistake mistakes[] = {
    /* top */
    {"becket: 1\n", "becket: @2\n", BK_E_VERSION, "version 1"},
    {"becket: 1\ntitle", "@title", BK_E_MISSING_KEY, "\"becket\" is missing"},
    {"title: Pump", "@titel: Pump", BK_E_UNKNOWN_KEY, "nearest is \"title\""},
    {"author: rigging loft", "author: @{a: 1}", BK_E_KIND, "a map"},
    {"units: us", "units: @imperial", BK_E_WORD, "si, us"},
    {"rules: en", "rules: @[en]", BK_E_KIND, "a name"},
    {"2024-02-29", "@2023-02-29", BK_E_VALUE, "no such day"},
    {"2024-02-29", "@29.2.2024", BK_E_VALUE, "YYYY-MM-DD"},
    {"reference: L-17", "reference: @\"a\\tb\"", BK_E_VALUE, "control character"},
    {"lose_a_line: yes", "lose_a_line: @maybe", BK_E_WORD, "yes"},
    {"factor: 1.2 ± 0.1", "factor: @0.9", BK_E_VALUE, "1"},
    {"wind: {speed: 9 m/s,", "wind: @{speed: 9 m/s, pressure: 50 Pa,", BK_E_VALUE, "either"},
    {"inspect:\n  hook of the main hoist: {what: hook, ", "inspect:\n  @hook of the main hoist: {",
     BK_E_MISSING_KEY, "\"what\""},
    /* bodies */
    {"mass: 3.6 t ± 5 %", "mass: @3.6", BK_E_NO_UNIT, "mass"},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 m", BK_E_UNIT, "mass"},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 ton", BK_E_TON, "short_ton"},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 q", BK_E_UNKNOWN_UNIT, ""},
    {"mass: 3.6 t ± 5 %", "mass: @heavy", BK_E_NUMBER, "mass"},
    {"mass: 3.6 t ± 5 %", "mass: @1e999 kg", BK_E_NUMBER, "out of range"},
    {"mass: 3.6 t ± 5 %", "mass: @-3.6 t", BK_E_VALUE, "more than 0"},
    {"mass: 3.6 t ± 5 %", "mass: @0 kg", BK_E_VALUE, "more than 0"},
    {"mass: 3.6 t ± 5 %", "mass: @3e9 t", BK_E_VALUE, "at most 1000000 t"},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 t ± 120 %", BK_E_TOLERANCE, "as large as"},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 t ±", BK_E_TOLERANCE, ""},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 t ± 5 m", BK_E_UNIT, "in the tolerance"},
    {"mass: 3.6 t ± 5 %", "mass: @3.6 t more", BK_E_UNKNOWN_UNIT, "more"},
    {"mass: 3.6 t ± 5 %", "mass: @[3.6 t]", BK_E_KIND, "a list"},
    {"mass: 3.6 t ± 5 %", "mass: @{}", BK_E_KIND, "a map"},
    {"ei: 12 MN*m2", "ei:@", BK_E_KIND, "found nothing"},
    {"  load:\n    mass: 3.6 t ± 5 %\n", "  @load:\n", BK_E_MISSING_KEY, "\"mass\" is missing"},
    {"  beam:\n    mass: 250 kg\n    mass_source: weighed\n    cog: 1.5 0 0 m\n",
     "  @beam:\n    mass: 250 kg\n", BK_E_MISSING_KEY, "\"cog\" is missing"},
    {"mass_source: drawing", "mass_source: @guessed", BK_E_WORD, "weighed, drawing, estimated"},
    {"cog: 1.5 0 0 m", "cog: @1.5 0 m", BK_E_VECTOR, ""},
    {"cog: 1.5 0 0 m", "cog: @1.5 0 0", BK_E_NO_UNIT, ""},
    {"cog: 1.5 0 0 m", "cog: @[1.5 m, 0 m, 0 m]", BK_E_KIND, "three numbers and one unit"},
    {"cog: 1.5 0 0 m", "cog: @2e6 0 0 m", BK_E_VALUE, "1000 km"},
    {"at: 0 0 3 m\n", "at: @0 0 3 m ± 1 mm\n", BK_E_TOLERANCE, "no use here"},
    {"nw: 0.10 0.90", "@n.w: 0.10 0.90", BK_E_VALUE, "dot"},
    {"plane: 1 0 0", "plane: @0 0.1 -1", BK_E_VALUE, "across"},
    {"axis: 0 0 2", "axis: @0 0 0", BK_E_VALUE, "points nowhere"},
    {"axis: 0 0 2", "axis: @0 0 2 m", BK_E_VECTOR, "without a unit"},
    {"limit: 3 t,", "limit: @-3 t,", BK_E_VALUE, "more than 0"},
    {"{what: eyebolt, wll: 3.2 t}", "{what: eyebolt, @wl: 3.2 t}", BK_E_UNKNOWN_KEY, "\"wll\""},
    {"tilt_limit: 4 deg", "tilt_limit: @100 deg", BK_E_VALUE, "90"},
    {"  beam:\n", "  @load:\n", BK_E_DUPLICATE, "load"},
    {"  beam:\n", "  @bea.m:\n", BK_E_VALUE, "dot"},
    {"between: [tl, beam.tr]", "between: [tl, @tx]", BK_E_REFERENCE, "has no point"},
    {"between: [tl, beam.tr]", "between: [tl, @tl]", BK_E_VALUE, "twice"},
    {"between: [tl, beam.tr]", "between: @[tl]", BK_E_KIND, "two points"},
    {"steel: {section: heb/240, ", "steel: @{", BK_E_MISSING_KEY, "\"section\""},
    {"section: heb/240", "section: @heb/250", BK_E_ROW, ""},
    {"section: heb/240", "section: @hec/240", BK_E_TABLE, ""},
    {"section: heb/240", "section: @heb240", BK_E_TABLE, "TABLE/ROW"},
    {"section: heb/240", "section: @hoist-demo/2t", BK_E_ROW, ""},
    {"section: heb/240", "section: @{h: 200 mm, b: 100 mm, tw: 6 mm}", BK_E_MISSING_KEY, "\"tf\""},
    {"section: heb/240", "section: @{h: 20 mm, b: 100 mm, tw: 6 mm, tf: 10 mm}", BK_E_VALUE, "no I shape"},
    {"{fy: 250 MPa, fu: 400 MPa}", "@{fy: 500 MPa, fu: 400 MPa}", BK_E_VALUE, "below"},
    {"{fy: 250 MPa, fu: 400 MPa}", "@{fu: 400 MPa}", BK_E_MISSING_KEY, "\"fy\""},
    {"{fy: 250 MPa, fu: 400 MPa}", "{fy: @250 Pa, fu: 400 MPa}", BK_E_VALUE, "MPa"},
    {"points: {tl: 0 0 0.2 m, tr: 3.1 0 0.2 m, bl: 0.1 0 -0.2 m, br: 3.0 0 -0.2 m}", "points: @[tl, tr]",
     BK_E_KIND, "NAME"},
    /* rings and anchors */
    {"{at: 1.6 0 2.4 m, mass: 1.5 kg}", "{mass: 1.5 kg}", BK_E_MISSING_KEY, NULL},
    {"mass: 1.5 kg}", "mass: @-1.5 kg}", BK_E_VALUE, "0 or more"},
    {"  trolley: {on: bay.t2}", "  @trolley: {limit: 3 kN}", BK_E_MISSING_KEY, "\"at\""},
    {"on: bay.t2", "on: @bay", BK_E_AMBIGUOUS, "bay.t2"},
    {"on: bay.t2", "on: @bay.t9", BK_E_REFERENCE, "no trolley"},
    {"on: bay.t2", "on: @bai.t2", BK_E_REFERENCE, "bay.t2"},
    {"level: ± 20 mm", "level: @± 20", BK_E_NO_UNIT, ""},
    {"level: ± 20 mm", "level: @± -20 mm", BK_E_VALUE, "more than 0"},
    /* lines */
    {"from: beam.br,", "from: @beam.bx,", BK_E_REFERENCE, "has no point"},
    {"from: beam.br,", "from: @beem.br,", BK_E_REFERENCE, "nearest is \"beam.br\""},
    {"from: beam.br,", "from: @beam,", BK_E_AMBIGUOUS, "which of its points"},
    {"from: beam.br,", "from: @[beam.br],", BK_E_KIND, "a name"},
    {"from: master\n    to: beam.tr", "from: master\n    to: @master", BK_E_VALUE, "to itself"},
    {"from: master\n    to: beam.tr", "from: beam.tl\n    to: @beam.tr", BK_E_VALUE, "rigid body"},
    {"from: trolley, to: beam.tl", "from: trolley, to: @hook", BK_E_VALUE, "between two anchors"},
    {"  left:\n    from: master\n", "  @left:\n", BK_E_MISSING_KEY, "\"from\""},
    {"  left:\n    from: master\n    to: beam.tr", "  @left:\n    from: master", BK_E_MISSING_KEY, "\"to\""},
    {"hoist: spare}", "hoist: @spar}", BK_E_REFERENCE, "nearest is \"spare\""},
    {"length: 2.8 m ± 10 mm", "length: @0 m", BK_E_VALUE, "more than 0"},
    {"length: 2.8 m ± 10 mm", "length: @-2.8 m", BK_E_VALUE, "more than 0"},
    {"length: 2.8 m ± 10 mm", "length: @2.8 m ± 3 m", BK_E_TOLERANCE, "as large as"},
    {"hitch: choker", "hitch: @basked", BK_E_WORD, "nearest is \"basket\""},
    {"ea: 5 MN", "ea: @0 N", BK_E_VALUE, "more than 0"},
    {"wll: 2 t, stretch", "stretch", BK_E_MISSING_KEY, NULL},
    {"stretch_at_wll: 0.5 %", "stretch_at_wll: @0 %", BK_E_VALUE, "more than 0"},
    {"length: 0.07 m}", "length: 3.4 m}", BK_E_VALUE, NULL},
    {"parts: [{what: sling,", "part: {wll: 1 t}\n    parts: @[{what: sling,", BK_E_VALUE, "not both"},
    {"parts: [{what: sling,", "parts: [@[], {what: sling,", BK_E_KIND, "a list"},
    {"choke_angle: 110 deg", "choke_angle: @110 m", BK_E_UNIT, "angle"},
    {"last: {from: apex, to: load.nw}", "last: {from: apex, to: load.nw, part: @chain-en818-4/11}", BK_E_ROW,
     ""},
    {"last: {from: apex, to: load.nw}", "last: {from: apex, to: load.nw, part: @chain-en8184/10}", BK_E_TABLE,
     ""},
    {"  last: {from: apex", "  @left: {from: apex", BK_E_DUPLICATE, "left"},
    {"apex: {at: 1.6 0 2.4 m", "apex: {at: 0.1 0 2.8 m", BK_E_VALUE, NULL}, /* where beam.bl is */
    {"from: apex, to: load.nw}", "from: hook, to: load.nw}\n  both: {from: @load, to: apex}", BK_E_AMBIGUOUS,
     "load.nw"},
    /* hoists */
    {"    rated: 5 t\n", "", BK_E_MISSING_KEY, NULL},
    {"rated: 5 t", "rated: @-5 t", BK_E_VALUE, "more than 0"},
    {"falls: 2", "falls: @2.5", BK_E_VALUE, "whole number"},
    {"falls: 2", "falls: @0", BK_E_VALUE, "more than 0"},
    {"speeds: [6 m/min, 1 m/min]", "speeds: [1 m/min, @6 m/min]", BK_E_VALUE, "faster"},
    {"speeds: [6 m/min, 1 m/min]", "speeds: @[6 m/min, 1 m/min, 1 m/min]", BK_E_KIND, "1 to 2"},
    {"speeds: [6 m/min, 1 m/min]", "speeds: [6 m/min, @1 m]", BK_E_UNIT, "speed"},
    {"group: M5", "group: @M9", BK_E_WORD, "M"},
    {"cyclic_duration_factor: 40 %", "cyclic_duration_factor: @40", BK_E_VALUE, "1"},
    {"kind: direct", "kind: @clutch", BK_E_WORD, "direct, indirect"},
    {"limiter: {kind: direct, at: 1.6}", "limiter: @{at: 1.6}", BK_E_MISSING_KEY, "\"kind\""},
    {"at: 1.6}", "at: @0.5}", BK_E_VALUE, "1"},
    {"hoisting_class: HC2", "hoisting_class: @HC5", BK_E_WORD, "HC"},
    {"drive_class: HD3", "drive_class: @HC3", BK_E_WORD, "HD"},
    {"hung: body_down", "hung: @down", BK_E_WORD, "body_down"},
    {"clear: 0.3 m over 2.1 m", "clear: @0.3 m", BK_E_VALUE, "over"},
    {"part: hoist-demo/2t", "part: @hoist-demo/2.1t", BK_E_ROW, ""},
    {"rated: 1.9 t}", "@ratd: 1.9 t}", BK_E_UNKNOWN_KEY, "\"rated\""},
    {"{of_rated: 0, time: 0.3}", "{of_rated: 0, time: 0.2}", BK_E_VALUE, NULL},
    {"{of_rated: 0, time: 0.3}", "{of_rated: @150 %, time: 0.3}", BK_E_VALUE, "at most 125 %"},
    {"{of_rated: 0, time: 0.3}", "@{of_rated: 0}", BK_E_MISSING_KEY, "\"time\""},
    {"hours_per_day: 8", "hours_per_day: @25", BK_E_VALUE, "24"},
    {"hours_per_day: 8", "hours_per_day: @8 h", BK_E_UNIT, ""},
    {"history: unknown", "history: @lost", BK_E_WORD, "known, unknown"},
    {"date: 2024-01-09", "date: @2022-01-09", BK_E_VALUE, "order"},
    {"starts: 2000, swapped: yes,", "starts: 2000,", BK_E_VALUE, NULL},
    {"{date: 2023-01-10, on_time", "@{on_time", BK_E_MISSING_KEY, "\"date\""},
    /* runways */
    {"    section: ipe/300\n", "", BK_E_MISSING_KEY, NULL},
    {"ends: [-0.5 m, 12.5 m]", "ends: @[12.5 m, -0.5 m]", BK_E_VALUE, "rising"},
    {"ends: [-0.5 m, 12.5 m]", "ends: @[-0.5 m]", BK_E_KIND, "2 values"},
    {"ends: [-0.5 m, 12.5 m]", "ends: [-0.5 m, @12.5]", BK_E_NO_UNIT, "length"},
    {"supports: [0 m, {at: 6 m,", "supports: [0 m, {at: @-1 m,", BK_E_VALUE, "rise"},
    {"supports: [0 m, {at: 6 m,", "supports: [0 m, {at: @13 m,", BK_E_VALUE, "off the beam"},
    {"supports: [0 m, {at: 6 m,", "supports: [0 m, {fixed: @yes, at: 6 m,", BK_E_VALUE, "fixed"},
    {"count: 2", "count: @1.5", BK_E_VALUE, "whole"},
    {"supports: [0 m, {at: 6 m, limit: 60 kN, uplift_limit: 5 kN, count: 2, parts: [{what: rod, wll: 30 "
     "kN}]}, 12 m]",
     "supports: [@0 m]", BK_E_VALUE, "one support"},
    {"supports: [0 m, {at: 6 m, limit: 60 kN, uplift_limit: 5 kN, count: 2, parts: [{what: rod, wll: 30 "
     "kN}]}, 12 m]",
     "supports: @[]", BK_E_VALUE, "at least one support"},
    {"travel: [0.3 m, 5.2 m]", "travel: @[5.2 m, 0.3 m]", BK_E_VALUE, "backwards"},
    {"travel: [0.3 m, 5.2 m]", "travel: [0.3 m, @13 m]", BK_E_VALUE, "leaves the beam"},
    {"  drop: {from: master, to: hook, hoist: main, length: 2.1 m}",
     "  @drop: {from: master, to: hook, hoist: main, length: 12 mm}", BK_E_TOLERANCE, "level of hoist"},
    {"      t3: {load: 32 kN, travel: [8 m, 9 m], ", "      @t3: {load: 32 kN, ", BK_E_MISSING_KEY,
     "\"travel\""},
    {"      t3: {load: 32 kN, ", "      @t3: {", BK_E_MISSING_KEY, "\"hoist\" or \"load\""},
    {"t1: {hoist: main,", "t1: {load: @8 kN, hoist: main,", BK_E_VALUE, "in place of a hoist"},
    {"t2: {travel: [7 m, 7 m],", "t2: {load: @8 kN, travel: [7 m, 7 m],", BK_E_VALUE, "what hangs from the anchor"},
    {"wheels: 4, wheel_base", "wheels: @3, wheel_base", BK_E_VALUE, "2 or 4"},
    {"wheels: 4, wheel_base", "wheels: @6, wheel_base", BK_E_VALUE, "at most 4"},
    {"      t1: {hoist: main, travel: [0.3 m, 5.2 m], wheels: 4, wheel_base: 0.20 m, ",
     "      @t1: {hoist: main, travel: [0.3 m, 5.2 m], wheels: 4, ", BK_E_MISSING_KEY, "\"wheel_base\""},
    {"t1: {hoist: main,", "t1: {hoist: @mian,", BK_E_REFERENCE, "\"main\""},
    {"{at: 2 m, force: 5 kN}", "@{at: 2 m}", BK_E_MISSING_KEY, "\"force\""},
    {"{at: 2 m, force: 5 kN}", "{at: @20 m, force: 5 kN}", BK_E_VALUE, "off the beam"},
    {"{at: 2 m, force: 5 kN}", "@{at: 2 m, to: 3 m, force: 5 kN}", BK_E_VALUE, "both"},
    {"to: 4 m, per_metre", "to: @0 m, per_metre", BK_E_VALUE, "before it begins"},
    {"deflection_limit: L/600", "deflection_limit: @L/6", BK_E_VALUE, "L/50"},
    {"deflection_limit: L/600", "deflection_limit: @L/x", BK_E_NUMBER, "L/500"},
    {"deflection_limit: L/600", "deflection_limit: @600 kg", BK_E_UNIT, "length"},
};

/* The sound plan with one piece replaced and the mark taken out; line and column of the mark, 0 without one.
 */
static char *broken(const mistake *m, int *line, int *column)
{
    const char *at = strstr(sound, m->piece);
    ck_assert_msg(at && !strstr(at + 1, m->piece), "piece \"%s\" is not in the plan just once", m->piece);
    size_t before = (size_t)(at - sound), size = sizeof sound + strlen(m->with) + 1;
    char *text = malloc(size);
    ck_assert_ptr_nonnull(text);
    snprintf(text, size, "%.*s%s%s", (int)before, sound, m->with, at + strlen(m->piece));
    char *mark = strchr(text, '@');
    *line = *column = 0;
    if (!mark) return text;
    *line = *column = 1;
    for (char *p = text; p < mark; p++) {
        if (*p == '\n') {
            ++*line;
            *column = 1;
        } else if (((unsigned char)*p & 0xC0) != 0x80) {
            ++*column;
        }
    }
    memmove(mark, mark + 1, strlen(mark));
    return text;
}

START_TEST(every_mistake_is_told_in_its_place)
{
    const mistake *m = &mistakes[_i];
    int line, column;
    char *text = broken(m, &line, &column);
    bk_status status = parse(text);
    free(text);
    if (status == BK_OK || errors->n == 0) ck_abort_msg("\"%s\" was read", m->with);
    ck_assert_ptr_null(plan);
    bool told = false;
    for (size_t i = 0; i < errors->n; i++) {
        const bk_message *e = &errors->at[i];
        ck_assert_str_eq(e->place.file, "plan.yaml");
        ck_assert_int_gt(e->place.line, 0);
        ck_assert_int_gt(e->place.column, 0);
        bool here = !line || (e->place.line == line && e->place.column == column);
        told |= here && e->status == m->status && strstr(e->text, m->says ? m->says : "");
    }
    if (!told) {
        print_errors();
        ck_abort_msg("want BK-%d at %d:%d with \"%s\" for \"%s\"", (int)m->status, line, column,
                     m->says ? m->says : "", m->with);
    }
}
END_TEST

/* Places that a mark cannot show: the thing is missing, or the mistake is in how two lines fit. */
START_TEST(messages_carry_path_and_nearest_word)
{
    static const char text[] = "becket: 1\nbodies:\n  load:\n    maas: 3 t\n";
    ck_assert_int_ne(parse(text), BK_OK);
    ck_assert_uint_eq(errors->n, 2);
    char *one = bk_message_print(&errors->at[0]), *two = bk_message_print(&errors->at[1]);
    ck_assert_str_eq(one, "plan.yaml:3:3: BK-202 bodies.load: \"cog\" is missing (or \"made_of\"): centre of "
                          "gravity in its own axes, with tolerance");
    /* the mass is not missing as well: it is what was meant */
    ck_assert_str_eq(
        two, "plan.yaml:4:5: BK-201 bodies.load: unknown key \"maas\" in a body; nearest is \"mass\"");
    free(one);
    free(two);
}
END_TEST

START_TEST(all_mistakes_of_a_file_in_one_run)
{
    static const char text[] = "becket: 3\n"
                               "units: metric\n"
                               "bodies:\n"
                               "  load: {mass: -1 t, cog: 0 0 m, points: {a: 0 0 1 m}}\n"
                               "anchors:\n"
                               "  hook: {at: 0 0 4}\n"
                               "lines:\n"
                               "  one: {from: hock, to: load.b, hich: straight}\n"
                               "hoists:\n"
                               "  main: {rated: 2 ton}\n";
    static const struct {
        int line, column;
        bk_status status;
    } want[] = {{1, 9, BK_E_VERSION},    {2, 8, BK_E_WORD},         {4, 16, BK_E_VALUE},
                {4, 27, BK_E_VECTOR},    {6, 14, BK_E_NO_UNIT},     {8, 15, BK_E_REFERENCE},
                {8, 25, BK_E_REFERENCE}, {8, 33, BK_E_UNKNOWN_KEY}, {10, 17, BK_E_TON}};
    parse(text);
    if (errors->n != sizeof want / sizeof *want) print_errors();
    ck_assert_uint_eq(errors->n, sizeof want / sizeof *want);
    for (size_t i = 0; i < errors->n; i++) {
        ck_assert_int_eq(errors->at[i].place.line, want[i].line);
        ck_assert_int_eq(errors->at[i].place.column, want[i].column);
        ck_assert_int_eq(errors->at[i].status, want[i].status);
    }
}
END_TEST

START_TEST(a_key_given_twice_hides_no_other_mistake)
{
    static const char text[] = "becket: 1\n"
                               "bodies:\n"
                               "  load: {mass: 1 t, cog: 0 0 1 m, mass: 2 t}\n"
                               "rings:\n"
                               "  top: {at: 0 0 3}\n";
    ck_assert_int_eq(parse(text), BK_E_DUPLICATE);
    ck_assert_ptr_null(plan);
    ck_assert_uint_eq(errors->n, 2);
    ck_assert_int_eq(errors->at[0].status, BK_E_DUPLICATE);
    ck_assert_int_eq(errors->at[0].place.column, 35);
    ck_assert_int_eq(errors->at[1].status, BK_E_NO_UNIT);
}
END_TEST

/* One slip, one message: what cannot be known because of it is not complained of. */
START_TEST(no_mistake_draws_another)
{
    static const char *const texts[] = {
        "becket: 1\nbody:\n  load: {mass: 1 t, cog: 0 0 1 m, points: {a: 0 0 1 m}}\nanchors: {h: {at: 0 0 3 "
        "m}}\nlines: {l: {from: h, to: load.a}}\n",
        "becket: 1\nbodies:\n  load: 3 t\nanchors: {h: {at: 0 0 3 m}}\nlines: {l: {from: h, to: load.a}}\n",
        "becket: 1\nbodies:\n  load: {mass: 1 t, cog: 0 0 1 m, point: {a: 0 0 1 m}}\nanchors: {h: {at: 0 0 3 "
        "m}}\nlines: {l: {from: h, to: load.a}}\n",
        "becket: 1\nbodies:\n  load: {mass: 1 t, cog: 0 0 1 m, points: {a: 0 0 1 m}}\nanchors: {h: {at: 0 0 "
        "3}}\nlines: {l: {from: h, to: load.a}}\n",
        "becket: 1\nbodies:\n  load: {mass: 1 t, cog: 0 0 1 m, points: {a: 0 0 1 m}}\nanchors: {h: {at: 0 0 "
        "3 m}}\nlines: {l: {from: h, to: load.a, hoist: m}}\nhoist: {m: {rated: 1 t}}\n",
        "becket: 1\nbodies:\n  load: {mass: 1 t, cog: 0 0 1 m, points: {a: 0 0 1 m}}\nanchors: {h: {at: 0 0 "
        "3 m}}\nlines: {l: {from: h, to: load.a, part: {wll: 1, stretch_at_wll: 1 %}}}\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        ck_assert_int_ne(parse(texts[i]), BK_OK);
        if (errors->n != 1) print_errors();
        ck_assert_uint_eq(errors->n, 1);
        bk_errors_free(errors);
        errors = bk_errors_new();
    }
}
END_TEST

START_TEST(what_is_no_plan)
{
    static const char *const texts[] = {"",
                                        "- a\n- b\n",
                                        "plan",
                                        "becket: 1\n",
                                        "becket: 1\nbodies: []\n",
                                        "becket: 1\nbodies:\n",
                                        "becket: 1\nbodies: {a: 3}\n",
                                        "{"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        ck_assert_int_ne(parse(texts[i]), BK_OK);
        ck_assert_ptr_null(plan);
        ck_assert_uint_gt(errors->n, 0);
        bk_errors_free(errors);
        errors = bk_errors_new();
    }
    ck_assert_int_eq(bk_plan_read("/nonexistent/plan.yaml", tables, &plan, errors), BK_E_READ);
    ck_assert_int_ne(bk_plan_parse("x", "becket: 1\n", 10, tables, &plan, NULL),
                     BK_OK); /* no list of errors */
}
END_TEST

START_TEST(one_name_for_two_things)
{
    static const char text[] = "becket: 1\n"
                               "bodies:\n"
                               "  load: {mass: 1 t, cog: 0 0 1 m, points: {a: 0 0 1 m}}\n"
                               "rings:\n"
                               "  top: {at: 0 0 3 m}\n"
                               "anchors:\n"
                               "  top: {at: 0 0 4 m}\n"
                               "lines:\n"
                               "  one: {from: top, to: load.a}\n";
    ck_assert_int_eq(parse(text), BK_E_AMBIGUOUS);
    ck_assert_uint_eq(errors->n, 2);
    ck_assert_int_eq(errors->at[0].place.line, 7);
    ck_assert_int_eq(errors->at[0].place.column, 3);
    ck_assert_int_eq(errors->at[1].place.line, 9);
    ck_assert_int_eq(errors->at[1].place.column, 15);
    ck_assert_ptr_nonnull(strstr(errors->at[1].text, "a ring and an anchor"));
}
END_TEST

START_TEST(names_may_be_any_printable_text)
{
    char text[2000], name[300];
    memset(name, 'n', sizeof name);
    name[200] = 0;
    snprintf(text, sizeof text,
             "becket: 1\nbodies:\n  '%s': {mass: 1 t, cog: 0 0 1 m}\n  '<b>مضخة &amp;</b>': {mass: 1 t, cog: "
             "0 0 1 m}\n",
             name);
    ck_assert_int_eq(parse(text), BK_OK);
    ck_assert_uint_eq(strlen(plan->bodies[0].name), 200);
    bk_plan_free(plan);
    name[200] = 'n';
    name[201] = 0;
    snprintf(text, sizeof text, "becket: 1\nbodies:\n  '%s': {mass: 1 t, cog: 0 0 1 m}\n", name);
    ck_assert_int_eq(parse(text), BK_E_VALUE);
    ck_assert_int_eq(parse("becket: 1\nbodies:\n  \"a\\e[31m\": {mass: 1 t, cog: 0 0 1 m}\n"), BK_E_ENCODING);
    ck_assert_int_eq(parse("becket: 1\nbodies:\n  \"a\\tb\": {mass: 1 t, cog: 0 0 1 m}\n"), BK_E_VALUE);
    ck_assert_int_eq(parse("becket: 1\nbodies:\n  ' a': {mass: 1 t, cog: 0 0 1 m}\n"), BK_E_VALUE);
    for (size_t i = 0; i < errors->n; i++)
        ck_assert_ptr_null(strchr(errors->at[i].text, 27));
}
END_TEST

START_TEST(an_alias_with_a_mistake_is_told_once)
{
    static const char text[] = "becket: 1\n"
                               "bodies:\n"
                               "  load: {mass: 1 t, cog: 0 0 1 m, points: {a: &p 0 0 1, b: *p, c: *p}}\n";
    ck_assert_int_eq(parse(text), BK_E_NO_UNIT);
    ck_assert_uint_eq(errors->n, 1);
}
END_TEST

/* ---- take-off ----------------------------------------------------------------------------------- */

/* Handbook geometry: a tube is the difference of two cylinders, a cone has a third of its cylinder's volume
 * and its centroid a quarter of the height above the base. */
START_TEST(take_off_sums_shapes)
{
    static const char text[] =
        "becket: 1\n"
        "bodies:\n"
        "  load:\n"
        "    made_of:\n"
        "      - {shape: box, name: base, size: 2 1 0.5 m, density: 1000 kg/m3, at: 1 0 0.25 m}\n"
        "      - {shape: tube, diameter: 0.4 m, wall: 0.05 m, length: 3 m, axis: x, density: 8000 kg/m3, at: "
        "1 0 1 m}\n"
        "      - {shape: cone, diameter: 1 m, height: 1.2 m, axis: z, density: 500 kg/m3, at: 0 0 2 m}\n"
        "      - {shape: cylinder, diameter: 0.2 m, length: 0.5 m, density: 1000 kg/m3, at: 1 0 0.25 m, "
        "hole: yes}\n"
        "      - {shape: mass, mass: 40 kg ± 5 kg, at: 3 1 0 m ± 0.1 m, count: 2}\n"
        "      - {shape: sphere, diameter: 0.5 m, material: steel, at: 0 0 0 m}\n"
        "      - {shape: section, section: ipe/300, material: steel, length: 2 m, at: 0 1 0 m}\n";
    bk_status status = parse(text);
    print_errors();
    ck_assert_int_eq(status, BK_OK);
    const bk_shape *s = plan->shapes;
    ck_assert_uint_eq(plan->n_shapes, 7);
    CLOSE(s[0].mass_kg.v, 1000);
    ck_assert_str_eq(s[0].name, "base");
    CLOSE(s[1].mass_kg.v, 8000 * 3 * (BK_PI / 4) * (0.16 - 0.09));
    CLOSE(s[2].mass_kg.v, 500 * 1.2 / 3 * (BK_PI / 4));
    CLOSE(s[2].cog_m.z, 2.3);
    CLOSE(s[3].mass_kg.v, -1000 * 0.5 * (BK_PI / 4) * 0.04);
    CLOSE(s[4].mass_kg.v, 80);
    CLOSE(s[4].mass_kg.tol, 10);
    CLOSE(s[5].mass_kg.v, 7850 * 4.0 / 3 * BK_PI * 0.25 * 0.25 * 0.25);
    ck_assert_str_eq(s[5].material, "steel");
    /* EN 10365 prints 42.2 kg/m for this shape */
    ck_assert_double_eq_tol(s[6].mass_kg.v / 2, 42.2, 0.05);
    double mass = 0, x = 0;
    for (size_t i = 0; i < 7; i++) {
        mass += s[i].mass_kg.v;
        x += s[i].mass_kg.v * s[i].cog_m.x;
    }
    CLOSE(plan->bodies[0].mass_kg.v, mass);
    CLOSE(plan->bodies[0].mass_kg.tol, 10);
    CLOSE(plan->bodies[0].cog_m.v.x, x / mass);
    /* 10 kg of doubt at 3 m, and 0.1 m of doubt of 80 kg */
    CLOSE(plan->bodies[0].cog_m.tol.x, 10 / mass * (3 - x / mass) + 0.1 * 80 / mass);
    ck_assert(isnan(plan->bodies[0].stated_mass_kg.v));
}
END_TEST

START_TEST(take_off_beside_a_stated_mass)
{
    static const char form[] = "becket: 1\nbodies:\n  load: {mass: %s, made_of: [{shape: box, size: 1 1 1 m, "
                               "density: 1000 kg/m3 ± 2 %%, at: 0 0 0 m}]}\n";
    char text[400];
    snprintf(text, sizeof text, form, "1.04 t ± 3 %");
    ck_assert_int_eq(parse(text), BK_OK);
    CLOSE(plan->bodies[0].mass_kg.v, 1040);
    CLOSE(plan->bodies[0].stated_mass_kg.v, 1040);
    CLOSE(plan->shapes[0].mass_kg.tol, 20);
    ck_assert_uint_eq(plan->n_notes, 0);
    bk_plan_free(plan);
    snprintf(text, sizeof text, form, "1.2 t");
    ck_assert_int_eq(parse(text), BK_OK);
    ck_assert_uint_eq(plan->n_notes, 1);
    ck_assert_ptr_nonnull(strstr(plan->notes[0], "differ"));
}
END_TEST

START_TEST(take_off_mistakes)
{
    static const struct {
        const char *shape;
        int column; /* 0: anywhere in the line */
        bk_status status;
        const char *says;
    } wrong[] = {
        {"{shape: ball, diameter: 1 m}", 13, BK_E_WORD, "box"},
        {"{diameter: 1 m, at: 0 0 0 m}", 5, BK_E_MISSING_KEY, "\"shape\""},
        {"{shape: sphere, density: 1 kg/m3, at: 0 0 0 m}", 5, BK_E_MISSING_KEY, "\"diameter\""},
        {"{shape: sphere, diameter: 1 m, wall: 1 mm, density: 1 kg/m3, at: 0 0 0 m}", 36, BK_E_UNKNOWN_KEY,
         "no \"wall\""},
        {"{shape: sphere, diameter: 1 m, axis: x, density: 1 kg/m3, at: 0 0 0 m}", 36, BK_E_UNKNOWN_KEY,
         "no \"axis\""},
        {"{shape: sphere, diameter: 1 m, at: 0 0 0 m}", 5, BK_E_MISSING_KEY, "\"material\""},
        {"{shape: sphere, diameter: 1 m, density: 1 kg/m3}", 5, BK_E_MISSING_KEY, "\"at\""},
        {"{shape: sphere, diameter: 1 m, material: stel, at: 0 0 0 m}", 46, BK_E_ROW, "steel"},
        {"{shape: sphere, diameter: 1 m, material: steel, density: 1 kg/m3, at: 0 0 0 m}", 0, BK_E_VALUE,
         "not both"},
        {"{shape: box, size: 1 -1 1 m, density: 1 kg/m3, at: 0 0 0 m}", 24, BK_E_VALUE, "above 0"},
        {"{shape: tube, diameter: 1 m, wall: 0.6 m, length: 1 m, density: 1 kg/m3, at: 0 0 0 m}", 40,
         BK_E_VALUE, "thicker"},
        {"{shape: mass, mass: 1 kg, hole: yes, at: 0 0 0 m}", 0, BK_E_VALUE, "no mass left"},
        {"{shape: section, section: inp/300, length: 1 m, at: 0 0 0 m}", 0, BK_E_MISSING_KEY, "\"material\""},
        {"3 kg", 5, BK_E_KIND, "a map"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        char text[400];
        snprintf(text, sizeof text, "becket: 1\nbodies:\n load:\n  made_of:\n  - %s\n", wrong[i].shape);
        if (parse(text) == BK_OK) ck_abort_msg("%s was read", wrong[i].shape);
        bool told = false;
        for (size_t k = 0; k < errors->n; k++) {
            const bk_message *e = &errors->at[k];
            told |= e->status == wrong[i].status && strstr(e->text, wrong[i].says) &&
                    (!wrong[i].column || (e->place.line == 5 && e->place.column == wrong[i].column));
        }
        if (!told) {
            print_errors();
            ck_abort_msg("want \"%s\" for %s", wrong[i].says, wrong[i].shape);
        }
        bk_errors_free(errors);
        errors = bk_errors_new();
    }
}
END_TEST

/* ---- defaults ----------------------------------------------------------------------------------- */

START_TEST(what_a_bare_plan_means)
{
    static const char text[] = "becket: 1\n"
                               "bodies:\n"
                               "  load: {mass: 1 t, cog: 0 0 0.5 m, points: {a: 0 0 1 m}}\n"
                               "anchors:\n"
                               "  hook: {at: 0 0 4 m}\n"
                               "lines:\n"
                               "  one: {from: hook, to: load.a}\n"
                               "hoists:\n"
                               "  main: {rated: 2 t}\n";
    bk_status status = parse(text);
    print_errors();
    ck_assert_int_eq(status, BK_OK);
    ck_assert_str_eq(plan->title, "");
    ck_assert_str_eq(plan->rules->name, "en");
    ck_assert_int_eq(plan->units, BK_SI);
    ck_assert(isnan(plan->dynamic_factor.v) && isnan(plan->temperature_K));
    CLOSE(plan->rigging_factor, 1);
    CLOSE(plan->bodies[0].mass_kg.tol, 0);
    ck_assert(!plan->bodies[0].mass_tol_assumed && plan->bodies[0].mass_by == BK_BY_NOTHING);
    ck_assert(isnan(plan->bodies[0].tilt_limit_rad) && isnan(plan->bodies[0].ei_y_Nm2));
    CLOSE(plan->bodies[0].at_m.z, 0);
    CLOSE(plan->lines[0].length_m.v, 3);
    /* nothing is known of the line: the weight of the plan stretches it 0.1 % */
    CLOSE(plan->lines[0].ea_N, 1000 * 1000 * G);
    ck_assert(plan->lines[0].ea_assumed);
    ck_assert_uint_eq(plan->n_notes, 1);
    ck_assert_uint_eq(plan->lines[0].hoist, BK_NONE);
    CLOSE(plan->hoists[0].falls, 1);
    ck_assert_int_eq(plan->hoists[0].limiter, BK_LIMITER_NONE);
    ck_assert(isnan(plan->hoists[0].limiter_at) && isnan(plan->hoists[0].speed_m_s) &&
              !plan->hoists[0].duty.given);
    ck_assert_ptr_null(plan->hoists[0].group);
}
END_TEST

/* A row's own figures stay the row's, whatever work it does here; a word that changes what it is rated by is a change. */
START_TEST(a_row_that_is_changed_is_said)
{
    static const char text[] = "becket: 1\n"
                               "bodies: {load: {mass: 1 t, cog: 0 0 0 m, points: {a: 0 0 1 m}}}\n"
                               "anchors: {hook: {at: 0 0 4 m}}\n"
                               "lines: {l: {from: hook, to: load.a, parts: [{part: chain-en818-4/10, material: polyester}]}}\n"
                               "hoists: {a: {part: hoist-demo/2t, level: ± 5 mm, duty: {cycles_per_hour: 12}},\n"
                               "         b: {part: hoist-demo/2t, chain_grade: T}}\n";
    bk_status status = parse(text);
    print_errors();
    ck_assert_int_eq(status, BK_OK);
    ck_assert_ptr_null(strstr(plan->hoists[0].source, "changed"));
    ck_assert_ptr_nonnull(strstr(plan->hoists[1].source, "changed in the plan"));
    ck_assert_ptr_nonnull(strstr(plan->parts[plan->lines[0].first_part].source, "changed in the plan"));
    ck_assert_int_ge(plan->parts[plan->lines[0].first_part].mark, BK_MARK_USER); /* the least sure of row and plan */
}
END_TEST

/* ---- lists of keys ------------------------------------------------------------------------------ */

START_TEST(lists_of_keys_are_whole)
{
    static const char *const promised[] = {"becket",  "title", "rules",  "units",   "bodies", "rings",
                                              "anchors", "lines", "hoists", "runways", "dynamic"};
    ck_assert_str_eq(bk_plan_keys_at(0)->name, "plan");
    for (size_t i = 0; i < sizeof promised / sizeof *promised; i++) {
        bool there = false;
        for (size_t k = 0; k < bk_plan_keys("plan")->n; k++)
            there |= !strcmp(bk_plan_keys("plan")->keys[k].name, promised[i]);
        ck_assert_msg(there, "%s", promised[i]);
    }
    ck_assert_ptr_null(bk_plan_keys("nothing"));
    for (size_t m = 0; bk_plan_keys_at(m); m++) {
        const bk_key_map *map = bk_plan_keys_at(m);
        ck_assert_ptr_eq(bk_plan_keys(map->name), map);
        ck_assert(*map->about);
        for (size_t i = 0; i < map->n; i++) {
            const bk_key *key = &map->keys[i];
            ck_assert_msg(*key->about, "%s.%s", map->name, key->name);
            ck_assert_msg(!key->map || bk_plan_keys(key->map), "%s.%s", map->name, key->name);
            ck_assert_msg(key->kind != BK_KEY_WORD || key->words, "%s.%s", map->name, key->name);
            ck_assert_msg((key->kind != BK_KEY_MAP && key->kind != BK_KEY_NAMED) || key->map, "%s.%s",
                          map->name, key->name);
            for (size_t k = 0; k < i; k++)
                ck_assert_str_ne(key->name, map->keys[k].name);
        }
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan");
    TCase *tc = tcase_create("plan");
    tcase_add_checked_fixture(tc, set_up, tear_down);
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, a_sound_plan_is_read_in_si);
    tcase_add_loop_test(tc, every_mistake_is_told_in_its_place, 0, (int)(sizeof mistakes / sizeof *mistakes));
    tcase_add_test(tc, messages_carry_path_and_nearest_word);
    tcase_add_test(tc, all_mistakes_of_a_file_in_one_run);
    tcase_add_test(tc, a_key_given_twice_hides_no_other_mistake);
    tcase_add_test(tc, no_mistake_draws_another);
    tcase_add_test(tc, what_is_no_plan);
    tcase_add_test(tc, one_name_for_two_things);
    tcase_add_test(tc, names_may_be_any_printable_text);
    tcase_add_test(tc, an_alias_with_a_mistake_is_told_once);
    tcase_add_test(tc, take_off_sums_shapes);
    tcase_add_test(tc, take_off_beside_a_stated_mass);
    tcase_add_test(tc, take_off_mistakes);
    tcase_add_test(tc, what_a_bare_plan_means);
    tcase_add_test(tc, a_row_that_is_changed_is_said);
    tcase_add_test(tc, lists_of_keys_are_whole);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed != 0;
}
