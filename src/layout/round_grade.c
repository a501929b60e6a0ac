/* Ranks what readings come to.  A bound and a verdict are ranked by the same order. */
#include "round_search.h"

#include "length.h"

#include <math.h>

enum { JUDGE_COST = 16 }; /* about what one check costs, in choices tried; more with many marks */

static int compare(double a, double b) {
    return a > b + ROUND_SLACK ? 1 : a < b - ROUND_SLACK ? -1 : 0;
}

static int compare_counts(size_t a, size_t b) {
    return (a > b) - (a < b);
}

/* Positive where a comes before b; forgiveness is left to the caller, who has compared `broken`. */
static int compare_rest(const struct worth *a, const struct worth *b) {
    int order = compare(b->shortfall, a->shortfall);
    if (order == 0)
        order = compare_counts(b->bare, a->bare);
    if (order == 0)
        order = compare(b->moved, a->moved);
    if (order == 0)
        order = compare(b->away, a->away);
    return order;
}

int round_compare_worths(const struct worth *a, const struct worth *b) {
    int order = compare_counts(b->broken, a->broken);
    if (order == 0)
        order = compare(a->forgiveness, b->forgiveness);
    return order != 0 ? order : compare_rest(a, b);
}

/* Positive where a is the better layout: see layout_round for the order. */
static int compare_grades(const struct grade *a, const struct grade *b) {
    int order = compare_counts(b->sum.broken, a->sum.broken);
    for (size_t i = 0; i < a->count && order == 0; i++)
        order = compare(a->forgiveness[i], b->forgiveness[i]);
    return order != 0 ? order : compare_rest(&a->sum, &b->sum);
}

/* A piece's forgiveness into the list, worst first.  What holds within the tolerance counts as 0,
 * so that it ranks with what holds exactly. */
static void grade_add(struct grade *grade, const struct worth *worth) {
    double forgiveness = worth->forgiveness;
    if (forgiveness < 0 && length_holds(forgiveness))
        forgiveness = 0;
    size_t at = grade->count++;
    for (; at > 0 && grade->forgiveness[at - 1] > forgiveness; at--)
        grade->forgiveness[at] = grade->forgiveness[at - 1];
    grade->forgiveness[at] = forgiveness;
    grade->sum = round_both(grade->sum, *worth);
}

static void grade_end(struct grade *grade, double shortfall) {
    grade->sum.shortfall += shortfall;
    if (grade->forgiveness[0] >= 0)
        grade->sum.shortfall = 0;
}

struct worth round_piece_worth(const struct search *search, size_t piece, size_t depth) {
    const struct worth *parts = search->parts[piece];
    struct worth worth = parts[PART_PLACE];
    for (size_t row = 0; row < ROUND_LINES; row++)
        worth = round_both(worth, parts[row]);
    worth.forgiveness =
        length_lesser(worth.forgiveness, search->pairs[depth * search->count + piece]);
    return worth;
}

/* -1, 0 or 1 as the first choices made come before those of the best found, are the same, or come
 * after them. */
static int compare_steps(const struct search *search, size_t depth) {
    for (size_t i = 0; i < depth; i++)
        if (*search->choices[i].step != search->best[i])
            return *search->choices[i].step < search->best[i] ? -1 : 1;
    return 0;
}

bool round_promising(const struct search *search, size_t depth) {
    struct grade grade = {0};
    for (size_t p = 0; p < search->count; p++) {
        const struct worth worth = round_piece_worth(search, p, depth);
        if (!(worth.forgiveness > -INFINITY))
            return false;
        grade_add(&grade, &worth);
    }
    if (search->keep_hard && grade.sum.broken > 0)
        return false;
    if (!search->found)
        return true;
    grade_end(&grade, search->pairs_short[depth]);
    const int order = compare_grades(&grade, &search->best_grade);
    return order > 0 || (order == 0 && compare_steps(search, depth) <= 0);
}

