/* to_png: pages as one picture in greys, row by row, so that its height has no bound but the format's.
 * Level 1 with no filter: the file is smaller than at cairo's own setting, and written in a tenth of the
 * time.
 */
#include "output.h"

#include <png.h>
#include <setjmp.h>
#include <stdlib.h>

typedef struct writer {
    png_structp png;
    png_infop info;
    cairo_surface_t *surface;
    unsigned char *row;
    bk_bytes *out;
} writer;

static void give(png_structp png, png_bytep bytes, size_t n)
{
    if (!bk_bytes_add(png_get_io_ptr(png), bytes, n)) png_error(png, "out of memory");
}

static void flush(png_structp png)
{
    (void)png;
}

/* Errors come back by longjmp; the text is not wanted on standard error. */
static void fail(png_structp png, png_const_charp text)
{
    (void)text;
    png_longjmp(png, 1);
}

static void warn(png_structp png, png_const_charp text)
{
    (void)png;
    (void)text;
}

/* One page: drawn white, then handed on in greys (red, green and blue are equal). */
static bool page_rows(writer *w, const bk_page *page, int width, int height, double scale)
{
    cairo_t *cairo = cairo_create(w->surface);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_paint(cairo);
    cairo_scale(cairo, scale, scale);
    bk_cairo_page(cairo, page);
    const bool drawn = cairo_status(cairo) == CAIRO_STATUS_SUCCESS;
    cairo_destroy(cairo);
    cairo_surface_flush(w->surface);
    const unsigned char *data = cairo_image_surface_get_data(w->surface);
    const size_t stride = (size_t)cairo_image_surface_get_stride(w->surface);
    for (int y = 0; drawn && y < height; y++) {
        const unsigned char *pixels = data + (size_t)y * stride;
        for (int x = 0; x < width; x++)
            w->row[x] = pixels[4 * x + 1]; /* green, in either byte order */
        png_write_row(w->png, w->row);
    }
    return drawn;
}

/* False after any error of libpng, which comes back to the setjmp here. */
static bool encode(writer *w, const bk_sheaf *paper, int width, int height, double dpi)
{
    if (setjmp(png_jmpbuf(w->png))) return false;
    png_set_user_limits(w->png, 0x7FFFFFFF, 0x7FFFFFFF);
    png_set_write_fn(w->png, w->out, give, flush);
    png_set_IHDR(w->png, w->info, (png_uint_32)width, (png_uint_32)height * (png_uint_32)paper->n, 8,
                 PNG_COLOR_TYPE_GRAY, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    const png_uint_32 per_metre = (png_uint_32)lround(dpi / 0.0254);
    png_set_pHYs(w->png, w->info, per_metre, per_metre, PNG_RESOLUTION_METER);
    png_set_compression_level(w->png, 1);
    png_set_filter(w->png, 0, PNG_FILTER_NONE);
    png_write_info(w->png, w->info);
    for (size_t i = 0; i < paper->n; i++)
        if (!page_rows(w, &paper->pages[i], width, height, dpi / 72)) return false;
    png_write_end(w->png, NULL);
    return true;
}

bool bk_to_png(const bk_sheaf *paper, double dpi, bk_bytes *out, const char **why)
{
    *why = "";
    const double width = ceil(paper->width * dpi / 72), height = ceil(paper->height * dpi / 72);
    if (!(width >= 1 && height >= 1 && width < 30000 && height < 30000 && height * (double)paper->n < 2e9)) {
        *why = "the picture would be too large";
        return false;
    }
    writer w = {.out = out, .row = malloc((size_t)width)};
    w.surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)width, (int)height);
    w.png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, fail, warn);
    if (w.png) w.info = png_create_info_struct(w.png);
    const bool ready = w.info && w.row && cairo_surface_status(w.surface) == CAIRO_STATUS_SUCCESS;
    const bool good = ready && encode(&w, paper, (int)width, (int)height, dpi);
    png_destroy_write_struct(&w.png, &w.info);
    cairo_surface_destroy(w.surface);
    free(w.row);
    return good;
}
