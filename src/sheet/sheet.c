#include "sheet.h"

#include "page.h"
#include "places.h"
#include "sections.h"
#include "words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *sheet_status_word(enum status status) {
    static const char *const words[] = {
        [STATUS_OK] = "ok", [STATUS_BLOCKED] = "blocked", [STATUS_UNDECIDED] = "undecided"};
    return words[status];
}

const char *sheet_stamp(const struct answer *answer) {
    if (answer->status == STATUS_OK) {
        return NULL;
    }
    return answer->marks != NULL && answer->verdict != NULL
               ? "DO NOT DRILL: closest fit (does NOT work)"
               : "DO NOT DRILL: this sheet gives no readings";
}

/* Every length of the header stands in one column. */
static void fact(struct page *page, const char *name, const char *text) {
    page_line(page, 15, "%-14s %s", name, text);
}

/* What was proved before the limit ended the search. */
static void write_bounds(struct page *page) {
    const struct answer *answer = page->answer;
    const struct layout *layout = answer->layout;
    const struct roof *roof = answer->roof;
    char least[LENGTH_TEXT], here[LENGTH_TEXT];
    if (answer->set_aside > 0) {
        page_line(page, 2,
                  "! NOT PROVED: %zu layout%s did not carry and %s set aside, with what lies close "
                  "by. A better one that carries may exist.",
                  answer->set_aside, answer->set_aside == 1 ? "" : "s",
                  answer->set_aside == 1 ? "was" : "were");
    } else {
        page_line(page, 2,
                  "! NOT PROVED: the limit of %.0f s ended the search. A better layout may exist.",
                  answer->limit_s);
    }
    if (isfinite(layout->bound_forgiveness)) {
        page_fine(roof, least, layout->bound_forgiveness);
        page_fine(roof, here, fabs(layout->forgiveness));
        page_line(page, 2, "  Proved: none has more room to miss than %s; this one %s %s.", least,
                  length_holds(layout->forgiveness) ? "has" : "is short by", here);
    }
    if (isfinite(layout->bound_cost)) {
        char hole[LENGTH_TEXT];
        page_length(roof, hole, roof->hole_worth);
        page_length(roof, least, layout->bound_cost);
        page_length(roof, here, layout->moved + roof->hole_worth * (double)layout->holes);
        page_line(page, 2,
                  "  Proved: with that room, frames moved plus %s a hole come to %s at least; "
                  "here they come to %s.",
                  hole, least, here);
    }
}

/* Struts' lags are searched for in the middle of their rafters.  On the marks of the tape they
 * stand off it by a little, which is to the good where a joint or a vent limits them. */
static void write_proof(struct page *page) {
    const struct answer *answer = page->answer;
    char text[LENGTH_TEXT], line[PAGE_TEXT];
    if (answer->verdict->least > answer->layout->forgiveness + LENGTH_TOLERANCE &&
        answer->layout->forgiveness < answer->roof->enough) {
        fact(page, "Proved", "none with its lags in the middle of their rafters has more");
        return;
    }
    page_fine(answer->roof, text, answer->roof->enough);
    snprintf(line, sizeof line, "no layout has more room to miss (counted up to %s)", text);
    fact(page, "Proved", line);
}

/* That nothing better exists is said only where it is proved. */
static void write_closest(struct page *page) {
    const struct answer *answer = page->answer;
    const struct layout *layout = answer->layout;
    bool none = layout->state == LAYOUT_PROVED ||
                (isfinite(layout->bound_forgiveness) && !length_holds(layout->bound_forgiveness));
    fact(page, "Result", "CLOSEST FIT (does NOT work).   DO NOT DRILL.");
    if (answer->verdict->holds) {
        fact(page, "",
             answer->none_carry ? "every rule holds, but no layout carries the load"
                                : "every rule holds, but it does not carry the load");
        return;
    }
    fact(page, "", none ? "no layout keeps every rule" : "none was found that keeps every rule");
    if (!length_holds(answer->verdict->least)) {
        char text[LENGTH_TEXT];
        page_line(page, 15, "%-14s short by %s", "Worst place",
                  page_short(answer->roof, text, -answer->verdict->least));
    }
}

static void write_result(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    char text[LENGTH_TEXT], line[PAGE_TEXT];
    if (answer->status == STATUS_OK) {
        fact(page, "Result", "WORKS: every rule holds at the readings printed here");
        snprintf(line, sizeof line, "%s: every %shole may be off by that much, any way",
                 page_spare(roof, text, answer->verdict->least),
                 roof->pipe_count > 0 ? "" : "lag ");
        fact(page, "Room to miss", line);
        if (answer->layout->state == LAYOUT_PROVED) {
            write_proof(page);
        }
    } else if (answer->status == STATUS_UNDECIDED) {
        snprintf(line, sizeof line,
                 "NOT DECIDED: the limit of %.0f s ended the search before any layout was found. "
                 "Give it more time. This sheet gives no readings.",
                 answer->limit_s);
        fact(page, "Result", line);
    } else if (answer->marks == NULL || answer->verdict == NULL) {
        fact(page, "Result",
             "NO LAYOUT: nothing can be placed on this roof under the rules, not even badly. "
             "This sheet gives no readings.");
    } else if (answer->tape_broke) {
        snprintf(line, sizeof line,
                 "NO READINGS: a layout fits this roof, but not when read to %s: no reading on "
                 "this tape keeps every rule. DO NOT DRILL. Take a finer tape and lay out again.",
                 page_length(roof, text, roof->tape));
        fact(page, "Result", line);
    } else {
        write_closest(page);
    }
}

