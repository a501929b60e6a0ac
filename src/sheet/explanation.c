/* The page of `ruddle explain`: for each hole, line and frame the rules that hold it, the least
 * spare first, and how far it could still move. */
#include "explanation.h"

#include "broken.h"
#include "carrying.h"
#include "places.h"
#include "reasons.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define EASY_IN 12.0 /* what has more spare than this is told in one line */

enum { MARGIN = 17 };

/* Rules that were told of: their reasons stand at the end. */
struct told {
    bool rule[RULE_COUNT];
};

static void name_finding(const struct answer *answer, const struct scope *scope,
                         const struct finding *finding, char name[EXPLANATION_OTHER * 2]) {
    char other[EXPLANATION_OTHER];
    const bool pair = scope_other(answer->roof, answer->marks, scope, finding, other);
    snprintf(name, (size_t)EXPLANATION_OTHER * 2, "%s%s%s%s", words_rule(finding->rule),
             pair ? " (" : "", pair ? other : "", pair ? ")" : "");
}

static void write_finding(struct page *page, const struct scope *scope,
                          const struct finding *finding) {
    const struct answer *answer = page->answer;
    const bool holds = length_holds(finding->margin);
    char spare[LENGTH_TEXT + 16] = "holds", length[LENGTH_TEXT], name[EXPLANATION_OTHER * 2];
    struct broken broken;
    const struct scene scene = {answer->roof, answer->marks, answer->verdict, finding};
    broken_describe(&scene, &broken);
    if (!holds) {
        snprintf(spare, sizeof spare, "%s", "BROKEN");
    } else if (check_rule_counted(finding->rule)) {
        snprintf(spare, sizeof spare, "spare %s",
                 page_spare(answer->roof, length, finding->margin));
    }
    name_finding(answer, scope, finding, name);
    if (holds && !check_rule_counted(finding->rule)) {
        page_line(page, MARGIN, "  %-14s %s: needs %s", spare, name, broken.needs);
    } else {
        page_line(page, MARGIN, "  %-14s %s: needs %s; has %s%s%s", spare, name, broken.needs,
                  broken.has, holds ? "" : "; ", holds ? "" : broken.by);
    }
}

static bool is_easy(const struct finding *finding) {
    return check_rule_counted(finding->rule) && finding->margin > EASY_IN;
}

/* Counted before hard, then by spare. */
static bool comes_before(const struct finding *a, const struct finding *b) {
    const bool hard_a = !check_rule_counted(a->rule) && length_holds(a->margin);
    const bool hard_b = !check_rule_counted(b->rule) && length_holds(b->margin);
    return hard_a != hard_b ? hard_b : a->margin < b->margin;
}

static void write_easy(struct page *page, const struct scope *scope,
                       const struct scope_findings *findings) {
    char list[PAGE_TEXT / 2] = "";
    size_t used = 0;
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        const struct finding *finding = findings->least[rule];
        if (finding == NULL || !is_easy(finding) || used >= sizeof list) {
            continue;
        }
        char name[EXPLANATION_OTHER * 2], length[LENGTH_TEXT];
        name_finding(page->answer, scope, finding, name);
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s %s", used > 0 ? "; " : "",
                                 name, page_spare(page->answer->roof, length, finding->margin));
    }
    if (used > 0) {
        page_line(page, MARGIN, "  %-14s %s", "much to spare", list);
    }
}

static void write_scope(struct page *page, const struct scope *scope, struct told *told) {
    struct scope_findings findings;
    bool written[RULE_COUNT] = {false};
    scope_find(page->answer->verdict, scope, &findings);
    for (;;) {
        const struct finding *next = NULL;
        for (int rule = 0; rule < RULE_COUNT; rule++) {
            const struct finding *finding = findings.least[rule];
            if (finding != NULL && !written[rule] && !is_easy(finding) &&
                (next == NULL || comes_before(finding, next))) {
                next = finding;
            }
            told->rule[rule] = told->rule[rule] || finding != NULL;
        }
        if (next == NULL) {
            break;
        }
        write_finding(page, scope, next);
        written[next->rule] = true;
    }
    write_easy(page, scope, &findings);
}

