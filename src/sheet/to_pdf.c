/* to_pdf: pages through cairo, text as text, fonts embedded in part.  The same pages give the same bytes: the
 * only time in the file is the plan's own date.
 */
#include "output.h"

#include <cairo-pdf.h>
#include <stdlib.h>
#include <string.h>

bool bk_bytes_add(bk_bytes *bytes, const void *more, size_t n)
{
    if (n > SIZE_MAX / 4 || bytes->n > SIZE_MAX / 4) return false;
    if (bytes->n + n > bytes->capacity) {
        size_t capacity = bytes->capacity ? bytes->capacity : 65536;
        while (capacity < bytes->n + n)
            capacity *= 2;
        char *longer = realloc(bytes->at, capacity);
        if (!longer) return false;
        bytes->at = longer;
        bytes->capacity = capacity;
    }
    memcpy(bytes->at + bytes->n, more, n);
    bytes->n += n;
    return true;
}

static void draw(cairo_t *cairo, const bk_ink *ink)
{
    cairo_new_path(cairo);
    if (ink->kind == BK_INK_DISC) {
        cairo_arc(cairo, ink->at[0].x, ink->at[0].y, ink->radius, 0, 2 * BK_PI);
    } else {
        for (size_t i = 0; i < ink->n; i++)
            cairo_line_to(cairo, ink->at[i].x, ink->at[i].y);
        if (ink->closed) cairo_close_path(cairo);
    }
    if (ink->fill >= 0) {
        cairo_set_source_rgb(cairo, ink->fill, ink->fill, ink->fill);
        cairo_fill_preserve(cairo);
    }
    if (ink->pen.width > 0) {
        int dashes = 0;
        while (dashes < 4 && ink->pen.dash[dashes] > 0)
            dashes++;
        cairo_set_dash(cairo, ink->pen.dash, dashes, 0);
        cairo_set_line_width(cairo, ink->pen.width);
        cairo_set_source_rgb(cairo, ink->pen.grey, ink->pen.grey, ink->pen.grey);
        cairo_stroke_preserve(cairo);
    }
}

void bk_cairo_page(cairo_t *cairo, const bk_page *page)
{
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    for (size_t i = 0; i < page->n; i++) {
        const bk_ink *ink = &page->inks[i];
        if (ink->kind != BK_INK_TEXT) {
            draw(cairo, ink);
            continue;
        }
        cairo_set_source_rgb(cairo, ink->run.face.grey, ink->run.face.grey, ink->run.face.grey);
        cairo_move_to(cairo, ink->at[0].x, ink->at[0].y);
        pango_cairo_show_layout_line(cairo, ink->run.line);
    }
}

static cairo_status_t collect(void *closure, const unsigned char *bytes, unsigned int n)
{
    return bk_bytes_add(closure, bytes, n) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

bool bk_to_pdf(const bk_sheaf *paper, const bk_about *about, bk_bytes *out, const char **why)
{
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(collect, out, paper->width, paper->height);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   about->title ? about->title : "load check");
    if (about->author) cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, about->author);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "becket " BK_VERSION);
    /* an empty date leaves the entry out; none at all would be the clock's */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, about->date ? about->date : "");
    cairo_t *cairo = cairo_create(surface);
    for (size_t i = 0; i < paper->n; i++) {
        bk_cairo_page(cairo, &paper->pages[i]);
        cairo_show_page(cairo);
    }
    cairo_status_t status = cairo_status(cairo);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    *why = status == CAIRO_STATUS_NO_MEMORY || status == CAIRO_STATUS_WRITE_ERROR
               ? ""
               : cairo_status_to_string(status);
    return status == CAIRO_STATUS_SUCCESS;
}
