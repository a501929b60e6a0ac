/* ON THE ROOF, once the chalk is down: close, probe, drill, lift. */
#include "page.h"
#include "places.h"
#include "sections.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

/* Inches: what a lag's rafter has to say is told where it is this close to the lag.  Common
 * practice, no source. */
#define NEARBY_IN 12.0

/* Calls write for each lag hole in chalking order. */
static void each_lag(struct page *page, void (*write)(struct page *page, size_t mark)) {
    struct line lines[PLACES_LINES_MOST];
    size_t count = places_lines(page->answer, lines);
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < lines[i].seat->count; j++) {
            const size_t mark = places_mark_along(page->answer, &lines[i], j);
            page->hole = &page->answer->marks->list[mark];
            write(page, mark);
        }
    }
    page->hole = NULL;
}

/* What is said behind a lag hole that was drilled before and stays. */
static const char *kept_word(const struct answer *answer, size_t mark) {
    return answer->done != NULL && answer->done[mark] ? "   DRILLED, KEPT" : "";
}

static void write_closing(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct mark *at = &answer->marks->list[mark];
    char name[PLACES_NAME], text[LENGTH_TEXT];
    page_tick(page, "%-*s  %s%s", PLACES_SHORT, places_short_name(answer, mark, name),
              page_length(answer->roof, text, places_other_reading(answer, at->x, at->y)),
              kept_word(answer, mark));
}

/* How far the two faces of a piece of wood are from a lag. */
struct faces {
    double left, right;
};

static struct faces faces_from(const struct roof *roof, double x, double near, double far) {
    bool left = roof->corner == CORNER_LEFT;
    return (struct faces){left ? x - near : far - x, left ? far - x : x - near};
}

static bool within(double y, const double reach[2]) {
    return length_holds(y - reach[0]) && length_holds(reach[1] - y);
}

/* Where a sister beside the lag's ply may have ended already, the outer faces are not to be had. */
static void write_own_faces(struct page *page, size_t mark, size_t seat) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct mark *at = &answer->marks->list[mark];
    const struct ply *own = &roof->plies[seat];
    for (size_t i = 0; i < roof->ply_count; i++) {
        const struct ply *ply = &roof->plies[i];
        if (ply->rafter != own->rafter || within(at->y, ply->reach)) {
            continue;
        }
        double middle = roof_ply_x(own, at->y);
        struct faces faces = faces_from(roof, at->x, middle - own->half, middle + own->half);
        char one[LENGTH_TEXT], other[LENGTH_TEXT];
        page_line(page, 22,
                  "%22sa ply beside it may end short of here: its own faces %s LEFT, %s "
                  "RIGHT",
                  "", page_fine(roof, one, faces.left), page_fine(roof, other, faces.right));
        return;
    }
}

/* Whether a ply's lower limit is the wall's, which all have in common, or its own. */
static bool begins_short(const struct roof *roof, const struct ply *ply) {
    bool shorter = !roof->has_wall_line;
    for (size_t i = 0; i < roof->ply_count; i++) {
        shorter = shorter || ply->reach[0] - roof->plies[i].reach[0] > LENGTH_TOLERANCE;
    }
    return shorter;
}

/* The ends of the lag's own ply that are not far off. */
static void write_reach(struct page *page, size_t mark, const struct ply *ply) {
    const struct answer *answer = page->answer;
    double y = answer->marks->list[mark].y;
    char text[LENGTH_TEXT];
    if (y - ply->reach[0] < NEARBY_IN) {
        page_line(page, 22, "%22srafter %zu: %s, no lag below %s up the roof", "", ply->rafter + 1,
                  begins_short(answer->roof, ply) ? "this ply begins" : "the wall",
                  places_height(answer, text, ply->reach[0]));
    }
    if (ply->reach[1] - y < NEARBY_IN) {
        page_line(page, 22, "%22srafter %zu: this ply ends, no lag above %s up the roof", "",
                  ply->rafter + 1, places_height(answer, text, ply->reach[1]));
    }
}

