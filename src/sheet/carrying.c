#include "carrying.h"

#include "page.h"
#include "places.h"
#include "sections.h"

#include <stdio.h>

const char *carrying_unit(const struct roof *roof, enum strength_kind kind) {
    if (roof->measure == MEASURE_MM) {
        return kind == STRENGTH_LAG ? "N" : "MPa";
    }
    return kind == STRENGTH_LAG ? "lb" : "psi";
}

double carrying_figure(const struct roof *roof, enum strength_kind kind, double figure) {
    if (roof->measure != MEASURE_MM) {
        return figure;
    }
    return kind == STRENGTH_LAG ? figure * UNIT_N_PER_LB : figure / UNIT_PSI_PER_MPA;
}

void carrying_name(const struct roof *roof, const struct marks *marks,
                   const struct strength_item *item, char text[CARRYING_TEXT]) {
    char hole[PLACES_NAME];
    switch (item->kind) {
    case STRENGTH_LAG:
        snprintf(text, CARRYING_TEXT, "lag hole %s",
                 places_hole_name(roof, marks, (size_t)item->mark, hole));
        break;
    case STRENGTH_STRUT:
        snprintf(text, CARRYING_TEXT, "frame %s, %s strut", roof->brackets[item->bracket].name,
                 roof_row_word((enum row)item->row));
        break;
    default:
        snprintf(text, CARRYING_TEXT, "rafter %d", item->rafter + 1);
    }
}

/* Whole pounds, newtons and psi; megapascals with a decimal. */
static int decimals(const struct roof *roof, enum strength_kind kind) {
    return roof->measure == MEASURE_MM && kind != STRENGTH_LAG ? 1 : 0;
}

void carrying_tell(const struct roof *roof, const struct marks *marks,
                   const struct strength_item *item, char text[CARRYING_TEXT]) {
    char name[CARRYING_TEXT];
    const char *unit = carrying_unit(roof, item->kind);
    const int places = decimals(roof, item->kind);
    carrying_name(roof, marks, item, name);
    snprintf(text, CARRYING_TEXT, "%.200s: asked %.*f %s, holds %.*f %s: %.2f times, under %s",
             name, places, carrying_figure(roof, item->kind, item->demand), unit, places,
             carrying_figure(roof, item->kind, item->capacity), unit, item->ratio,
             loads_combination(item->combination)->text);
}

/* ---- The section ---------------------------------------------------------------------------- */

static void write_row(struct page *page, const char *name, const struct strength_item *item) {
    const struct roof *roof = page->answer->roof;
    const char *unit = carrying_unit(roof, item->kind);
    const int places = decimals(roof, item->kind);
    page_line(page, 6, "    %-17.17s %-29s %6.*f %-3s %6.*f %-3s %5.2f%s", name,
              loads_combination(item->combination)->text, places,
              carrying_figure(roof, item->kind, item->demand), unit, places,
              carrying_figure(roof, item->kind, item->capacity), unit, item->ratio,
              item->ratio > 1 ? " !" : "");
}

/* The worst lag of each line. */
static void write_lags(struct page *page) {
    const struct answer *answer = page->answer;
    const struct strength *strength = answer->strength;
    for (size_t i = 0; i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        bool worst = item->kind == STRENGTH_LAG;
        for (size_t j = 0; worst && j < strength->count; j++) {
            const struct strength_item *other = &strength->items[j];
            worst = !(other->kind == STRENGTH_LAG && other->bracket == item->bracket &&
                      other->row == item->row &&
                      (other->ratio > item->ratio || (j < i && !(other->ratio < item->ratio))));
        }
        if (worst) {
            char hole[PLACES_NAME], name[CARRYING_TEXT];
            snprintf(name, sizeof name, "lag %s",
                     places_short_name(answer, (size_t)item->mark, hole));
            write_row(page, name, item);
        }
    }
}

static void write_others(struct page *page) {
    const struct strength *strength = page->answer->strength;
    for (size_t i = 0; i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        char name[CARRYING_TEXT];
        if (item->kind == STRENGTH_STRUT) {
            snprintf(name, sizeof name, "strut %s %s", roof_row_word((enum row)item->row),
                     page->answer->roof->brackets[item->bracket].name);
            write_row(page, name, item);
        } else if (item->kind == STRENGTH_RAFTER) {
            snprintf(name, sizeof name, "rafter %d (%.2f)", item->rafter + 1, item->before);
            write_row(page, name, item);
        }
    }
}

