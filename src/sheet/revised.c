/* The revised sheet: before the ordinary one, what the holes already drilled change. */
#include "revised.h"

#include "page.h"
#include "places.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

static const char *drill_said(enum drill drill) {
    static const char *const words[] = {
        [DRILL_WOOD] = "solid", [DRILL_EDGE] = "edge", [DRILL_AIR] = "missed"};
    return words[drill];
}

/* `hole 2: A, top line, edge, at 5' 4" (64) along, 9' 2" up`. */
static void write_place(struct page *page, const struct hole *hole, const char *rest) {
    const struct answer *answer = page->answer;
    char along[LENGTH_TEXT], up[LENGTH_TEXT];
    page_length(answer->roof, along, places_reading(answer, hole->x, hole->y));
    page_tick(page, "hole %zu: frame %s, %s line, %s; %s from the %s, %s up. %s", hole->entry + 1,
              answer->roof->brackets[hole->bracket].name, roof_row_word(hole->row),
              drill_said(hole->found), along, places_rake(answer),
              places_height(answer, up, hole->y), rest);
}

static void write_kept(struct page *page, const struct revised *revised) {
    size_t count = 0;
    page_step(page, "KEEP these holes. Do not drill them again.");
    for (size_t m = 0; page->answer->marks && m < page->answer->marks->count; m++) {
        char name[PLACES_NAME], rest[PLACES_NAME + 32];
        for (size_t i = 0; revised->done[m] && i < revised->hole_count; i++) {
            const struct hole *hole = &revised->holes[i];
            const struct mark *mark = &page->answer->marks->list[m];
            if (hole->fate != FATE_KEPT || fabs(hole->x - mark->x) > LENGTH_TOLERANCE ||
                fabs(hole->y - mark->y) > LENGTH_TOLERANCE)
                continue;
            snprintf(rest, sizeof rest, "It is lag hole %s.",
                     places_hole_name(page->answer->roof, page->answer->marks, m, name));
            write_place(page, hole, rest);
            count++;
        }
    }
    if (count == 0)
        page_line(page, 4, "    none");
}

static const char *why_dead(const struct hole *hole) {
    switch (hole->fate) {
    case FATE_POOR:
        return hole->ply == SIZE_MAX ? " Its rafter takes no lag."
                                     : " Too near a face, an end or an old hole.";
    case FATE_GIVEN_UP:
        return " Given up: with it no layout keeps every rule.";
    default:
        return "";
    }
}

/* While the hole is open its rafter can be felt through it. */
static const char *probe_word(const struct revised *revised, const struct hole *hole) {
    return revised->learned[hole->rafter].knowledge == KNOWLEDGE_OPEN
               ? " PROBE BEFORE SEALING, as told above."
               : "";
}

static void tell_dead(const struct answer *answer, const struct revised *revised, size_t i,
                      char *rest, size_t size) {
    const struct hole *hole = &revised->holes[i];
    char name[PLACES_NAME], cover[2 * PLACES_NAME];
    if (hole->cover == REVISE_PATCH && hole->patch != i)
        snprintf(cover, sizeof cover, "The patch flashing of hole %zu covers it too.",
                 revised->holes[hole->patch].entry + 1);
    else if (hole->cover == REVISE_PATCH)
        snprintf(cover, sizeof cover, "ORDER A PATCH FLASHING, its hub over the hole.");
    else
        snprintf(cover, sizeof cover, "It ends under the flashing of %s.",
                 places_hole_name(answer->roof, answer->marks, (size_t)hole->cover, name));
    snprintf(rest, size, "%s%s%s", cover, why_dead(hole), probe_word(revised, hole));
}

static void write_dead(struct page *page, const struct revised *revised) {
    size_t count = 0;
    page_step(page, "SEAL these dead holes: wooden plug, sealant, and metal over them.");
    for (size_t i = 0; i < revised->hole_count; i++) {
        const struct hole *hole = &revised->holes[i];
        char rest[3 * PLACES_NAME];
        if (hole->fate == FATE_KEPT)
            continue;
        tell_dead(page->answer, revised, i, rest, sizeof rest);
        write_place(page, hole, rest);
        count++;
    }
    if (count == 0)
        page_line(page, 4, "    none");
}

