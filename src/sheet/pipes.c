/* Pipe holes: between the rafters, near their ports, and apart from the lag holes, so that nobody
 * drives a lag into one or bores through a rafter. */
#include "page.h"
#include "places.h"
#include "sections.h"
#include "words.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

static const struct pipe *pipe_of(const struct answer *answer, size_t mark) {
    return &answer->roof->pipes[answer->marks->list[mark].pipe];
}

/* Calls write for each pipe hole of a frame; the marks are sorted. */
static void each_hole(struct page *page, size_t bracket,
                      void (*write)(struct page *page, size_t mark)) {
    const struct marks *marks = page->answer->marks;
    for (size_t i = 0; i < marks->count; i++) {
        if (marks->list[i].row == ROW_PIPE && marks->list[i].bracket == bracket) {
            page->hole = &marks->list[i];
            write(page, i);
        }
    }
    page->hole = NULL;
}

static void every_hole(struct page *page, void (*write)(struct page *page, size_t mark)) {
    for (size_t i = 0; i < page->answer->roof->bracket_count; i++) {
        each_hole(page, i, write);
    }
}

/* ---- Chalk ---------------------------------------------------------------------------------- */

/* How many rafters have their middle before x at that height: the number of the one before it. */
static size_t rafters_before(const struct roof *roof, double x, double y) {
    size_t count = 0;
    while (count < roof->rafter_count) {
        const struct rafter *rafter = &roof->rafters[count];
        double twice =
            roof_rafter_face_x(rafter, SIDE_NEAR, y) + roof_rafter_face_x(rafter, SIDE_FAR, y);
        if (twice > 2 * x) {
            break;
        }
        count++;
    }
    return count;
}

/* What bounds a bay on one side, and how far its face is: `rafter 4 (its face 5-1/4" LEFT)`. */
static void name_bound(const struct answer *answer, const struct mark *hole, enum side side,
                       char name[PLACES_NAME]) {
    const struct roof *roof = answer->roof;
    size_t before = rafters_before(roof, hole->x, hole->y);
    char text[LENGTH_TEXT];
    if ((side == SIDE_NEAR && before == 0) || (side == SIDE_FAR && before == roof->rafter_count)) {
        snprintf(name, PLACES_NAME, "the %s %s", words_side(roof, side), places_edge(roof));
        return;
    }
    size_t rafter = side == SIDE_NEAR ? before - 1 : before;
    enum side face = side == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR;
    double off = fabs(roof_rafter_face_x(&roof->rafters[rafter], face, hole->y) - hole->x);
    snprintf(name, PLACES_NAME, "rafter %zu (its face %s %s)", rafter + 1,
             page_fine(roof, text, off), words_side(roof, side));
}

static void write_bay(struct page *page, const struct mark *hole) {
    char near[PLACES_NAME], far[PLACES_NAME];
    name_bound(page->answer, hole, SIDE_NEAR, near);
    name_bound(page->answer, hole, SIDE_FAR, far);
    page_line(page, 22, "%22sbetween %s", "", near);
    page_line(page, 22, "%22sand %s", "", far);
}

/* How far the hole lies from the port of its frame, along the eave and up the roof. */
static void write_port(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct mark *hole = &answer->marks->list[mark];
    const struct pipe *pipe = pipe_of(answer, mark);
    const struct standing *standing = &answer->marks->brackets[hole->bracket];
    double along = hole->x - standing->x - pipe->port_x;
    double up = hole->y - standing->y - pipe->port_y;
    char off_along[LENGTH_TEXT], off_up[LENGTH_TEXT];
    page_line(page, 22, "%22s%s %s of its port, %s %s it", "",
              page_length(roof, off_along, fabs(along)), words_way(roof, along),
              page_length(roof, off_up, fabs(up)), up < 0 ? "below" : "above");
}

static void write_butt_edge(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    size_t course = answer->verdict->seats[mark].course;
    if (course == 0 || course > roof->course_count) {
        return;
    }
    double above = answer->marks->list[mark].y - roof->courses[course - 1];
    char ordinal[WORDS_ORDINAL], hole[LENGTH_TEXT], edge[LENGTH_TEXT];
    page_line(page, 22, "%22s%s above the %s butt edge;", "", page_length(roof, hole, above),
              words_ordinal(ordinal, course));
    page_line(page, 22, "%22sits flashing's lower edge %s above it", "",
              page_length(roof, edge, above - pipe_of(answer, mark)->flashing.hole_up));
}

