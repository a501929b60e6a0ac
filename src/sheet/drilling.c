/* ON THE ROOF, once the chalk is down: close, probe, drill, lift. */
#include "page.h"
#include "places.h"
#include "sections.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

/* Calls write for each lag hole in chalking order. */
static void each_lag(struct page *page, void (*write)(struct page *page, size_t mark)) {
    struct line lines[PLACES_LINES_MOST];
    size_t count = places_lines(page->answer, lines);
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < lines[i].seat->count; j++) {
            write(page, places_mark_along(page->answer, &lines[i], j));
        }
    }
}

static void write_closing(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct mark *at = &answer->marks->list[mark];
    char name[PLACES_NAME], text[LENGTH_TEXT];
    page_tick(page, "%-*s  %s", PLACES_SHORT, places_short_name(answer, mark, name),
              page_length(answer->roof, text, places_other_reading(answer, at->x, at->y)));
}

/* Both outer faces of the member: a seam between plies cannot be felt from above. */
static void write_faces(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    size_t ply = answer->verdict->seats[mark].ply;
    if (ply == SIZE_MAX) {
        return;
    }
    const struct rafter *rafter = &roof->rafters[roof->plies[ply].rafter];
    double x = answer->marks->list[mark].x;
    bool left = roof->corner == CORNER_LEFT;
    double to_left = left ? x - rafter->from : rafter->to - x;
    double to_right = left ? rafter->to - x : x - rafter->from;
    char name[PLACES_NAME], one[LENGTH_TEXT], other[LENGTH_TEXT], tolerance[LENGTH_TEXT];
    page_tick(page, "%-*s  face %7s LEFT, %7s RIGHT, to %s or better", PLACES_SHORT,
              places_short_name(answer, mark, name), page_fine(roof, one, to_left),
              page_fine(roof, other, to_right), page_fine(roof, tolerance, rafter->tolerance));
}

static void write_drill(struct page *page, size_t mark) {
    char name[PLACES_NAME];
    page_line(page, 6, "      %-*s  solid / edge / missed   [ ] seal  [ ] flash  [ ] lag snug",
              PLACES_SHORT, places_short_name(page->answer, mark, name));
}

static void write_lift(struct page *page) {
    const struct roof *roof = page->answer->roof;
    page_step(page, "Bolt on feet and struts. Lift each frame EMPTY onto its chalked corners.");
    for (size_t i = 0; i < roof->bracket_count; i++) {
        const struct kit *kit = roof_kit(roof, i);
        char diagonal[LENGTH_TEXT], low[LENGTH_TEXT], high[LENGTH_TEXT];
        page_tick(page, "frame %s: both diagonals %s and equal", roof->brackets[i].name,
                  page_length(roof, diagonal, hypot(kit->width, kit->height)));
        page_tick(page, "frame %s: bottom fitting %s to %s above the legs' lower ends",
                  roof->brackets[i].name, page_length(roof, low, kit->gap[0]),
                  page_length(roof, high, kit->gap[1]));
    }
    page_tick(page, "Every lag, bolt and clamp is snug; nothing rocks.");
    page_tick(page, "Relief valve discharge is piped to a safe place. Only now: FILL.");
}

void drilling_write(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    page_step(page, "Close: tape every + again from the OTHER rake, the %s one.%s",
              places_other_rake(answer), answer->burn > 0 ? " Same burn, same hold." : "");
    each_lag(page, write_closing);
    page_line(page, 4, "    Off by more than %s: STOP. Do not split the difference.",
              page_either(roof, "1/8\"", "3 mm"));
    page_step(page, "Probe BOTH faces of the rafter at each +, under where its flashing will lie.");
    each_lag(page, write_faces);
    page_line(page, 4, "    A face further off: STOP, the rafter is not where the survey has it.");
    page_step(page, "Drill to the flag, upright to the roof. Ring what the bit found. Seal, flash, "
                    "drive the lag.");
    each_lag(page, write_drill);
    page_line(page, 4,
              "    Edge or missed: drive no lag there. Patch the hole (flashing under the "
              "shingles, plug, sealant), write down where it is, and STOP.");
    write_lift(page);
}