static void write_new(struct page *page, const struct revised *revised) {
    const struct answer *answer = page->answer;
    const struct marks *marks = answer->marks;
    size_t count = 0;
    page_step(page, "DRILL these new holes, as the sheet below has them.");
    for (size_t m = 0; marks && m < marks->count; m++) {
        char name[PLACES_NAME], along[LENGTH_TEXT], up[LENGTH_TEXT];
        const struct mark *mark = &marks->list[m];
        if (revised->done[m])
            continue;
        page_length(answer->roof, along, places_reading(answer, mark->x, mark->y));
        page_tick(page, "%s: %s from the %s, %s up", places_hole_name(answer->roof, marks, m, name),
                  along, places_rake(answer), places_height(answer, up, mark->y));
        count++;
    }
    if (count == 0)
        page_line(page, 4, "    none");
    if (revised->fresh.verdict && marks)
        page_line(page, 4,
                  "    %zu new; a layout of this roof with nothing drilled yet would take %zu.",
                  count, revised->fresh.verdict->holes);
}

/* The height of some hole at that rafter: where a further probe is to be made. */
static double probe_height(const struct revised *revised, size_t rafter) {
    for (size_t i = 0; i < revised->hole_count; i++)
        if (revised->holes[i].rafter == rafter)
            return revised->holes[i].y;
    return 0;
}

static void write_pieces(struct page *page, const struct rafter *was, const struct learned *learned,
                         double y) {
    const struct answer *answer = page->answer;
    for (size_t i = 0; i < learned->left.count; i++) {
        char from[LENGTH_TEXT], to[LENGTH_TEXT];
        const double middle = was->at + was->lean * y;
        page_fine(answer->roof, from, places_reading(answer, middle + learned->left.from[i], y));
        page_fine(answer->roof, to, places_reading(answer, middle + learned->left.to[i], y));
        page_line(page, 8, "        its middle may lie from %s to %s", from, to);
    }
}

static void write_member(struct page *page, const struct revised *revised, size_t r) {
    const struct answer *answer = page->answer;
    const struct learned *learned = &revised->learned[r];
    struct rafter was = revised->rafters[r];
    const double y = probe_height(revised, r);
    char text[LENGTH_TEXT], off[LENGTH_TEXT], up[LENGTH_TEXT];
    was.at -= learned->shift;
    page_fine(answer->roof, off, learned->tolerance);
    switch (learned->knowledge) {
    case KNOWLEDGE_STANDS:
        page_line(page, 8, "    rafter %zu: where the survey has it, to %s", r + 1, off);
        return;
    case KNOWLEDGE_MOVED:
        page_line(page, 8, "    rafter %zu: %s %s of where the survey has it, now known to %s",
                  r + 1, page_fine(answer->roof, text, fabs(learned->shift)),
                  words_way(answer->roof, learned->shift), off);
        break;
    default:
        page_length(answer->roof, text,
                    places_reading(answer, was.at + was.lean * y + learned->probe, y));
        page_tick(page,
                  "rafter %zu: NOT KNOWN well enough, no lag goes into it. PROBE at %s from the "
                  "%s, %s up; write it down and lay out again.",
                  r + 1, text, places_rake(answer), places_height(answer, up, y));
    }
    write_pieces(page, &was, learned, y);
}

static void write_learned(struct page *page, const struct revised *revised) {
    page_step(page, "What the drill has taught about the rafters (from the zero corner).");
    for (size_t r = 0; r < revised->roof.rafter_count; r++)
        if (revised->tested[r])
            write_member(page, revised, r);
}

static void write_drilled(struct page *page, const struct revised *revised) {
    page_heading(page, SHEET_DRILLED);
    page_blank(page);
    if (page->answer->status != STATUS_OK)
        page_line(page, 0, "NO LAYOUT TO DRILL BY was found round these holes. DO NOT DRILL.");
    if (revised->given_up > 0)
        page_line(page, 0,
                  "Sets of kept holes tried: %zu. Good holes given up so that every rule holds: "
                  "%zu.",
                  revised->tries, revised->given_up);
    write_learned(page, revised);
    write_kept(page, revised);
    write_dead(page, revised);
    write_new(page, revised);
    page_blank(page);
}

enum outcome revised_write_sheet(const struct revised_answer *answer, FILE *stream) {
    struct page page = {.stream = stream, .answer = &answer->answer};
    write_drilled(&page, answer->revised);
    return sheet_write(&answer->answer, stream);
}

enum outcome revised_tell(const struct revised_answer *answer, const struct sheet_taker *taker) {
    struct page page = {.answer = &answer->answer, .taker = taker};
    write_drilled(&page, answer->revised);
    return sheet_tell(&answer->answer, taker);
}
