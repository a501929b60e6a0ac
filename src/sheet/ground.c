/* ON THE GROUND: the real frame against its kit, two tapes, struts, bits, what to carry. */
#include "page.h"
#include "places.h"
#include "sections.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool uses(const struct answer *answer, size_t kit, enum hardware hardware) {
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        for (int row = 0; row < ROW_COUNT; row++) {
            if (answer->roof->brackets[i].kit == kit &&
                answer->marks->brackets[i].hardware[row] == hardware) {
                return true;
            }
        }
    }
    return false;
}

/* The legs from the frame's left side as one faces the ridge, whatever the corner. */
static void write_legs(struct page *page, const struct kit *kit) {
    const struct roof *roof = page->answer->roof;
    page_line(page, 6,
              "      Middle of each leg from the frame's LEFT side, as you face the ridge:");
    for (size_t i = 0; i < kit->leg_count; i++) {
        bool left = roof->corner == CORNER_LEFT;
        size_t leg = left ? i : kit->leg_count - 1 - i;
        char text[LENGTH_TEXT];
        page_tick(page, "leg %-18zu %s", i + 1,
                  page_length(roof, text, left ? kit->legs[leg] : kit->width - kit->legs[leg]));
    }
}

static void tick_length(struct page *page, const char *what, double inches) {
    char text[LENGTH_TEXT];
    page_tick(page, "%-22s %s", what, page_length(page->answer->roof, text, inches));
}

static void tick_range(struct page *page, const char *what, const double range[2]) {
    char from[LENGTH_TEXT], to[LENGTH_TEXT];
    page_tick(page, "%-22s %s to %s", what, page_length(page->answer->roof, from, range[0]),
              page_length(page->answer->roof, to, range[1]));
}

static void write_kit(struct page *page, size_t index) {
    const struct answer *answer = page->answer;
    const struct kit *kit = &answer->roof->kits[index];
    page_line(page, 6, "    Kit: %s", kit->name);
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        if (answer->roof->brackets[i].kit == index) {
            page_line(page, 6, "      for frame %s", answer->roof->brackets[i].name);
        }
    }
    tick_length(page, "width", kit->width);
    tick_length(page, "height", kit->height);
    write_legs(page, kit);
    page_line(page, 6, "      Up the legs from their cut lower end:");
    tick_range(page, "top line meets at", kit->window[ROW_TOP]);
    tick_range(page, "bottom line meets at", kit->window[ROW_BOTTOM]);
    tick_range(page, "bottom fitting", kit->gap);
    tick_length(page, "clearance under frame", kit->standoff);
    if (uses(answer, index, HARDWARE_FEET)) {
        tick_length(page, "foot, lag to leg", kit->foot_reach);
        tick_length(page, "foot, slot either way", kit->foot_slot);
    }
    if (uses(answer, index, HARDWARE_STRUT)) {
        tick_length(page, "clamp offset to leg", kit->grip);
    }
    tick_length(page, "flashing, edge to hub", kit->flashing.hole_up);
}

/* The longest reading that the tape has to reach. */
static double longest_reading(const struct answer *answer) {
    double longest = 0;
    for (size_t i = 0; i < answer->marks->count; i++) {
        const struct mark *mark = &answer->marks->list[i];
        longest = fmax(longest, places_reading(answer, mark->x, mark->y));
        for (int side = 0; side < SIDE_COUNT; side++) {
            longest = fmax(longest, roof_height_reading(answer->roof, (enum side)side, mark->y));
        }
    }
    return longest;
}

enum outcome ground_write(struct page *page) {
    const struct answer *answer = page->answer;
    char tick[LENGTH_TEXT], longest[LENGTH_TEXT];
    page_heading(page, SHEET_GROUND);
    page_step(page,
              "Tape the REAL frame against its kit. One figure off by more than %s: STOP, this "
              "sheet is for another frame.",
              page_either(answer->roof, "1/16\"", "2 mm"));
    for (size_t i = 0; i < answer->roof->kit_count; i++) {
        write_kit(page, i);
    }
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        pipes_write_ports(page, i);
    }
    page_step(page,
              "Lay two tapes side by side out to %s. If they differ by more than %s, find a third; "
              "then use ONE tape from first to last.",
              page_length(answer->roof, longest, longest_reading(answer)),
              page_length(answer->roof, tick, answer->roof->tape));
    enum outcome outcome = struts_write(page);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    carry_write_bits(page);
    carry_write(page);
    strength_write(page);
    return OUTCOME_DONE;
}