static void write_keepouts(struct page *page, size_t mark, size_t rafter) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    double y = answer->marks->list[mark].y;
    for (size_t i = 0; i < roof->keepout_count; i++) {
        const struct keepout *keepout = &roof->keepouts[i];
        if (keepout->rafter != rafter || keepout->y0 - y > NEARBY_IN ||
            y - keepout->y1 > NEARBY_IN) {
            continue;
        }
        char from[LENGTH_TEXT], to[LENGTH_TEXT];
        page_line(page, 22, "%22srafter %zu: no lag from %s to %s up the roof%s%s", "", rafter + 1,
                  places_height(answer, from, keepout->y0), places_height(answer, to, keepout->y1),
                  keepout->why[0] != '\0' ? ": " : "", keepout->why);
    }
}

/* Both outer faces of the member, a seam between plies cannot be felt from above; and what is close
 * by in it. */
static void write_faces(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    size_t ply = answer->verdict->seats[mark].ply;
    if (ply == SIZE_MAX) {
        return;
    }
    size_t number = roof->plies[ply].rafter;
    const struct rafter *rafter = &roof->rafters[number];
    const struct mark *at = &answer->marks->list[mark];
    struct faces faces = faces_from(roof, at->x, roof_rafter_face_x(rafter, SIDE_NEAR, at->y),
                                    roof_rafter_face_x(rafter, SIDE_FAR, at->y));
    char name[PLACES_NAME], one[LENGTH_TEXT], other[LENGTH_TEXT], tolerance[LENGTH_TEXT];
    if (answer->done != NULL && answer->done[mark]) {
        page_line(page, 6, "      %-*s  drilled, kept: the bit found solid wood, nothing to probe",
                  PLACES_SHORT, places_short_name(answer, mark, name));
        return;
    }
    page_tick(page, "%-*s  face %7s LEFT, %7s RIGHT, to %s or better", PLACES_SHORT,
              places_short_name(answer, mark, name), page_fine(roof, one, faces.left),
              page_fine(roof, other, faces.right), page_fine(roof, tolerance, rafter->tolerance));
    write_own_faces(page, mark, ply);
    if (rafter->lean > 0 || rafter->lean < 0) {
        page_line(page, 22, "%22srafter %zu leans: probe at the line itself", "", number + 1);
    }
    write_reach(page, mark, &roof->plies[ply]);
    write_keepouts(page, mark, number);
}

static void write_drill(struct page *page, size_t mark) {
    char name[PLACES_NAME];
    if (page->answer->done != NULL && page->answer->done[mark]) {
        page_line(page, 6, "      %-*s  DRILLED: DO NOT DRILL   [ ] seal  [ ] flash  [ ] lag snug",
                  PLACES_SHORT, places_short_name(page->answer, mark, name));
        return;
    }
    page_line(page, 6, "      %-*s  " SHEET_FOUND "   [ ] seal  [ ] flash  [ ] lag snug",
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
    page_step(page, "Close: tape every %s again from the OTHER %s, the %s one.%s%s",
              roof->pipe_count > 0 ? "+ and O" : "+", places_edge(roof), places_other_rake(answer),
              places_leans(roof, answer->from == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR)
                  ? " From where the line really crosses it."
                  : "",
              answer->burn > 0 ? " Same burn, same hold." : "");
    each_lag(page, write_closing);
    pipes_write_closing(page);
    page_line(page, 4, "    Off by more than %s: STOP. Do not split the difference.",
              page_either(roof, "1/8\"", "3 mm"));
    page_step(page, "Probe BOTH faces of the rafter at each +, under where its flashing will lie.");
    if (roof->has_wall_line) {
        char wall[LENGTH_TEXT];
        page_line(page, 6,
                  "      WALL: its plate's outer face is %s up the roof; lags stay uphill of it.",
                  places_height(answer, wall, roof->wall_line));
    }
    each_lag(page, write_faces);
    page_line(page, 4, "    A face further off: STOP, the rafter is not where the survey has it.");
    page_step(page, "Drill to the flag, upright to the roof. Ring what the bit found. Seal, flash, "
                    "drive the lag.");
    each_lag(page, write_drill);
    page_line(page, 4,
              "    Edge or missed: drive no lag there. Patch the hole (flashing under the "
              "shingles, plug, sealant), write down where it is, and STOP.");
    pipes_write_boring(page);
    write_lift(page);
}