static void write_not_judged(struct page *page) {
    const struct answer *answer = page->answer;
    if (!answer->strength->struts_judged) {
        page_line(page, 4, "    Struts NOT judged: their kit gives no section and stress.");
    }
    if (answer->roof->trusses) {
        page_line(page, 4, "    Trusses NOT judged: only their maker can.");
    } else if (!answer->strength->rafters_judged) {
        page_line(page, 4,
                  "    Rafters NOT judged: the survey does not say what lumber they are; lags are "
                  "reckoned in the lightest wood known here.");
    }
    if (!answer->strength->complete) {
        page_line(page, 4, "    A line that is not complete was left out.");
    }
    page_line(
        page, 4,
        "    NOT looked at: earthquake; drifted, sliding or uneven snow; wind that presses; a "
        "force along the eave, which is outside the standard for a single ply; the frame "
        "itself, its clamps and feet; what carries the rafters.");
}

void strength_write(struct page *page) {
    const struct answer *answer = page->answer;
    if (answer->strength == NULL) {
        return;
    }
    page_blank(page);
    page_line(page, 2, "STRENGTH: A SCREEN, NOT A CERTIFICATE");
    page_line(page, 2,
              "  It shows what is plainly too weak. A licensed engineer and local code say whether "
              "this roof carries the filled frames. 1.00 is all that a part may bear.");
    page_blank(page);
    page_line(page, 6, "    %-17s %-29s %10s %9s  %5s", "part", "worst under", "asked", "holds",
              "ratio");
    write_lags(page);
    write_others(page);
    page_line(page, 4, "    D weight, S snow, W wind off the roof. Lags: the worst of each line%s",
              answer->strength->rafters_judged
                  ? "; rafters: in parentheses what they bear before any frame stands there."
                  : ".");
    page_line(page, 4,
              "    Clauses: lags NDS 2018 12.2.1 (pull), 12.3.1 (shear), 12.4.1 (both); struts by "
              "their kit's section and stress; rafters NDS 2018 3.3.1, 4.3; wind ASCE 7-16 26.10.");
    write_not_judged(page);
}

/* ---- What does not carry -------------------------------------------------------------------- */

/* Whether any other layout would carry, as far as is known. */
static const char *verdict_on_others(const struct answer *answer) {
    if (answer->none_carry) {
        return "  Proved: with this hardware no place on this roof carries. The lags' shear "
               "down the roof is the same everywhere. Ask a licensed engineer: more legs or lags, "
               "thicker ones, spacers that fill the gap, or a tested flashing.";
    }
    if (answer->set_aside == 0) {
        return "  The limit left no time to try others, so one that carries may exist. Ask a "
               "licensed engineer.";
    }
    return "  Other rafters and places were tried; none was found that carries, which is no proof "
           "that there is none. Ask a licensed engineer.";
}

bool strength_write_weak(struct page *page) {
    const struct answer *answer = page->answer;
    const struct strength *strength = answer->strength;
    if (strength == NULL || strength->carries) {
        return false;
    }
    page_blank(page);
    page_line(page, 2, "WHAT DOES NOT CARRY (a screen, not a certificate)");
    for (size_t i = 0; i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        if (item->kind != STRENGTH_RAFTER && item->ratio > 1) {
            char text[CARRYING_TEXT];
            carrying_tell(answer->roof, answer->marks, item, text);
            page_line(page, 6, "  - %s", text);
        }
    }
    page_line(page, 6, "%s", verdict_on_others(answer));
    return true;
}

void sheet_write_weak(const struct roof *roof, const struct marks *marks,
                      const struct strength *strength, FILE *stream) {
    for (size_t i = 0; strength != NULL && i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        if (item->ratio > 1) {
            char text[CARRYING_TEXT];
            carrying_tell(roof, marks, item, text);
            fprintf(stream, "%s%s\n", text,
                    item->kind == STRENGTH_RAFTER ? "; ask a licensed engineer" : "");
        }
    }
}