bool round_is_strut_rule(enum rule rule) {
    return rule == RULE_STRUT_CLAMP || rule == RULE_STRUT_SPAN || rule == RULE_STRUT_STOCK;
}

/* check's findings on one bracket's hard rules. */
static struct worth hard_findings(const struct search *search, const struct verdict *verdict,
                                  size_t bracket) {
    struct worth worth = {0};
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (finding->bracket != (int)bracket || check_rule_counted(finding->rule))
            continue;
        if (!length_holds(finding->margin))
            worth.broken++;
        if (round_is_strut_rule(finding->rule) &&
            finding->margin < search->roof->tape - ROUND_SLACK)
            worth.bare++;
    }
    return worth;
}

static bool keeps(const struct search *search, const struct verdict *verdict) {
    size_t mark = 0;
    for (size_t p = 0; p < search->count; p++)
        for (size_t row = 0; row < ROUND_LINES; row++) {
            const struct line *line = &search->pieces[p]->lines[row];
            if (row < ROW_COUNT && line->count > 0 && verdict->rows[p][row].course != line->course)
                return false;
            for (size_t i = 0; i < line->count; i++, mark++)
                if (row < ROW_COUNT ? verdict->seats[mark].ply != line->lags[i].ply
                                    : verdict->seats[mark].course != line->course)
                    return false;
        }
    return true;
}

static double away(const struct piece *piece) {
    double sum =
        piece->across.away[piece->place / ROUND_STEPS] + piece->up.away[piece->place % ROUND_STEPS];
    for (size_t row = 0; row < ROUND_LINES; row++) {
        const struct line *line = &piece->lines[row];
        if (line->count > 0)
            sum += line->height.away[line->step];
        for (size_t i = 0; i < line->count; i++)
            sum += line->lags[i].reading.away[line->lags[i].step];
    }
    return sum;
}

/* Takes the choices made as the best found, if check's verdict on them makes them so. */
static void weigh(struct search *search, const struct verdict *verdict) {
    struct grade grade = {0};
    for (size_t p = 0; p < search->count; p++) {
        const struct piece *piece = search->pieces[p];
        struct worth worth = hard_findings(search, verdict, p);
        worth.forgiveness = length_lesser(verdict->forgiveness[p], search->roof->enough);
        worth.moved = round_moved(search->roof, piece, piece->place);
        worth.away = away(piece);
        grade_add(&grade, &worth);
    }
    grade_end(&grade, verdict->shortfall);
    if (search->found) {
        const int order = compare_grades(&grade, &search->best_grade);
        if (order < 0 || (order == 0 && compare_steps(search, search->depth) >= 0))
            return;
    }
    search->found = true;
    search->best_grade = grade;
    for (size_t i = 0; i < search->depth; i++)
        search->best[i] = *search->choices[i].step;
    for (size_t p = 0; p < search->count; p++) {
        search->best_forgiveness[p] = length_lesser(verdict->forgiveness[p], search->roof->enough);
        search->best_hard[p] = hard_findings(search, verdict, p);
    }
}

void round_judge(struct search *search) {
    const size_t lags = search->marks->count;
    const size_t cost = JUDGE_COST + lags * lags / 4;
    search->budget -= cost < search->budget ? cost : search->budget;
    size_t next = 0;
    for (size_t p = 0; p < search->count; p++)
        round_write(search->pieces[p], p, search->marks, &next);
    for (size_t i = 0; i < lags; i++)
        if (search->marks->list[i].row == ROW_PIPE)
            search->marks->list[i].pipe = search->pipe_seen[search->marks->list[i].pipe];
    struct verdict *verdict = NULL;
    if (check_marks(&search->seen, search->marks, &verdict) != OUTCOME_DONE) {
        search->failed = true;
        return;
    }
    if (keeps(search, verdict))
        weigh(search, verdict);
    verdict_free(verdict);
}