static void write_strength(struct page *page, size_t mark) {
    const struct strength *strength = page->answer->strength;
    for (size_t i = 0; strength != NULL && i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        if (item->kind == STRENGTH_LAG && item->mark == (int)mark) {
            char text[CARRYING_TEXT];
            carrying_tell(page->answer->roof, page->answer->marks, item, text);
            page_line(page, MARGIN, "  %-14s %s", "strength", text);
        }
    }
}

static const char *way_name(const struct roof *roof, enum way way) {
    switch (way) {
    case WAY_UP:
        return "UP";
    case WAY_DOWN:
        return "DOWN";
    default:
        return words_side(roof, way == WAY_NEAR ? SIDE_NEAR : SIDE_FAR);
    }
}

/* `name`: of the rule that ends the move, where one does. */
static void write_move(struct page *page, const char *head, enum way way, const struct move *move,
                       const char *name) {
    const struct roof *roof = page->answer->roof;
    char by[LENGTH_TEXT];
    page_spare(roof, by, move->by);
    if (move->stopped == STOPPED_UNKNOWN) {
        page_line(page, MARGIN, "  %-14s %s: not looked at in time", head, way_name(roof, way));
        return;
    }
    if (move->stopped == STOPPED_NEVER) {
        page_line(page, MARGIN, "  %-14s %s %s and more", head, way_name(roof, way), by);
        return;
    }
    if (move->stopped == STOPPED_STRENGTH) {
        name = "what lags and struts carry";
    }
    if (length_holds(-move->by)) {
        page_line(page, MARGIN, "  %-14s %s not at all: %s", head, way_name(roof, way), name);
    } else {
        page_line(page, MARGIN, "  %-14s %s %s, then %s", head, way_name(roof, way), by, name);
    }
}

static void write_moves(struct page *page, const struct explanation *explanation, size_t mark,
                        enum way from, enum way to) {
    const struct answer *answer = page->answer;
    const struct mark *own = &answer->marks->list[mark];
    const struct scope scope = {(int)own->bracket, (int)own->row, (int)mark};
    for (int way = (int)from; way <= (int)to; way++) {
        const struct move *move = &explanation->moves[mark].way[way];
        char name[EXPLANATION_OTHER * 2] = "";
        if (move->stopped == STOPPED_RULE) {
            name_finding(answer, &scope, &move->finding, name);
        }
        write_move(page, way == (int)from ? "could move" : "", (enum way)way, move, name);
    }
}

/* As name_finding, but with the hole or line of its own that it is about. */
static void name_own(const struct answer *answer, const struct finding *finding, size_t frame,
                     char name[EXPLANATION_OTHER * 2]) {
    const struct scope scope = {(int)frame, CHECK_NONE, CHECK_NONE};
    const char *rule = words_rule(finding->rule);
    if (finding->bracket == (int)frame && finding->mark != CHECK_NONE) {
        char hole[PLACES_NAME];
        snprintf(name, (size_t)EXPLANATION_OTHER * 2, "%s (%s)", rule,
                 places_hole_name(answer->roof, answer->marks, (size_t)finding->mark, hole));
    } else if (finding->bracket == (int)frame && finding->row != CHECK_NONE) {
        snprintf(name, (size_t)EXPLANATION_OTHER * 2, "%s (%s line)", rule,
                 roof_row_word((enum row)finding->row));
    } else {
        name_finding(answer, &scope, finding, name);
    }
}

/* Where a frame stands beside where it was wanted, and why not there; nothing of less than a mark
 * of the tape. */