/* The room to miss of each frame, and what sets it. */
static void write_frames(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        const struct finding *least =
            answer->status == STATUS_OK ? places_least_of_frame(answer, i) : NULL;
        const char *name = i == 0 ? "Frames" : "";
        if (least == NULL) {
            fact(page, name, roof->brackets[i].name);
        } else {
            char text[LENGTH_TEXT];
            page_line(page, 15, "%-14s %s: room to miss %s (%s)", name, roof->brackets[i].name,
                      page_spare(roof, text, least->margin), words_rule(least->rule));
        }
    }
}

/* From where to where the tape runs. */
static void write_ways(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    bool leans = places_leans(roof, answer->from);
    char line[PAGE_TEXT], text[LENGTH_TEXT];
    const char *up = ", tape on shingles";
    if (roof->outlined) {
        up = " and straight up, tape on shingles";
    } else if (leans) {
        up = " along the rake, tape on shingles";
    }
    snprintf(line, sizeof line,
             "along a line from the %s %s%s%s; up the roof from the eave edge%s; to %s",
             places_rake(answer), places_edge(roof),
             leans ? ", where that line really crosses it" : "",
             answer->from == SIDE_NEAR ? "" : " (NOT the zero corner's: its like edge there)", up,
             page_length(roof, text, roof->tape));
    fact(page, "Readings", line);
}

static void write_zero(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    char line[PAGE_TEXT];
    snprintf(line, sizeof line, "%s, as you stand at the eave and face the ridge",
             words_side(roof, SIDE_NEAR));
    fact(page, "Zero corner", line);
    fact(page, "Zero edges",
         roof->zero[0] != '\0' ? roof->zero
                               : "NOT NAMED. Write in what the tape hooks on: _______________");
    if (answer->marks == NULL) {
        return;
    }
    write_ways(page);
    if (answer->burn > 0) {
        char text[LENGTH_TEXT];
        page_length(roof, text, answer->burn);
        snprintf(line, sizeof line,
                 "every reading along a line includes %s: hold the %s line of the tape on the "
                 "roof's edge",
                 text, text);
        fact(page, "BURN", line);
    }
}

static void write_header(struct page *page) {
    const struct answer *answer = page->answer;
    if (page->taker == NULL) { /* others head each page themselves */
        page_rule(page, '=');
        page_line(page, 0, "%-*s %s", PAGE_WIDTH - 1 - (int)strlen(answer->fingerprint),
                  "CHALK SHEET", answer->fingerprint);
        page_line(page, 0, "%s", answer->roof->name);
        page_rule(page, '=');
    }
    write_result(page);
    write_frames(page);
    write_zero(page);
    fact(page, "Fingerprint", answer->fingerprint);
    page_blank(page);
    if (answer->tight) {
        page_line(page, 2,
                  "! TIGHT: the least room to miss is under %s. Work on a still day, "
                  "check every reading twice.",
                  page_either(answer->roof, "1/16\"", "1.6 mm"));
    }
    if (answer->layout->state == LAYOUT_FEASIBLE) {
        write_bounds(page);
    }
    doubts_write(page);
}

static void write_footer(struct page *page) {
    if (page->answer->status == STATUS_OK) {
        page_blank(page);
        page_line(page, 0,
                  "Chalked by ________________  Drilled by ________________  Date ____________");
    }
    if (page->taker != NULL) {
        return;
    }
    page_blank(page);
    page_rule(page, '=');
    page_line(page, 0, "%-*s %s", PAGE_WIDTH - 1 - (int)strlen(page->answer->fingerprint),
              "END OF SHEET. The same fingerprint stands on every part of it.",
              page->answer->fingerprint);
    page_rule(page, '=');
}

static enum outcome write_all(struct page *page) {
    const struct answer *answer = page->answer;
    const bool has_marks = answer->marks != NULL && answer->verdict != NULL;
    write_header(page);
    if (answer->status != STATUS_OK) {
        closest_write_reasons(page);
    }
    caution_write(page);
    if (answer->status == STATUS_OK) {
        enum outcome outcome = ground_write(page);
        if (outcome != OUTCOME_DONE) {
            return outcome;
        }
        onroof_write(page);
    } else if (has_marks) {
        closest_write_table(page);
    }
    write_footer(page);
    return OUTCOME_DONE;
}

enum outcome sheet_write(const struct answer *answer, FILE *stream) {
    struct page page = {.stream = stream, .answer = answer};
    return write_all(&page);
}

enum outcome sheet_tell(const struct answer *answer, const struct sheet_taker *taker) {
    struct page page = {.answer = answer, .taker = taker};
    return write_all(&page);
}
