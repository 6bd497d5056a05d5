/* fonts: which letters a sheet is set in.
 *
 * fontconfig reads some hundred files of rules before it can say what "Sans" is: a quarter of the time
 * of a page.  A sheet asks for one of few families by name.  Where nobody else in the process draws text,
 * the usual folders are searched without those rules; where none of the families is in them, or the user has
 * named a configuration in the environment, fontconfig's own way is left alone.
 */
#include "ink.h"

#include <fontconfig/fontconfig.h>
#include <stdlib.h>

/* Folders and caches as fontconfig has them; no bitmaps; a slant for families that lack one. */
static const char rules[] =
    "<fontconfig>"
    "<dir>/usr/share/fonts</dir><dir>/usr/local/share/fonts</dir>"
    "<dir prefix=\"xdg\">fonts</dir><dir>~/.fonts</dir>"
    "<cachedir>/var/cache/fontconfig</cachedir><cachedir prefix=\"xdg\">fontconfig</cachedir>"
    "<selectfont><rejectfont>"
    "<pattern><patelt name=\"scalable\"><bool>false</bool></patelt></pattern>"
    "</rejectfont></selectfont>"
    "<match target=\"font\">"
    "<test name=\"slant\"><const>roman</const></test>"
    "<test target=\"pattern\" name=\"slant\" compare=\"not_eq\"><const>roman</const></test>"
    "<edit name=\"matrix\" mode=\"assign\"><times><name>matrix</name>"
    "<matrix><double>1</double><double>0.2</double><double>0</double><double>1</double></matrix>"
    "</times></edit></match>"
    "</fontconfig>";

static bool has_family(FcConfig *config)
{
    FcPattern *wanted = FcNameParse((const FcChar8 *)BK_FAMILIES);
    FcChar8 *name, *best;
    bool found = false;
    FcResult result;
    FcPattern *match = wanted ? FcFontMatch(config, wanted, &result) : NULL;
    if (match && FcPatternGetString(match, FC_FAMILY, 0, &best) == FcResultMatch)
        for (int i = 0; !found && FcPatternGetString(wanted, FC_FAMILY, i, &name) == FcResultMatch; i++)
            found = FcStrCmpIgnoreCase(name, best) == 0;
    if (match) FcPatternDestroy(match);
    if (wanted) FcPatternDestroy(wanted);
    return found;
}

void bk_fonts_by_name(void)
{
    if (getenv("FONTCONFIG_FILE") || getenv("FONTCONFIG_PATH") || getenv("FONTCONFIG_SYSROOT")) return;
    FcConfig *config = FcConfigCreate();
    if (!config) return;
    if (FcConfigParseAndLoadFromMemory(config, (const FcChar8 *)rules, FcTrue) &&
        FcConfigBuildFonts(config) && has_family(config))
        FcConfigSetCurrent(config);
    FcConfigDestroy(config);
}
