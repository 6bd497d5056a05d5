/* draw_sheet: the drawing module: a sheet from its parts, then as bytes of the format asked for. */
#include "angle_picture.h"
#include "module.h"
#include "output.h"
#include "sections.h"

#include <stdlib.h>

extern const bk_sheet_module bk_sheet_drawing;

/* Opens paper of the size asked for; BK_OK or a message. */
static bk_status open_paper(bk_sheaf *paper, const bk_sheet_options *options, bk_errors *errors)
{
    const bool letter = options->paper == BK_PAPER_LETTER;
    if (options->own_process) bk_fonts_by_name();
    /* ISO 216 A4, 210 x 297 mm; ANSI A (Letter), 8.5 x 11 in */
    if (bk_sheaf_open(paper, letter ? 612 : 210 / 25.4 * 72, letter ? 792 : 297 / 25.4 * 72)) return BK_OK;
    const bool no_font = paper->fonts != NULL;
    bk_sheaf_close(paper);
    if (no_font)
        return bk_fail(errors, (bk_place){0}, BK_E_WRITE,
                       "no font is installed to draw with: install one (package fonts-dejavu-core)");
    return bk_fail(errors, (bk_place){0}, BK_E_NOMEM, "%s", bk_status_text(BK_E_NOMEM));
}

/* The pages as bytes; the paper is closed. */
static bk_status finish(bk_sheaf *paper, const bk_about *about, const bk_sheet_options *options, char **bytes,
                        size_t *n, bk_errors *errors)
{
    bk_bytes out = {0};
    const char *why = "";
    bool good = !paper->failed;
    if (good) {
        switch (options->format) {
        case BK_SHEET_PDF:
            good = bk_to_pdf(paper, about, &out, &why);
            break;
        case BK_SHEET_SVG:
            good = bk_to_svg(paper, about, &out, &why);
            break;
        case BK_SHEET_PNG:
            good = bk_to_png(paper, options->png_dpi > 0 ? options->png_dpi : 150, &out, &why);
            break;
        }
    }
    bk_sheaf_close(paper);
    if (good) {
        *bytes = out.at;
        *n = out.n;
        return BK_OK;
    }
    free(out.at);
    if (*why) return bk_fail(errors, (bk_place){0}, BK_E_WRITE, "the sheet cannot be drawn: %s", why);
    return bk_fail(errors, (bk_place){0}, BK_E_NOMEM, "%s", bk_status_text(BK_E_NOMEM));
}

/* What the units are chosen by. */
static double greatest_force(const bk_assessment *a)
{
    double most = a->has_rig && a->hang ? a->hang->total_weight_N : 0;
    for (size_t i = 0; i < a->plan->n_hoists; i++)
        most = fmax(most, a->hoists[i].suspension_N);
    for (size_t r = 0; r < a->plan->n_runways; r++)
        most = fmax(most, fabs(a->runways[r].worst.shear.value));
    return most;
}

static bk_status draw(const bk_assessment *a, const bk_sheet_options *options, char **bytes, size_t *n,
                      bk_errors *errors)
{
    bk_sheaf paper;
    const bk_status status = open_paper(&paper, options, errors);
    if (status != BK_OK) return status;
    bk_sheet sheet = {.a = a};
    bk_flow_open(&sheet.flow, &paper, bk_strip_body(&paper), a->plan->units);
    bk_flow_units(&sheet.flow, greatest_force(a));
    bk_sheet_summary(&sheet);
    bk_sheet_views(&sheet);
    bk_sheet_rig_tables(&sheet);
    bk_sheet_hoists(&sheet);
    bk_sheet_runways(&sheet);
    bk_sheet_checks(&sheet);
    bk_sheet_words(&sheet);
    if (options->working) bk_sheet_working(&sheet);
    bk_strip_draw(&sheet);
    const bk_about about = {.title = bk_safe_text(&paper, a->plan->title),
                            .author = bk_safe_text(&paper, a->plan->author),
                            .date = a->plan->date};
    return finish(&paper, &about, options, bytes, n, errors);
}

static bk_status draw_angle(const bk_leg_question *question, const bk_sheet_options *options, char **bytes,
                            size_t *n, bk_errors *errors)
{
    bk_sheaf paper;
    const bk_status status = open_paper(&paper, options, errors);
    if (status != BK_OK) return status;
    bk_angle_picture(&paper, question);
    const bk_about about = {.title = "leg tension against leg angle"};
    return finish(&paper, &about, options, bytes, n, errors);
}

const bk_sheet_module bk_sheet_drawing = {.version = BK_VERSION, .draw = draw, .draw_angle = draw_angle};
