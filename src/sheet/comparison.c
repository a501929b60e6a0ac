/* The table of `ruddle compare`: four columns, one a choice of hardware. */
#include "compare.h"

#include "broken.h"
#include "carrying.h"
#include "page.h"
#include "words.h"

#include <math.h>
#include <string.h>

enum { CELL = 40, COLUMN = 15 };

/* Fills in one cell of a row. */
typedef void write_cell(const struct roof *roof, const struct compared *choice, char text[CELL]);

static bool has_marks(const struct compared *choice) {
    return choice->carried.marks != NULL;
}

static void cell_result(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    const bool undecided = choice->carried.layout->state == LAYOUT_UNDECIDED;
    snprintf(text, CELL, "%s",
             choice->works ? "works" : (undecided ? "NOT DECIDED" : "does NOT work"));
}

static void cell_room(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    if (has_marks(choice)) {
        char length[LENGTH_TEXT];
        const double least = choice->carried.verdict->least;
        if (length_holds(least)) {
            snprintf(text, CELL, "%s", page_spare(roof, length, least));
        } else {
            snprintf(text, CELL, "short %s", page_short(roof, length, -least));
        }
    }
}

static void cell_chance(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (has_marks(choice)) {
        /* never more than there is: 99.97 % is not 100 */
        snprintf(text, CELL, "%.1f %%", floor(choice->chance * 1000) / 10);
    }
}

static void cell_count(size_t count, char text[CELL]) {
    snprintf(text, CELL, "%zu", count);
}

static void cell_holes(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (has_marks(choice)) {
        cell_count(choice->lags + choice->pipe_holes, text);
    }
}

static void cell_lags(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (has_marks(choice)) {
        cell_count(choice->lags, text);
    }
}

static void cell_feet(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (has_marks(choice)) {
        cell_count(choice->feet, text);
    }
}

static void cell_struts(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (has_marks(choice)) {
        cell_count(choice->struts, text);
    }
}

static void cell_clamps(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (has_marks(choice)) {
        cell_count(choice->clamps, text);
    }
}

static void cell_strut(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    if (!has_marks(choice)) {
        return;
    }
    if (page_measure(roof) == MEASURE_MM) {
        snprintf(text, CELL, "%.2f m", choice->strut_in * LENGTH_MM_PER_INCH / 1000);
    } else {
        snprintf(text, CELL, "%.1f ft", choice->strut_in / 12);
    }
}

/* A column has no room for a length both ways: 1' 1-13/16", without its (13-13/16). */
static void cell_moved(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    if (has_marks(choice)) {
        char length[LENGTH_TEXT];
        page_length(roof, length, choice->carried.layout->moved);
        const char *again = strstr(length, " (");
        const size_t shown = again == NULL ? strlen(length) : (size_t)(again - length);
        snprintf(text, CELL, "%.*s", (int)shown, length);
    }
}

static void cell_strength(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    if (roof->loads == NULL) {
        snprintf(text, CELL, "not looked at");
    } else if (choice->carried.strength != NULL) {
        snprintf(text, CELL, "%.2f", choice->carried.strength->worst);
    }
}

static void cell_rafters(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    if (roof->loads == NULL) {
        snprintf(text, CELL, "not looked at");
    } else if (choice->carried.strength != NULL && choice->carried.strength->rafters_judged) {
        snprintf(text, CELL, "%.2f", choice->carried.strength->worst_rafter);
    } else if (choice->carried.strength != NULL) {
        snprintf(text, CELL, "not judged");
    }
}

static bool has_cost(const struct comparison *comparison) {
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        if (isfinite(comparison->choices[i].cost)) {
            return true;
        }
    }
    return false;
}

static void cell_cost(const struct roof *roof, const struct compared *choice, char text[CELL]) {
    (void)roof;
    if (isfinite(choice->cost)) {
        snprintf(text, CELL, "%.2f", choice->cost);
    }
}

static const char *hardware_name(enum hardware hardware) {
    return hardware == HARDWARE_STRUT ? "strut" : "feet";
}

static void write_row(struct page *page, const struct comparison *comparison, const char *name,
                      write_cell *cell) {
    char texts[COMPARE_CHOICES][CELL];
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        snprintf(texts[i], CELL, "-");
        cell(page->answer->roof, &comparison->choices[i], texts[i]);
    }
    page_line(page, 0, "%-18s%-*s%-*s%-*s%s", name, COLUMN, texts[0], COLUMN, texts[1], COLUMN,
              texts[2], texts[3]);
}

