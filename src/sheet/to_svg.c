/* to_svg: pages as SVG 1.1 with text as text (cairo's own SVG would turn it into outlines), one below the
 * other.
 *
 * Every line of text carries the length it was set with, so that it fills the same box in whatever sans-serif
 * face the reader has.  Numbers are written in hundredths of a point from integers: no locale reaches them.
 */
#include "output.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void number(FILE *f, const char *before, double x)
{
    const long hundredths = lround(x * 100);
    const unsigned long size = (unsigned long)labs(hundredths);
    fprintf(f, "%s%s%lu", before, hundredths < 0 ? "-" : "", size / 100);
    if (size % 100) fprintf(f, size % 10 ? ".%02lu" : ".%lu", size % 10 ? size % 100 : size % 100 / 10);
}

static void attribute(FILE *f, const char *name, double x)
{
    fprintf(f, " %s=", name);
    number(f, "\"", x);
    fputc('"', f);
}

static void grey(FILE *f, const char *name, double value)
{
    const unsigned level = (unsigned)lround(value * 255);
    fprintf(f, " %s=\"#%02x%02x%02x\"", name, level, level, level);
}

static void shape(FILE *f, const bk_ink *ink)
{
    if (ink->kind == BK_INK_DISC) {
        fputs("<circle", f);
        attribute(f, "cx", ink->at[0].x);
        attribute(f, "cy", ink->at[0].y);
        attribute(f, "r", ink->radius);
    } else {
        fputs("<path d=\"", f);
        for (size_t i = 0; i < ink->n; i++) {
            number(f, i ? "L" : "M", ink->at[i].x);
            number(f, " ", ink->at[i].y);
        }
        fputs(ink->closed ? "Z\"" : "\"", f);
    }
    if (ink->fill >= 0)
        grey(f, "fill", ink->fill);
    else
        fputs(" fill=\"none\"", f);
    if (ink->pen.width > 0) {
        grey(f, "stroke", ink->pen.grey);
        attribute(f, "stroke-width", ink->pen.width);
        for (int i = 0; i < 4 && ink->pen.dash[i] > 0; i++)
            number(f, i ? " " : " stroke-dasharray=\"", ink->pen.dash[i]);
        if (ink->pen.dash[0] > 0) fputc('"', f);
    }
    fputs("/>\n", f);
}

static void escaped(FILE *f, const char *text, size_t bytes)
{
    char *safe = g_markup_escape_text(text, (gssize)bytes);
    fputs(safe, f);
    g_free(safe);
}

static void letters(FILE *f, const bk_ink *ink)
{
    const bk_run *run = &ink->run;
    fputs("<text", f);
    attribute(f, "x", ink->at[0].x);
    attribute(f, "y", ink->at[0].y);
    attribute(f, "font-size", run->face.size);
    attribute(f, "textLength", run->width);
    if (run->face.bold) fputs(" font-weight=\"bold\"", f);
    if (run->face.italic) fputs(" font-style=\"italic\"", f);
    if (run->face.grey > 0) grey(f, "fill", run->face.grey);
    fputc('>', f);
    escaped(f, run->text, run->bytes);
    fputs("</text>\n", f);
}

bool bk_to_svg(const bk_sheaf *paper, const bk_about *about, bk_bytes *out, const char **why)
{
    *why = "";
    char *bytes = NULL;
    size_t size = 0;
    FILE *f = open_memstream(&bytes, &size);
    if (!f) return false;
    const double height = paper->height * (double)paper->n;
    fputs("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
          "version=\"1.1\"",
          f);
    number(f, " width=\"", paper->width);
    number(f, "pt\" height=\"", height);
    number(f, "pt\" viewBox=\"0 0 ", paper->width);
    number(f, " ", height);
    fputs("\" font-family=\"sans-serif\" stroke-linejoin=\"round\" xml:space=\"preserve\">\n<title>", f);
    const char *title = about->title ? about->title : "load check";
    escaped(f, title, strlen(title));
    fputs("</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n", f);
    for (size_t i = 0; i < paper->n; i++) {
        fprintf(f, "<g id=\"page-%zu\"", i + 1);
        number(f, " transform=\"translate(0 ", paper->height * (double)i);
        fputs(")\">\n", f);
        for (size_t k = 0; k < paper->pages[i].n; k++) {
            const bk_ink *ink = &paper->pages[i].inks[k];
            if (ink->kind == BK_INK_TEXT)
                letters(f, ink);
            else
                shape(f, ink);
        }
        fputs("</g>\n", f);
    }
    fputs("</svg>\n", f);
    const bool written = !ferror(f);
    if (fclose(f) != 0 || !written || !bytes) {
        free(bytes);
        return false;
    }
    *out = (bk_bytes){bytes, size, size + 1};
    return true;
}
