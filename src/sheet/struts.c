/* The struts: how long, where their holes and clamps are, and which bars to cut them from. */
#include "cutlist.h"
#include "page.h"
#include "places.h"
#include "sections.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

/* The struts of one kit. */
struct pieces {
    struct line lines[PLACES_LINES_MOST];
    double lengths[PLACES_LINES_MOST];
    size_t count;
};

/* As the saw will cut it: to the tape, but never longer than a bar that it came from whole. */
static double cut_length(const struct roof *roof, const struct kit *kit,
                         const struct row_seat *seat) {
    double length = seat->to - seat->from;
    double cut = length_to_tape(length, roof->tape);
    double longest = kit->stock_count > 0 ? kit->stock[kit->stock_count - 1] : 0;
    return length_holds(longest - length) ? fmin(cut, longest) : cut;
}

static void gather(const struct answer *answer, size_t kit, struct pieces *pieces) {
    struct line lines[PLACES_LINES_MOST];
    size_t count = places_lines(answer, lines);
    pieces->count = 0;
    for (size_t i = 0; i < count; i++) {
        if (answer->roof->brackets[lines[i].bracket].kit == kit &&
            places_hardware(answer, &lines[i]) == HARDWARE_STRUT) {
            pieces->lines[pieces->count] = lines[i];
            pieces->lengths[pieces->count++] =
                cut_length(answer->roof, &answer->roof->kits[kit], lines[i].seat);
        }
    }
}

/* From a strut's LEFT end, as one faces the ridge. */
static double from_left_end(const struct roof *roof, const struct row_seat *seat, double x) {
    return roof->corner == CORNER_LEFT ? x - seat->from : seat->to - x;
}

static void write_strut(struct page *page, const struct line *line, double length) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct kit *kit = roof_kit(roof, line->bracket);
    bool left = roof->corner == CORNER_LEFT;
    char text[LENGTH_TEXT];
    page_line(page, 6, "    Frame %s, %s strut: cut %s. From its LEFT end:",
              roof->brackets[line->bracket].name, roof_row_word(line->row),
              page_length(roof, text, length));
    for (size_t i = 0; i < line->seat->count; i++) {
        size_t mark = line->seat->first_mark + (left ? i : line->seat->count - 1 - i);
        char name[PLACES_NAME];
        page_tick(
            page, "drill  %-26s lag hole %s",
            page_length(roof, text, from_left_end(roof, line->seat, answer->marks->list[mark].x)),
            places_hole_name(roof, answer->marks, mark, name));
    }
    for (size_t i = 0; i < kit->leg_count; i++) {
        size_t leg = left ? i : kit->leg_count - 1 - i;
        page_tick(page, "clamp  %-26s leg %zu from the LEFT",
                  page_length(roof, text, from_left_end(roof, line->seat, line->seat->clamps[leg])),
                  i + 1);
    }
}

static void write_bar(struct page *page, const struct pieces *pieces, const struct cutlist *list,
                      size_t bar) {
    const struct roof *roof = page->answer->roof;
    char stock[LENGTH_TEXT], left[LENGTH_TEXT];
    page_tick(page, "bar %zu: %s, left over %s", bar + 1,
              page_length(roof, stock, list->bars[bar].stock),
              page_length(roof, left, list->bars[bar].left_over));
    for (size_t i = 0; i < pieces->count; i++) {
        if (list->bar_of[i] == bar) {
            page_line(page, 12, "          %-26s frame %s, %s strut",
                      page_length(roof, stock, pieces->lengths[i]),
                      roof->brackets[pieces->lines[i].bracket].name,
                      roof_row_word(pieces->lines[i].row));
        }
    }
}

static enum outcome write_bars(struct page *page, const struct kit *kit,
                               const struct pieces *pieces) {
    struct cutlist *list = NULL;
    struct cut_order order = {pieces->lengths, pieces->count, kit->stock, kit->stock_count,
                              CUTLIST_KERF};
    enum outcome outcome = cutlist_make(&order, &list);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    page_line(page, 4, "    Bars, kit %s: saw cut %s (common practice), %s.", kit->name,
              page_either(page->answer->roof, "1/8\"", "3 mm"),
              list->exact ? "least waste" : "little waste, not proved the least");
    for (size_t bar = 0; bar < list->bar_count; bar++) {
        write_bar(page, pieces, list, bar);
    }
    for (size_t i = 0; i < pieces->count; i++) {
        if (list->bar_of[i] == SIZE_MAX) {
            page_line(page, 6, "      No bar is long enough for frame %s, %s strut: STOP.",
                      page->answer->roof->brackets[pieces->lines[i].bracket].name,
                      roof_row_word(pieces->lines[i].row));
        }
    }
    cutlist_free(list);
    return OUTCOME_DONE;
}

enum outcome struts_write(struct page *page) {
    const struct roof *roof = page->answer->roof;
    bool begun = false;
    for (size_t kit = 0; kit < roof->kit_count; kit++) {
        struct pieces pieces;
        gather(page->answer, kit, &pieces);
        if (pieces.count == 0) {
            continue;
        }
        if (!begun) {
            page_step(page,
                      "Cut and drill the struts. Write frame, line and L on each LEFT end. "
                      "Holes %s over the lag (common practice); none in a slotted strut.",
                      page_either(roof, "1/16\"", "2 mm"));
            begun = true;
        }
        enum outcome outcome = write_bars(page, &roof->kits[kit], &pieces);
        if (outcome != OUTCOME_DONE) {
            return outcome;
        }
        for (size_t i = 0; i < pieces.count; i++) {
            write_strut(page, &pieces.lines[i], pieces.lengths[i]);
        }
    }
    return OUTCOME_DONE;
}