static void write_wish(struct page *page, const struct explanation *explanation, size_t frame) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    const struct wish *wish = &explanation->wishes[frame];
    const struct scope scope = {(int)frame, CHECK_NONE, CHECK_NONE};
    const double along = answer->marks->brackets[frame].x - roof->brackets[frame].want_x;
    const double up = answer->marks->brackets[frame].y - roof->brackets[frame].want_y;
    const bool aside = fabs(along) >= roof->tape, off = fabs(up) >= roof->tape;
    char x[LENGTH_TEXT], y[LENGTH_TEXT], name[EXPLANATION_OTHER * 2] = "";
    if (!aside && !off) {
        page_line(page, MARGIN, "  %-14s where it is wanted", "stands");
        return;
    }
    if (wish->broken) {
        name_finding(answer, &scope, &wish->finding, name);
    }
    page_line(page, MARGIN, "  %-14s %s%s%s%s%s%s%s of where it is wanted: %s%s%s", "stands",
              aside ? page_length(roof, x, fabs(along)) : "", aside ? " " : "",
              aside ? words_way(roof, along) : "", aside && off ? " and " : "",
              off ? page_length(roof, y, fabs(up)) : "", off ? " " : "",
              off ? (up > 0 ? "UP" : "DOWN") : "", name,
              wish->broken ? " would be broken there; " : "",
              answer->layout->state == LAYOUT_PROVED
                  ? "its holes find nothing as good nearer"
                  : "nothing as good was found nearer in the time given");
}

static void write_frame_moves(struct page *page, const struct explanation *explanation,
                              size_t frame) {
    for (int way = WAY_NEAR; way < WAY_COUNT; way++) {
        const struct move *move = &explanation->frames[frame].way[way];
        char name[EXPLANATION_OTHER * 2] = "";
        if (move->stopped == STOPPED_RULE) {
            name_own(page->answer, &move->finding, frame, name);
        }
        write_move(page, way == WAY_NEAR ? "could move" : "", (enum way)way, move, name);
    }
}

static void write_hole(struct page *page, const struct explanation *explanation, size_t index,
                       struct told *told) {
    const struct answer *answer = page->answer;
    const struct mark *mark = &answer->marks->list[index];
    const bool pipe = mark->row == ROW_PIPE;
    char name[PLACES_NAME], rafter[PLACES_NAME] = "", reading[LENGTH_TEXT], up[LENGTH_TEXT];
    page_blank(page);
    page_line(page, 4, "%s HOLE %s: %s%s%s from the %s %s%s%s", pipe ? "PIPE" : "LAG",
              places_hole_name(answer->roof, answer->marks, index, name),
              pipe ? "" : places_rafter(answer, index, rafter), pipe ? "" : ", ",
              page_length(answer->roof, reading, places_reading(answer, mark->x, mark->y)),
              places_rake(answer), places_edge(answer->roof), pipe ? ", up the roof " : "",
              pipe ? places_height(answer, up, mark->y) : "");
    const struct scope scope = {(int)mark->bracket, (int)mark->row, (int)index};
    write_scope(page, &scope, told);
    write_strength(page, index);
    write_moves(page, explanation, index, WAY_NEAR, pipe ? WAY_DOWN : WAY_FAR);
}

static bool is_asked(const struct explanation *explanation, size_t mark) {
    return explanation->mark == SIZE_MAX || explanation->mark == mark;
}

static void write_line(struct page *page, const struct explanation *explanation,
                       const struct line *line, struct told *told) {
    const struct answer *answer = page->answer;
    const struct scope scope = {(int)line->bracket, (int)line->row, CHECK_NONE};
    size_t any = SIZE_MAX;
    for (size_t i = 0; i < line->seat->count; i++) {
        const size_t mark = places_mark_along(answer, line, i);
        any = is_asked(explanation, mark) ? mark : any;
    }
    if (any == SIZE_MAX) {
        return;
    }
    char up[LENGTH_TEXT];
    page_blank(page);
    page_rule(page, '-');
    page_line(page, 4, "FRAME %s, %s line (%s), up the roof %s",
              answer->roof->brackets[line->bracket].name, roof_row_word(line->row),
              roof_hardware_word(places_hardware(answer, line)),
              places_height(answer, up, line->seat->y));
    write_scope(page, &scope, told);
    write_moves(page, explanation, any, WAY_UP, WAY_DOWN);
    for (size_t i = 0; i < line->seat->count; i++) {
        const size_t mark = places_mark_along(answer, line, i);
        if (is_asked(explanation, mark)) {
            write_hole(page, explanation, mark, told);
        }
    }
}

