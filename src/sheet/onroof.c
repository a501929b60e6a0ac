/* ON THE ROOF, chalk: zero, tape test, lines, frame corners, lag holes. */
#include "page.h"
#include "places.h"
#include "sections.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static void write_zero(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const char *edge = places_edge(roof);
    page_step(page,
              "Chalk a big 0 on the %s %s at the eave: every reading along a line starts at that "
              "%s. Chalk L on the left %s, R on the right, as you face the ridge.",
              places_rake(answer), edge, edge, edge);
    if (places_leans(roof, answer->from)) {
        page_tick(page,
                  "The %s %s is not straight above that 0: each line has its own zero, the real "
                  "%s where that very line crosses it.",
                  places_rake(answer), edge, edge);
    }
    if (roof->zero[0] != '\0') {
        page_tick(page, "The tape hooks on%s: %s",
                  answer->from == SIDE_NEAR ? "" : " the like edge there as at the zero corner",
                  roof->zero);
    }
    page_tick(page, "Every reading is from that one zero. Never add one reading to the next.");
    if (answer->burn > 0) {
        char burn[LENGTH_TEXT];
        page_tick(page,
                  "BURN: hold the %s line of the tape on the roof's edge, not the hook. The "
                  "readings along the lines allow for it. Up the roof, use the hook.",
                  page_length(roof, burn, answer->burn));
    }
}

static bool is_at_eave(const struct roof *roof, const struct rafter *rafter) {
    return rafter->at > roof_rake_x(roof, SIDE_NEAR, 0) &&
           rafter->at < roof_rake_x(roof, SIDE_FAR, 0);
}

/* A sound rafter that the tape can be tried on at the eave: single if there is one, else the first;
 * SIZE_MAX where there is none. */
static size_t test_rafter(const struct roof *roof) {
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct rafter *rafter = &roof->rafters[i];
        if (!rafter->sound || !is_at_eave(roof, rafter)) {
            continue;
        }
        if (rafter->plies == 1) {
            return i;
        }
        found = found == SIZE_MAX ? i : found;
    }
    return found;
}

static void write_tape_test(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    size_t rafter = test_rafter(roof);
    if (rafter == SIZE_MAX) {
        return;
    }
    char text[LENGTH_TEXT], tolerance[LENGTH_TEXT];
    const struct rafter *test = &roof->rafters[rafter];
    page_step(page,
              "Tape test. Find the middle of rafter %zu (from the %s) at the eave, by probing.",
              rafter + 1, words_side(roof, SIDE_NEAR));
    page_tick(page, "It reads  %s, to %s or better.",
              page_length(roof, text, places_reading(answer, test->at, 0)),
              page_fine(roof, tolerance, test->tolerance));
    page_line(page, 6, "      If not, STOP: wrong edge, wrong end or wrong survey.");
}

/* One height up both rakes, one for each where they lean apart; where the face has hips, straight
 * up from the eave. */
static void write_height(struct page *page, double y) {
    const struct roof *roof = page->answer->roof;
    char text[LENGTH_TEXT];
    if (roof->outlined) {
        page_tick(page, "tape   %-26s straight up from the eave, in two places",
                  places_height(page->answer, text, y));
        return;
    }
    if (!places_heights_differ(roof, y)) {
        page_tick(page, "tape   %-26s up BOTH rakes, tape on shingles",
                  places_height(page->answer, text, y));
        return;
    }
    for (int side = 0; side < SIDE_COUNT; side++) {
        page_tick(page, "tape   %-26s up the %s rake, tape on shingles",
                  places_height_up(roof, (enum side)side, text, y),
                  words_side(roof, (enum side)side));
    }
}

