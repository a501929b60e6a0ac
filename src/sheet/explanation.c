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

/* `name`: of what ends the move, where something does. */
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
    if (length_holds(-move->by)) {
        page_line(page, MARGIN, "  %-14s %s not at all: %s", head, way_name(roof, way), name);
    } else {
        page_line(page, MARGIN, "  %-14s %s %s, then %s", head, way_name(roof, way), by, name);
    }
}

/* As name_finding; of a frame with the hole or line of its own that it is about. */
static void name_stop(const struct answer *answer, const struct scope *scope,
                      const struct finding *finding, char name[EXPLANATION_OTHER * 2]) {
    const char *rule = words_rule(finding->rule);
    const bool own = scope->row == CHECK_NONE && finding->bracket == scope->bracket;
    if (own && finding->mark != CHECK_NONE) {
        char hole[PLACES_NAME];
        snprintf(name, (size_t)EXPLANATION_OTHER * 2, "%s (%s)", rule,
                 places_hole_name(answer->roof, answer->marks, (size_t)finding->mark, hole));
    } else if (own && finding->row != CHECK_NONE) {
        snprintf(name, (size_t)EXPLANATION_OTHER * 2, "%s (%s line)", rule,
                 roof_row_word((enum row)finding->row));
    } else {
        name_finding(answer, scope, finding, name);
    }
}

static void write_moves(struct page *page, const struct scope *scope, const struct moves *moves,
                        enum way from, enum way to) {
    for (int way = (int)from; way <= (int)to; way++) {
        const struct move *move = &moves->way[way];
        char name[EXPLANATION_OTHER * 2] = "what lags and struts carry";
        if (move->stopped == STOPPED_RULE) {
            name_stop(page->answer, scope, &move->finding, name);
        }
        write_move(page, way == (int)from ? "could move" : "", (enum way)way, move, name);
    }
}

/* How far from where it was wanted: "2\" LEFT and 1/2\" UP"; empty for less than a mark of the
 * tape. */
enum { OFFSET_TEXT = 2 * LENGTH_TEXT + 32 };
static void offset(const struct roof *roof, double along, double up, char text[OFFSET_TEXT]) {
    char length[LENGTH_TEXT];
    int used = 0;
    text[0] = '\0';
    if (fabs(along) >= roof->tape) {
        used = snprintf(text, OFFSET_TEXT, "%s %s", page_length(roof, length, fabs(along)),
                        words_way(roof, along));
    }
    if (fabs(up) >= roof->tape) {
        snprintf(text + used, (size_t)(OFFSET_TEXT - used), "%s%s %s", used > 0 ? " and " : "",
                 page_length(roof, length, fabs(up)), up > 0 ? "UP" : "DOWN");
    }
}

/* Where a frame stands beside where it was wanted, and why not there. */
static void write_wish(struct page *page, const struct explanation *explanation,
                       const struct scope *scope) {
    const struct answer *answer = page->answer;
    const struct standing *standing = &answer->marks->brackets[scope->bracket];
    const struct bracket *wanted = &answer->roof->brackets[scope->bracket];
    const struct wish *wish = &explanation->wishes[scope->bracket];
    char text[OFFSET_TEXT], name[EXPLANATION_OTHER * 2] = "";
    offset(answer->roof, standing->x - wanted->want_x, standing->y - wanted->want_y, text);
    if (text[0] == '\0') {
        page_line(page, MARGIN, "  %-14s where it is wanted", "stands");
        return;
    }
    if (wish->broken) {
        name_finding(answer, scope, &wish->finding, name);
    }
    page_line(page, MARGIN, "  %-14s %s of where it is wanted: %s%s%s", "stands", text, name,
              wish->broken ? " would be broken there; " : "",
              answer->layout->state == LAYOUT_PROVED
                  ? "its holes find nothing as good nearer"
                  : "nothing as good was found nearer in the time given");
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
    write_moves(page, &scope, &explanation->moves[index], WAY_NEAR, pipe ? WAY_DOWN : WAY_FAR);
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
    const struct scope hole = {(int)line->bracket, (int)line->row, (int)any};
    write_moves(page, &hole, &explanation->moves[any], WAY_UP, WAY_DOWN);
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
            write_wish(page, explanation, &scope);
            write_scope(page, &scope, told);
            write_moves(page, &scope, &explanation->frames[i], WAY_NEAR, WAY_DOWN);
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