static void write_hole(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct mark *hole = &answer->marks->list[mark];
    const struct pipe *pipe = pipe_of(answer, mark);
    char name[PLACES_NAME], along[LENGTH_TEXT], text[LENGTH_TEXT];
    page_tick(page, "%-*s  %-27s %s", PLACES_SHORT, places_short_name(answer, mark, name),
              page_length(roof, along, places_reading(answer, hole->x, hole->y)),
              places_height(answer, text, hole->y));
    if (places_heights_differ(roof, hole->y)) {
        enum side other = answer->from == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR;
        page_line(page, 22, "%22sup the %s rake: %s", "", words_side(roof, other),
                  places_height_up(roof, other, text, hole->y));
    }
    write_bay(page, hole);
    write_port(page, mark);
    write_butt_edge(page, mark);
    page_line(page, 22, "%22sbore %s; no wood within %s of its edge", "",
              page_part(roof, along, pipe->bore), page_fine(roof, text, pipe->keep_rafter));
    const struct finding *least = places_least_at_mark(answer, mark);
    if (least != NULL) {
        page_line(page, 22, "%22sroom to miss %s (%s)", "", page_spare(roof, text, least->margin),
                  words_rule(least->rule));
    }
}

void pipes_write(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    char head[LENGTH_TEXT];
    if (roof->pipe_count == 0) {
        return;
    }
    page_step(
        page,
        "PIPE HOLES, apart from the lag holes. They come up BETWEEN rafters: DO NOT HIT WOOD. "
        "Chalk an O at each, never a +.");
    page_blank(page);
    snprintf(head, sizeof head, "from the %s %s", places_rake(answer), places_edge(roof));
    page_line(page, 6, "      %-*s  %-27s %s", PLACES_SHORT, "", head,
              !roof->outlined && places_leans(roof, answer->from) ? "up that rake" : "up the roof");
    every_hole(page, write_hole);
}

/* ---- Close, probe, bore --------------------------------------------------------------------- */

static void write_closing(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct mark *hole = &answer->marks->list[mark];
    char name[PLACES_NAME], text[LENGTH_TEXT];
    page_tick(page, "%-*s  %s", PLACES_SHORT, places_short_name(answer, mark, name),
              page_length(answer->roof, text, places_other_reading(answer, hole->x, hole->y)));
}

void pipes_write_closing(struct page *page) {
    every_hole(page, write_closing);
}

/* Where wood must not be felt: as far off the middle as the bore and what it keeps beside it. */
static void write_probing(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct pipe *pipe = pipe_of(answer, mark);
    char name[PLACES_NAME], text[LENGTH_TEXT];
    page_tick(page, "%-*s  in the middle, and %s LEFT and RIGHT of it: no wood", PLACES_SHORT,
              places_short_name(answer, mark, name),
              page_fine(answer->roof, text, pipe->bore / 2 + pipe->keep_rafter));
}

static void write_bore(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    char name[PLACES_NAME], text[LENGTH_TEXT];
    page_line(page, 6, "      %-*s  bore %-9s " SHEET_BORED "   [ ] seal  [ ] flash", PLACES_SHORT,
              places_short_name(answer, mark, name),
              page_part(answer->roof, text, pipe_of(answer, mark)->bore));
}

void pipes_write_boring(struct page *page) {
    if (page->answer->roof->pipe_count == 0) {
        return;
    }
    page_step(page, "Probe each O for wood, under where its flashing will lie.");
    every_hole(page, write_probing);
    page_line(page, 4,
              "    Wood felt: STOP. Do not shift the hole by eye; the rafter is not where the "
              "survey has it.");
    page_step(page, "Bore the pipe holes, through shingles and sheathing ONLY. Ring what the bit "
                    "found. Seal, flash, seal the pipe to its flashing.");
    every_hole(page, write_bore);
    page_line(page, 4,
              "    The bit meets wood: pull it out at once and STOP. A rafter cut is a matter for "
              "an engineer.");
}

/* ---- Elsewhere ------------------------------------------------------------------------------ */

static void write_closest(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct mark *hole = &answer->marks->list[mark];
    char name[PLACES_NAME], along[LENGTH_TEXT], up[LENGTH_TEXT];
    page_line(page, 6, "  X   %-*s  %-27s %s", PLACES_SHORT, places_short_name(answer, mark, name),
              page_length(answer->roof, along, places_reading(answer, hole->x, hole->y)),
              places_height(answer, up, hole->y));
}

void pipes_write_closest(struct page *page) {
    const struct roof *roof = page->answer->roof;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        bool has = false;
        for (size_t j = 0; j < roof->pipe_count; j++) {
            has = has || roof->pipes[j].bracket == i;
        }
        if (has) {
            page_line(page, 4, "  frame %s, pipe holes", roof->brackets[i].name);
            each_hole(page, i, write_closest);
        }
    }
}

void pipes_write_ports(struct page *page, size_t bracket) {
    const struct roof *roof = page->answer->roof;
    const struct kit *kit = roof_kit(roof, bracket);
    for (size_t i = 0; i < roof->pipe_count; i++) {
        const struct pipe *pipe = &roof->pipes[i];
        if (pipe->bracket != bracket) {
            continue;
        }
        double from_left = roof->corner == CORNER_LEFT ? pipe->port_x : kit->width - pipe->port_x;
        char along[LENGTH_TEXT], up[LENGTH_TEXT];
        page_tick(page, "frame %s, port of pipe %s: %s from its LEFT side, %s up",
                  roof->brackets[bracket].name, pipe->name, page_length(roof, along, from_left),
                  page_length(roof, up, pipe->port_y));
    }
}