/* The line by its height up the rakes and by the butt edges, which know nothing of each other. */
static void write_line(struct page *page, const struct line *line) {
    const struct roof *roof = page->answer->roof;
    const struct kit *kit = roof_kit(roof, line->bracket);
    char text[LENGTH_TEXT], ordinal[WORDS_ORDINAL];
    write_height(page, line->seat->y);
    if (places_leans(roof, SIDE_NEAR) || places_leans(roof, SIDE_FAR)) {
        double length = roof_rake_x(roof, SIDE_FAR, line->seat->y) -
                        roof_rake_x(roof, SIDE_NEAR, line->seat->y);
        page_line(page, 13, "             there the roof is %s wide from %s to %s",
                  page_length(roof, text, length), places_edge(roof), places_edge(roof));
    }
    size_t course = line->seat->course;
    if (course == 0 || course > roof->course_count) {
        return;
    }
    double edge = roof->courses[course - 1];
    page_tick(page, "count  %s butt edge above the eave edge (tapes at %s)",
              words_ordinal(ordinal, course), places_height(page->answer, text, edge));
    page_line(page, 13, "             the line is %s above that butt edge;",
              page_length(roof, text, line->seat->y - edge));
    page_line(page, 13, "             each flashing's lower edge sits %s above it",
              page_length(roof, text, line->seat->y - kit->flashing.hole_up - edge));
    if (roof_has_joints(roof)) {
        page_line(page, 13,
                  "             and its sides %s or more off the joints of the course above",
                  page_length(roof, text, roof->keep_joint));
    }
    page_tick(page, "The two ways agree to %s or better (if not: STOP). SNAP the taped line.",
              page_either(roof, "1/2\"", "12 mm"));
}

static void write_line_heading(struct page *page, const struct line *line, size_t number,
                               size_t count) {
    page_blank(page);
    page_line(page, 4, "  LINE %zu of %zu: frame %s, %s line (%s)", number, count,
              page->answer->roof->brackets[line->bracket].name, roof_row_word(line->row),
              roof_hardware_word(places_hardware(page->answer, line)));
}

static void write_lines(struct page *page, const struct line *lines, size_t count) {
    page_step(page, "Find each line in two ways, lowest line first, then snap it. Label it.");
    for (size_t i = 0; i < count; i++) {
        write_line_heading(page, &lines[i], i + 1, count);
        write_line(page, &lines[i]);
    }
}

static void write_corner(struct page *page, const char *name, double x, double y) {
    const struct roof *roof = page->answer->roof;
    char along[LENGTH_TEXT], up[LENGTH_TEXT];
    page_tick(page, "%-13s %-27s %s", name,
              page_length(roof, along, places_reading(page->answer, x, y)),
              places_height(page->answer, up, y));
    if (places_heights_differ(roof, y)) {
        enum side other = page->answer->from == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR;
        page_line(page, 20, "%47s %s up the %s rake", "", places_height_up(roof, other, up, y),
                  words_side(roof, other));
    }
}

static void write_corners(struct page *page, size_t bracket) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct kit *kit = roof_kit(roof, bracket);
    const struct standing *standing = &answer->marks->brackets[bracket];
    bool left = roof->corner == CORNER_LEFT;
    double left_x = standing->x + (left ? 0 : kit->width);
    double right_x = standing->x + (left ? kit->width : 0);
    char head[LENGTH_TEXT], text[LENGTH_TEXT];
    page_blank(page);
    page_line(page, 4, "  FRAME %s", roof->brackets[bracket].name);
    char way_up[LENGTH_TEXT] = "up the roof";
    if (!roof->outlined && places_leans(roof, answer->from)) {
        snprintf(way_up, sizeof way_up, "up the %s rake", places_rake(answer));
    }
    snprintf(head, sizeof head, "from the %s %s", places_rake(answer), places_edge(roof));
    page_line(page, 6, "      %-13s %-27s %s", "corner", head, way_up);
    write_corner(page, "lower LEFT", left_x, standing->y);
    write_corner(page, "lower RIGHT", right_x, standing->y);
    write_corner(page, "upper LEFT", left_x, standing->y + kit->height);
    write_corner(page, "upper RIGHT", right_x, standing->y + kit->height);
    page_tick(page, "%-13s %-27s both, and EQUAL to each other", "diagonals",
              page_length(roof, text, hypot(kit->width, kit->height)));
}

/* A foot's leg lands to one side of its lag: which, and how far off. */
static void write_leg(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct mark *at = &answer->marks->list[mark];
    size_t leg = answer->verdict->seats[mark].leg;
    if (answer->marks->brackets[at->bracket].hardware[at->row] != HARDWARE_FEET ||
        leg == SIZE_MAX) {
        return;
    }
    const struct kit *kit = roof_kit(roof, at->bracket);
    double offset = answer->marks->brackets[at->bracket].x + kit->legs[leg] - at->x;
    char text[LENGTH_TEXT];
    page_line(page, 22, "%22sleg lands %s %s of this lag", "",
              page_length(roof, text, fabs(offset)), words_way(roof, offset));
}