static bool has_asked(const struct explanation *explanation, size_t bracket) {
    return explanation->mark == SIZE_MAX ||
           explanation->answer.marks->list[explanation->mark].bracket == bracket;
}

static void write_places(struct page *page, const struct explanation *explanation,
                         struct told *told) {
    const struct answer *answer = page->answer;
    struct line lines[PLACES_LINES_MOST];
    const size_t count = places_lines(answer, lines);
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        const struct scope scope = {(int)i, CHECK_NONE, CHECK_NONE};
        if (has_asked(explanation, i)) {
            page_blank(page);
            page_rule(page, '-');
            page_line(page, 0, "FRAME %s", answer->roof->brackets[i].name);
            write_wish(page, explanation, i);
            write_scope(page, &scope, told);
            write_frame_moves(page, explanation, i);
        }
    }
    for (size_t i = 0; i < count; i++) {
        write_line(page, explanation, &lines[i], told);
    }
    for (size_t i = 0; i < answer->marks->count; i++) {
        if (answer->marks->list[i].row == ROW_PIPE && is_asked(explanation, i)) {
            write_hole(page, explanation, i, told);
        }
    }
}

static void write_reasons(struct page *page, const struct told *told) {
    page_blank(page);
    page_rule(page, '-');
    page_line(page, 0, "WHY THESE RULES, and where they come from");
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        if (told->rule[rule]) {
            page_line(page, 4, "  %s: %s [%s]", words_rule((enum rule)rule),
                      reasons_why((enum rule)rule), reasons_source((enum rule)rule));
        }
    }
    if (page->answer->strength != NULL) {
        page_line(page, 4,
                  "  strength: %s [%s] A screen, not a certificate: a licensed engineer "
                  "and local code decide.",
                  reasons_why_strength(), reasons_source_strength());
    }
}

static void write_head(struct page *page) {
    const struct answer *answer = page->answer;
    const char *const results[] = {
        [STATUS_OK] = "WORKS: every rule holds at the readings of its sheet",
        [STATUS_BLOCKED] = "does NOT work.   DO NOT DRILL.",
        [STATUS_UNDECIDED] = "NOT DECIDED in the time given.   DO NOT DRILL."};
    page_rule(page, '=');
    page_line(page, 0, "WHY EACH HOLE IS WHERE IT IS");
    page_line(page, 0, "%s", answer->roof->name);
    page_rule(page, '=');
    page_line(page, 0, "This roof %s", results[answer->status]);
}

static void write_meaning(struct page *page, const struct explanation *explanation) {
    page_blank(page);
    if (explanation->changes != NULL) {
        page_line(page, 0, "The closest fit, as it stands:");
    }
    page_line(page, 0,
              "Spare is what a hole may be off by before that rule breaks. \"Could move\" is told "
              "of one hole with all others where they are, up or down of a whole line, and of a "
              "frame with its holes where they are; further on the rule named breaks%s.",
              explanation->changes != NULL ? ", or one broken already gets worse" : "");
}

enum outcome explain_write(const struct explanation *explanation, FILE *stream) {
    struct page page = {.stream = stream, .answer = &explanation->answer};
    struct told told = {{false}};
    write_head(&page);
    if (explanation->changes != NULL) {
        freeing_write(&page, explanation);
    }
    if (explanation->moves != NULL) {
        write_meaning(&page, explanation);
        write_places(&page, explanation, &told);
        write_reasons(&page, &told);
    }
    return OUTCOME_DONE;
}
