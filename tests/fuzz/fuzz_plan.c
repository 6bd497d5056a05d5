/* Any bytes: a plan whose every index and number is sound, or a refusal with a place and one line.  Tables
 * come from the directory in BECKET_TABLES (tests/fuzz/tables).  Run by fuzz.sh; the corpus is replayed by
 * `meson test`. */
#include <becket/plan.h>

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool condition)
{
    if (!condition) abort();
}

static bool sound(double v)
{
    return isfinite(v) && fabs(v) < 1e31;
}

static bool sound_place(bk_vec3 v)
{
    return sound(v.x) && sound(v.y) && sound(v.z);
}

static bool in(size_t first, size_t n, size_t all)
{
    return first <= all && n <= all - first;
}

static void check_rig(const bk_plan *p)
{
    for (size_t i = 0; i < p->n_bodies; i++) {
        const bk_body *b = &p->bodies[i];
        must(b->name && b->name[0] && b->mass_kg.v > 0 && sound(b->mass_kg.v) && b->mass_kg.tol >= 0);
        must(sound_place(b->cog_m.v) && sound_place(b->cog_m.tol) && sound_place(b->at_m));
        must(in(b->first_point, b->n_points, p->n_points) && in(b->first_shape, b->n_shapes, p->n_shapes));
        if (b->has_steel)
            must(b->steel.section < p->n_sections && b->steel.steel < p->n_steels &&
                 b->steel.from < p->n_points && b->steel.to < p->n_points && b->steel.from != b->steel.to);
    }
    for (size_t i = 0; i < p->n_points; i++)
        must(p->points[i].body < p->n_bodies && sound_place(p->points[i].at_m) &&
             in(p->points[i].first_part, p->points[i].n_parts, p->n_parts));
    for (size_t i = 0; i < p->n_rings; i++)
        must(sound_place(p->rings[i].at_m) && p->rings[i].mass_kg >= 0 && p->rings[i].n_parts <= 1);
    for (size_t i = 0; i < p->n_anchors; i++) {
        const bk_anchor *a = &p->anchors[i];
        must(sound_place(a->at_m.v) && (a->trolley == BK_NONE) == (a->runway == BK_NONE));
        must(a->trolley == BK_NONE || (a->trolley < p->n_trolleys && a->runway < p->n_runways));
    }
    for (size_t i = 0; i < p->n_lines; i++) {
        const bk_line *l = &p->lines[i];
        must(sound_place(bk_plan_end_at(p, l->from)) && sound_place(bk_plan_end_at(p, l->to)));
        must(bk_plan_end_name(p, l->from) && bk_plan_end_name(p, l->to));
        must(l->length_m.v > 0 && sound(l->length_m.v) && l->length_m.tol >= 0);
        must(l->ea_N > 0 && sound(l->ea_N) && l->ea_by);
        must(l->mass_kg >= 0 && l->from_mass_kg >= 0 && l->to_mass_kg >= 0 &&
             sound(l->mass_kg + l->from_mass_kg + l->to_mass_kg));
        must(in(l->first_part, l->n_parts, p->n_parts) && (l->hoist == BK_NONE || l->hoist < p->n_hoists));
    }
    for (size_t i = 0; i < p->n_parts; i++)
        must(p->parts[i].what && p->parts[i].source);
}

static void check_machines(const bk_plan *p)
{
    for (size_t i = 0; i < p->n_hoists; i++) {
        const bk_hoist *h = &p->hoists[i];
        must(h->rated_N > 0 && h->falls >= 1 && h->self_mass_kg >= 0 && h->hook_mass_kg >= 0);
        must(in(h->duty.first_load, h->duty.n_loads, p->n_duty_loads) &&
             in(h->duty.first_meter, h->duty.n_meters, p->n_meters));
    }
    for (size_t i = 0; i < p->n_meters; i++)
        must(in(p->meters[i].first_load, p->meters[i].n_loads, p->n_duty_loads));
    for (size_t i = 0; i < p->n_runways; i++) {
        const bk_runway *r = &p->runways[i];
        must(r->section < p->n_sections && (r->steel == BK_NONE || r->steel < p->n_steels) &&
             r->to_m > r->from_m);
        must(r->n_supports >= 1 && in(r->first_support, r->n_supports, p->n_supports));
        for (size_t k = 0; k < r->n_supports; k++) {
            const bk_support *s = &p->supports[r->first_support + k];
            must(sound(s->at_m) && s->count >= 1 && (k == 0 || s->at_m > s[-1].at_m));
        }
        must(in(r->first_trolley, r->n_trolleys, p->n_trolleys) &&
             in(r->first_load, r->n_loads, p->n_standing));
        for (size_t k = 0; k < r->n_trolleys; k++) {
            const bk_trolley *t = &p->trolleys[r->first_trolley + k];
            must(t->to_m >= t->from_m && (t->hoist == BK_NONE || t->hoist < p->n_hoists) && t->mass_kg >= 0);
        }
    }
    for (size_t i = 0; i < p->n_sections; i++)
        must(p->sections[i].h_m > 2 * p->sections[i].tf_m);
    for (size_t i = 0; i < p->n_steels; i++)
        must(p->steels[i].n >= 1 && p->steels[i].n <= BK_STEEL_STEPS_MAX && p->steels[i].fy_Pa[0] > 0);
}

static bk_tables *tables; /* read once, as a program does */

static void free_tables(void)
{
    bk_tables_free(tables);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *dirs[] = {getenv("BECKET_TABLES")};
    must(dirs[0] != NULL);
    if (!tables) {
        tables = bk_tables_new(dirs, 1, 0);
        must(atexit(free_tables) == 0);
    }
    bk_errors *errors = bk_errors_new();
    must(tables && errors);
    bk_plan *plan = NULL;
    bk_status status = bk_plan_parse("f", (const char *)data, size, tables, &plan, errors);
    must((status == BK_OK) == (plan != NULL) && (status == BK_OK) == (errors->n == 0));
    if (plan) {
        check_rig(plan);
        check_machines(plan);
    }
    for (size_t i = 0; i < errors->n; i++) {
        char *line = bk_message_print(&errors->at[i]);
        must(line && errors->at[i].place.file && !strchr(line, '\n') && !strchr(line, '\x1b'));
        free(line);
    }
    bk_plan_free(plan);
    bk_errors_free(errors);
    return 0;
}