static void write_lag(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    char name[PLACES_NAME], rafter[PLACES_NAME], text[LENGTH_TEXT];
    const struct mark *at = &answer->marks->list[mark];
    page->hole = at;
    page_tick(page, "%-*s  %-27s %s", PLACES_SHORT, places_short_name(answer, mark, name),
              page_length(roof, text, places_reading(answer, at->x, at->y)),
              places_rafter(answer, mark, rafter));
    write_leg(page, mark);
    if (answer->done != NULL && answer->done[mark]) {
        page_line(page, 22, "%22sDRILLED ALREADY, solid: chalk it to check, do not drill", "");
    }
    const struct finding *least = places_least_at_mark(answer, mark);
    if (least != NULL) {
        page_line(page, 22, "%22sroom to miss %s (%s)", "", page_spare(roof, text, least->margin),
                  words_rule(least->rule));
    }
    page->hole = NULL;
}

/* Where a strut ends and where its clamps hold, chalked on its line. */
static void write_strut(struct page *page, const struct line *line) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct kit *kit = roof_kit(roof, line->bracket);
    bool rising = answer->from == SIDE_NEAR;
    double ends[2] = {rising ? line->seat->from : line->seat->to,
                      rising ? line->seat->to : line->seat->from};
    char text[LENGTH_TEXT], offset[LENGTH_TEXT];
    for (size_t i = 0; i < 2; i++) {
        page_tick(page, "%-*s  %s", PLACES_SHORT, i == 0 ? "strut begins" : "strut ends",
                  page_length(roof, text, places_reading(answer, ends[i], line->seat->y)));
        for (size_t j = 0; i == 0 && j < kit->leg_count; j++) {
            size_t leg = rising ? j : kit->leg_count - 1 - j;
            double clamp = line->seat->clamps[leg];
            double away = clamp - answer->marks->brackets[line->bracket].x - kit->legs[leg];
            page_tick(page, "clamp, leg %-3zu  %-27s clamp offset %s %s",
                      places_leg_number(roof, kit, leg),
                      page_length(roof, text, places_reading(answer, clamp, line->seat->y)),
                      page_length(roof, offset, fabs(away)), words_way(roof, away));
        }
    }
}

static void write_lags(struct page *page, const struct line *lines, size_t count) {
    const struct answer *answer = page->answer;
    page_step(page,
              SHEET_HOLES " Chalk a + on its line at each reading, every one from the 0 of the %s "
                          "%s. Rafters count from the %s, legs of a frame from its LEFT side.",
              places_rake(answer), places_edge(answer->roof), words_side(answer->roof, SIDE_NEAR));
    for (size_t i = 0; i < count; i++) {
        write_line_heading(page, &lines[i], i + 1, count);
        for (size_t j = 0; j < lines[i].seat->count; j++) {
            write_lag(page, places_mark_along(answer, &lines[i], j));
        }
        if (places_hardware(answer, &lines[i]) == HARDWARE_STRUT) {
            page_line(page, 4, "      Chalk a small | for the strut itself; do not drill there:");
            write_strut(page, &lines[i]);
        }
    }
}

void onroof_write(struct page *page) {
    struct line lines[PLACES_LINES_MOST];
    size_t count = places_lines(page->answer, lines);
    page_heading(page, SHEET_ROOF);
    write_zero(page);
    corner_write(page);
    write_tape_test(page);
    write_lines(page, lines, count);
    page_step(page, "Chalk the four corners of each frame. Nothing is drilled there.");
    for (size_t i = 0; i < page->answer->roof->bracket_count; i++) {
        write_corners(page, i);
    }
    page_line(page, 4, "    Diagonals differ by more than %s: STOP, a line is off.",
              page_either(page->answer->roof, "1/8\"", "3 mm"));
    write_lags(page, lines, count);
    pipes_write(page);
    drilling_write(page);
}