static void write_heads(struct page *page, const struct comparison *comparison) {
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const char *names[COMPARE_CHOICES];
        for (size_t i = 0; i < COMPARE_CHOICES; i++) {
            names[i] = hardware_name(comparison->choices[i].hardware[row]);
        }
        page_line(page, 0, "%-18s%-*s%-*s%-*s%s", row == ROW_TOP ? "top line" : "bottom line",
                  COLUMN, names[0], COLUMN, names[1], COLUMN, names[2], names[3]);
    }
    page_rule(page, '-');
}

static void write_table(struct page *page, const struct comparison *comparison) {
    static const struct {
        const char *name;
        write_cell *cell;
    } rows[] = {{"result", cell_result},
                {"room to miss", cell_room},
                {"all hit first try", cell_chance},
                {"holes", cell_holes},
                {"lags", cell_lags},
                {"feet", cell_feet},
                {"struts", cell_struts},
                {"clamps", cell_clamps},
                {"strut, all told", cell_strut},
                {"frames moved", cell_moved},
                {"lags and struts", cell_strength},
                {"rafters", cell_rafters}};
    page_rule(page, '=');
    page_line(page, 0, "WHICH HARDWARE");
    page_line(page, 0, "%s", page->answer->roof->name);
    page_rule(page, '=');
    write_heads(page, comparison);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        write_row(page, comparison, rows[i].name, rows[i].cell);
    }
    if (has_cost(comparison)) {
        write_row(page, comparison, "cost of hardware", cell_cost);
    }
    page_rule(page, '-');
}

/* The worst rule, the worst part, or why nothing can be placed. */
static void write_block(struct page *page, const struct compared *choice) {
    const struct carried *carried = &choice->carried;
    char said[PAGE_TEXT] = "";
    const struct finding *worst = NULL;
    for (size_t i = 0; carried->verdict != NULL && i < carried->verdict->count; i++) {
        const struct finding *finding = &carried->verdict->findings[i];
        if (!length_holds(finding->margin) && (worst == NULL || finding->margin < worst->margin)) {
            worst = finding;
        }
    }
    if (worst != NULL) {
        const struct scene scene = {&choice->roof, carried->marks, carried->verdict, worst};
        char text[BROKEN_LINE];
        broken_line(&scene, text);
        snprintf(said, sizeof said, "%.1000s", text);
    } else if (carried->strength != NULL && !carried->strength->carries) {
        const struct strength_item *weakest = &carried->strength->items[0];
        char part[CARRYING_TEXT];
        for (size_t i = 1; i < carried->strength->count; i++) {
            const struct strength_item *item = &carried->strength->items[i];
            if (item->kind != STRENGTH_RAFTER && item->ratio > weakest->ratio) {
                weakest = item;
            }
        }
        carrying_tell(&choice->roof, carried->marks, weakest, part);
        snprintf(said, sizeof said, "%s", part);
    } else if (carried->layout->reason_count > 0) {
        words_say(&choice->roof, carried->layout->reasons[0].text, said, sizeof said);
    }
    page_line(page, 4, "  - %s on top, %s below: %s", hardware_name(choice->hardware[ROW_TOP]),
              hardware_name(choice->hardware[ROW_BOTTOM]),
              said[0] != '\0' ? said : "the limit ended the search");
}

static void write_blocks(struct page *page, const struct comparison *comparison) {
    bool any = false;
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        any = any || !comparison->choices[i].works;
    }
    if (!any) {
        return;
    }
    page_blank(page);
    page_line(page, 0, "WHAT STANDS IN THE WAY, the worst of each");
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        if (!comparison->choices[i].works) {
            write_block(page, &comparison->choices[i]);
        }
    }
}

static void write_meaning(struct page *page, const struct comparison *comparison) {
    page_blank(page);
    page_line(
        page, 0,
        "What it means: room to miss is what any hole may be off by before a rule breaks; a strut "
        "forgives where its legs are and takes more holes, feet take fewer and must meet "
        "their legs. \"All hit first try\" is the chance that every lag finds its wood if each "
        "rafter is off by a normal error of its own, two deviations of it the survey's "
        "tolerance, and chalk and drill are exact.");
    if (has_cost(comparison)) {
        page_line(page, 0,
                  "Cost is that of feet, struts as cut, clamps, lags and their flashings at the "
                  "kit's prices; what is left over of a bar, a pipe's flashing and work are not "
                  "in it.");
    }
    if (page->answer->roof->loads != NULL) {
        page_line(
            page, 0,
            "Strength is a ratio, 1.00 all that a part may bear: a screen, not a certificate. A "
            "licensed engineer and local code decide.");
    }
}

enum outcome compare_write(const struct roof *roof, const struct comparison *comparison,
                           FILE *stream) {
    const struct answer answer = {.roof = roof};
    struct page page = {.stream = stream, .answer = &answer};
    write_table(&page, comparison);
    write_blocks(&page, comparison);
    write_meaning(&page, comparison);
    return OUTCOME_DONE;
}
