/* Bytes as choices: each input is a sound plan of bodies, rings, anchors, lines, hoists and runways, so that every
 * execution reaches the solver and the checks.  BECKET_SHOW=1 prints the plan, then what was found. */
#include <limits.h>
#include <stdarg.h>

#include "whole_check.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

typedef struct source {
    const uint8_t *at, *end;
} source;

static unsigned byte(source *s)
{
    return s->at < s->end ? *s->at++ : 0;
}

static unsigned below(source *s, unsigned n)
{
    return byte(s) % n;
}

/* low..high, on a scale of ratios where `ratio` */
static double between(source *s, double low, double high, bool ratio)
{
    const unsigned high_byte = byte(s);
    const double share = (double)(high_byte << 8 | byte(s)) / 65535;
    return ratio ? low * pow(high / low, share) : low + share * (high - low);
}

typedef struct page {
    char text[60000];
    size_t n;
} page;

static void put(page *p, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void put(page *p, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    p->n += (size_t)vsnprintf(p->text + p->n, sizeof p->text - p->n, format, args);
    va_end(args);
    MUST(p->n < sizeof p->text);
}

#define POINTS 4
typedef struct rig {
    unsigned n_bodies, n_rings, n_anchors, n_hoists, n_runways;
    unsigned n_points[8];
    bk_vec3 body[8], point[8][POINTS], ring[8], anchor[8];
    double scale_m, mass_kg;
    unsigned tolerances; /* left to give: each costs more solves than the one before */
} rig;

/* A tolerance now and then. */
static const char *more_or_less(source *s, rig *r, unsigned seldom, const char *tolerance)
{
    if (below(s, seldom) || r->tolerances == 0) return "";
    r->tolerances--;
    return tolerance;
}

static bk_vec3 place(source *s, double size_m)
{
    return bk_vec3_of(between(s, -size_m, size_m, false), between(s, -size_m, size_m, false), between(s, -size_m, size_m, false));
}

static void put_bodies(page *p, source *s, rig *r)
{
    put(p, "bodies:\n");
    for (unsigned i = 0; i < r->n_bodies; i++) {
        r->body[i] = place(s, 2 * r->scale_m);
        r->body[i].z -= 2 * r->scale_m * i;
        const double own = r->scale_m * between(s, 0.05, 1, true);
        const bk_vec3 cog = place(s, own / 2);
        put(p, "  b%u:\n    mass: %.9g kg%s\n    cog: %.9g %.9g %.9g m%s\n    at: %.9g %.9g %.9g m\n    points:\n", i,
            r->mass_kg * between(s, 0.001, 1, true), more_or_less(s, r, 4, " ± 3 %"), cog.x, cog.y, cog.z - own / 2,
            more_or_less(s, r, 4, " ± 20 mm"), r->body[i].x, r->body[i].y, r->body[i].z);
        r->n_points[i] = 1 + below(s, POINTS);
        for (unsigned k = 0; k < r->n_points[i]; k++) {
            bk_vec3 at = place(s, own);
            if (below(s, 3)) at.z = own;
            r->point[i][k] = at;
            put(p, "      p%u: %.9g %.9g %.9g m\n", k, at.x, at.y, at.z);
        }
    }
}

static void put_places(page *p, source *s, rig *r)
{
    if (r->n_rings) put(p, "rings:\n");
    for (unsigned i = 0; i < r->n_rings; i++) {
        r->ring[i] = place(s, r->scale_m);
        r->ring[i].z += 3 * r->scale_m;
        put(p, "  r%u: {at: %.9g %.9g %.9g m, mass: %.9g kg}\n", i, r->ring[i].x, r->ring[i].y, r->ring[i].z,
            below(s, 2) ? 0 : r->mass_kg * between(s, 1e-6, 1e-2, true));
    }
    put(p, "anchors:\n");
    for (unsigned i = 0; i < r->n_anchors; i++) {
        r->anchor[i] = place(s, 2 * r->scale_m);
        r->anchor[i].z += 6 * r->scale_m;
        if (i == 0 && r->n_runways) put(p, "  a0: {on: y0.t0, at: %.9g %.9g %.9g m}\n", r->anchor[i].x, r->anchor[i].y, r->anchor[i].z);
        else put(p, "  a%u: {at: %.9g %.9g %.9g m%s}\n", i, r->anchor[i].x, r->anchor[i].y, r->anchor[i].z, below(s, 3) ? "" : ", limit: 40 kN");
    }
}

/* Nodes in the order in which they hang: anchors, rings, bodies. */
static bk_vec3 put_end(page *p, source *s, const rig *r, const char *key, unsigned node)
{
    if (node < r->n_anchors) {
        put(p, "%s: a%u, ", key, node);
        return r->anchor[node];
    }
    node -= r->n_anchors;
    if (node < r->n_rings) {
        put(p, "%s: r%u, ", key, node);
        return r->ring[node];
    }
    node -= r->n_rings;
    const unsigned k = below(s, r->n_points[node]);
    put(p, "%s: b%u.p%u, ", key, node, k);
    return bk_vec3_add(r->body[node], r->point[node][k]);
}

static void put_line(page *p, source *s, rig *r, unsigned i, unsigned upper, unsigned lower)
{
    static const char *const parts[] = {"chain-en818-4/10", "round-en1492-2/2t", "rope-en13414-1-fibre-core/12", "chain-us-grade80/3/8"};
    put(p, "  l%u: {", i);
    const bool turned = below(s, 4) == 3;
    const bk_vec3 a = put_end(p, s, r, turned ? "to" : "from", upper), b = put_end(p, s, r, turned ? "from" : "to", lower);
    const double drawn = bk_vec3_norm(bk_vec3_sub(b, a));
    /* mostly near the drawn distance, now and then far off it */
    const double share = below(s, 4) ? between(s, 0.98, 1.02, false) : between(s, 0.3, 3, true);
    put(p, "length: %.12g m%s", fmax(drawn * share, 1e-3 * r->scale_m), more_or_less(s, r, 5, " ± 0.1 %"));
    if (below(s, 3)) put(p, ", ea: %.9g N", 9.80665 * r->mass_kg * between(s, 10, 1e7, true));
    if (below(s, 2)) put(p, ", parts: [%s]", parts[below(s, sizeof parts / sizeof *parts)]);
    if (below(s, 4) == 1) put(p, ", mass: %.9g kg", r->mass_kg * between(s, 1e-5, 1e-2, true));
    if (below(s, 6) == 1) put(p, ", hitch: %s", below(s, 2) ? "choker" : "basket");
    if (r->n_hoists && below(s, 3) == 1) put(p, ", hoist: h%u", below(s, r->n_hoists));
    put(p, "}\n");
}

/* Each ring and body hangs by a few lines on one thing before it; then some lines between any two. */
static void put_lines(page *p, source *s, rig *r)
{
    const unsigned nodes = r->n_anchors + r->n_rings + r->n_bodies;
    unsigned n = 0;
    put(p, "lines:\n");
    for (unsigned node = r->n_anchors; node < nodes; node++) {
        const unsigned upper = below(s, 3) ? node - 1 : below(s, node);
        const bool body = node >= r->n_anchors + r->n_rings;
        for (unsigned k = body ? 1 + below(s, 4) : 1; k > 0; k--) put_line(p, s, r, n++, upper, node);
    }
    for (unsigned k = below(s, 4); k > 0; k--) {
        const unsigned lower = r->n_anchors + below(s, nodes - r->n_anchors);
        put_line(p, s, r, n++, below(s, lower), lower);
    }
}

static void put_hoists(page *p, source *s, const rig *r)
{
    static const char *const rows[] = {"hoist-demo/1t", "hoist-demo/2t", "hoist-demo/3.2t"};
    if (r->n_hoists) put(p, "hoists:\n");
    for (unsigned i = 0; i < r->n_hoists; i++) {
        put(p, "  h%u:\n    part: %s\n", i, rows[below(s, 3)]);
        if (below(s, 2))
            put(p, "    duty: {cycles_per_hour: %u, mean_lift: 3 m, hours_per_day: 8, days_per_year: 220, loads: [{of_rated: 100 %%, "
                   "time: %u %%}, {of_rated: 30 %%, time: %u %%}], in_service: %u years}\n",
                1 + below(s, 60), 40, 60, 1 + below(s, 30));
    }
}

static void put_runways(page *p, source *s, const rig *r)
{
    static const char *const shapes[] = {"ipe/300", "heb/200", "inp/300", "hea/160"};
    if (r->n_runways) put(p, "runways:\n");
    for (unsigned i = 0; i < r->n_runways; i++) {
        const unsigned spans = 1 + below(s, 6), trolleys = 1 + below(s, 3);
        double at = 0;
        put(p, "  y%u:\n    section: %s\n    steel: en10025-2/S275\n    supports: [0 m", i, shapes[below(s, 4)]);
        for (unsigned k = 0; k < spans; k++) put(p, ", %.9g m", at += between(s, 0.5, 12, true));
        const double over = between(s, 0, 1.5, false);
        put(p, "]\n    ends: [%.9g m, %.9g m]\n    trolleys:\n", -over, at + over);
        for (unsigned k = 0; k < trolleys; k++) {
            const double from = between(s, -over, at / 2, false), to = from + between(s, 0, at / 2, false);
            put(p, "      t%u: {travel: [%.9g m, %.9g m], wheels: %u, wheel_base: %.9g m, wheel_to_edge: 20 mm, mass: 45 kg, load: %.9g kN}\n",
                k, from, to, 2 * (1 + below(s, 2)), between(s, 0.05, 0.4, false), between(s, 0.1, 60, true));
        }
    }
}

static void make(page *p, source *s)
{
    rig r = {.scale_m = 1, .mass_kg = 1000};
    const unsigned first = byte(s);
    if (first < 8) r.tolerances = first ? 1 + first % 2 : UINT_MAX;
    if (first % 8 == 7) { /* a gram to ten thousand tonnes, a millimetre to a kilometre */
        r.scale_m = between(s, 1e-2, 1e3, true);
        r.mass_kg = between(s, 1e-2, 1e7, true);
    }
    const bool large = first / 8 % 8 == 3;
    r.n_bodies = 1 + below(s, large ? 5 : 2);
    r.n_rings = below(s, large ? 4 : 2);
    r.n_anchors = 1 + below(s, large ? 4 : 3);
    r.n_hoists = below(s, 3);
    r.n_runways = below(s, 6) == 5;
    put(p, "becket: 1\nrules: %s\nunits: %s\n", below(s, 4) ? "en" : "us", below(s, 4) ? "si" : "us");
    if (below(s, 8) == 1) put(p, "wind: {speed: %u m/s}\n", 1 + below(s, 30));
    if (below(s, 16) == 1) put(p, "lose_a_line: yes\n");
    put_bodies(p, s, &r);
    put_places(p, s, &r);
    put_lines(p, s, &r);
    put_hoists(p, s, &r);
    put_runways(p, s, &r);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static bk_tables *tables;
    static page p;
    const char *dirs[] = {getenv("BECKET_TABLES")};
    MUST(dirs[0]);
    if (!tables) tables = bk_tables_new(dirs, 1, 0);
    MUST(tables);
    source s = {data, data + size};
    p.n = 0;
    make(&p, &s);
    if (getenv("BECKET_SHOW")) fputs(p.text, stderr);
    bk_errors *errors = bk_errors_new();
    bk_plan *plan = NULL;
    const bk_status status = bk_plan_parse("f", p.text, p.n, tables, &plan, errors);
    for (size_t i = 0; i < errors->n && getenv("BECKET_SHOW"); i++) fprintf(stderr, "%s\n", errors->at[i].text);
    if (status == BK_OK) {
        const bk_status then = check_whole(plan, tables, size);
        if (getenv("BECKET_SHOW")) fprintf(stderr, "%s\n", bk_status_text(then));
    }
    bk_plan_free(plan);
    bk_errors_free(errors);
    return 0;
}
