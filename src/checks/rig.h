/* What the checks of the rig share: rules with their marks, the capacity of a part, groups of legs. */
#ifndef BK_CHECKS_RIG_H
#define BK_CHECKS_RIG_H

#include "list.h"

/* A rule's value; *mark sinks to the rule's own if that is less sure.  NaN when the set lacks it, or has no number of
 * that dimension. */
double bk_rig_rule(const bk_check_input *in, const char *name, bk_dim dim, bk_mark *mark, const char **source);
/* NULL when the set lacks them, or has them of another quantity. */
const bk_bands *bk_rig_bands(const bk_check_input *in, const char *name, bk_dim dim);
/* The less sure of two marks. */
bk_mark bk_rig_less_sure(bk_mark a, bk_mark b);

/* The force a line's parts must be good for: worst static tension at its upper end, times what is above
 * a hoist's hook.  where: the case that gives it, NULL as drawn. */
typedef struct bk_rig_pull {
    double nominal_N, worst_N;
    const char *where;
} bk_rig_pull;
/* Factor on the worst static pull of a line and of what it meets: above a hoist's hook its dynamic factor, and at least
 * the plan's own factor for rigging.  Anchors are above the rigging: they take in->line_dynamic alone. */
double bk_rig_dynamic(const bk_check_input *in, size_t line);
/* Larger of the dynamic and the stalled case of a pull that hangs on these lines' hoists. */
double bk_rig_above(double nominal_N, double worst_N, double dynamic, double stalled);
bk_rig_pull bk_rig_line_pull(const bk_check_input *in, size_t line);

/* What a part of a line is good for. */
typedef struct bk_rig_capacity {
    double tag_N;         /* rating of the tag for the hitch, with temperature, edge, people, ... ; NaN unknown */
    double choker_N;      /* tag_N with the choke angle; NaN unless a sling in a choker */
    double bend_N;        /* tag_N with the bend; NaN unless the bend is known and has a factor */
    bk_mark mark;
} bk_rig_capacity;
bk_rig_capacity bk_rig_part_capacity(const bk_check_input *in, bk_findings *out, const bk_line *line,
                                     const bk_part *part, bk_working *w);
/* The same for a part that hangs in no line (ring, anchor, point): straight pull. */
bk_rig_capacity bk_rig_piece_capacity(const bk_check_input *in, bk_findings *out, const char *item,
                                      const bk_part *part, bk_working *w);
/* The least tag rating of a line's parts, NaN when one is unknown; *part is the part that has it, NULL for none. */
double bk_rig_line_capacity(const bk_check_input *in, bk_findings *out, size_t line, const bk_part **part,
                            bk_mark *mark);
/* What may be used of the rated capacity of a hoist, or of the tag of a beam that others hang from, with people below and in a
 * critical lift; recorded in w as F_limit. */
double bk_rig_usable(const bk_check_input *in, double rated_N, const char *source, bk_mark *mark, bk_working *w);
/* How much heavier than drawn the load can be: 1 and the greatest share of tolerance of what hangs from the body, itself
 * in, through whatever spreaders and rings.  1 where the tolerances are left out. */
double bk_rig_heavier(const bk_check_input *in, bk_findings *out, size_t body);
/* Does the hitch act on it?  Everything but the fittings that the trade names: what a plan leaves unnamed in a choker is
 * taken as the sling. */
bool bk_rig_is_sling(const bk_part *part);

/* Legs that hang from one upper ring or anchor to points of one body. */
typedef struct bk_rig_group {
    bk_end upper;
    size_t body;
    const size_t *lines; /* n of them */
    size_t n;
    const char *name;    /* of the upper end */
} bk_rig_group;
bk_status bk_rig_groups(const bk_check_input *in, bk_arena *arena, bk_rig_group **groups, size_t *n);
/* What each line pulls where a stiff load counts on fewer legs than it has (N, n_lines; 0 where none is counted so): whatever
 * else is in that line's way sees it too. */
bk_status bk_rig_counted_pulls(const bk_check_input *in, bk_arena *arena, double *pull_N);
/* Upper and lower end of a line as the rig hangs. */
bk_end bk_rig_upper_end(const bk_check_input *in, size_t line);
bk_end bk_rig_lower_end(const bk_check_input *in, size_t line);
bool bk_rig_same_end(bk_end a, bk_end b);
/* How much further than drawn the line may hang off the vertical within the tolerances (rad). */
double bk_rig_leans(const bk_check_input *in, size_t line);
/* Force of the line on that end (N, world). */
bk_vec3 bk_rig_pull_on(const bk_check_input *in, size_t line, bk_end end);

#endif
