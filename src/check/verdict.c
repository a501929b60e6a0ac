/* The findings: kept as they come, put into order, and summed up. */
#include "rules.h"

#include <math.h>
#include <stdlib.h>

/* Inches; beyond every length that a file can hold.  A figure that is none is as broken as can be.
 */
#define MARGIN_MOST 1e9

double check_finite(double margin) {
    if (isnan(margin))
        return -MARGIN_MOST;
    return margin < -MARGIN_MOST ? -MARGIN_MOST : margin > MARGIN_MOST ? MARGIN_MOST : margin;
}

struct finding check_finding(enum rule rule, size_t bracket) {
    return (struct finding){.rule = rule,
                            .bracket = (int)bracket,
                            .row = CHECK_NONE,
                            .mark = CHECK_NONE,
                            .other_bracket = CHECK_NONE,
                            .other_row = CHECK_NONE,
                            .other_mark = CHECK_NONE,
                            .vent = CHECK_NONE};
}

void check_add(struct checking *checking, const struct finding *finding) {
    struct verdict *verdict = checking->verdict;
    if (verdict->count == checking->room) {
        size_t room = checking->room > 0 ? 2 * checking->room : 64;
        struct finding *list = realloc(verdict->findings, room * sizeof *list);
        if (list == NULL) {
            checking->starved = true;
            return;
        }
        verdict->findings = list;
        checking->room = room;
    }
    verdict->findings[verdict->count] = *finding;
    verdict->findings[verdict->count++].margin = check_finite(finding->margin);
}

static int compare_numbers(int a, int b) {
    return (a > b) - (a < b);
}

/* By rule, bracket, row, mark, then the other of a pair, then the vent. */
static int compare_findings(const void *left, const void *right) {
    const struct finding *a = left, *b = right;
    int order = compare_numbers((int)a->rule, (int)b->rule);
    if (order == 0)
        order = compare_numbers(a->bracket, b->bracket);
    if (order == 0)
        order = compare_numbers(a->row, b->row);
    if (order == 0)
        order = compare_numbers(a->mark, b->mark);
    if (order == 0)
        order = compare_numbers(a->other_bracket, b->other_bracket);
    if (order == 0)
        order = compare_numbers(a->other_row, b->other_row);
    if (order == 0)
        order = compare_numbers(a->other_mark, b->other_mark);
    return order != 0 ? order : compare_numbers(a->vent, b->vent);
}

static void count_in(struct verdict *verdict, const struct finding *finding) {
    verdict->holds = verdict->holds && length_holds(finding->margin);
    if (!check_rule_counted(finding->rule)) {
        verdict->hard_least = check_lesser(verdict->hard_least, finding->margin);
        return;
    }
    verdict->least = check_lesser(verdict->least, finding->margin);
    verdict->shortfall += check_greater(0, -finding->margin);
    const int sharers[] = {finding->bracket, finding->other_bracket};
    for (size_t i = 0; i < 2; i++) {
        if (sharers[i] == CHECK_NONE)
            continue;
        double *forgiveness = &verdict->forgiveness[sharers[i]];
        *forgiveness = check_lesser(*forgiveness, finding->margin);
    }
}

void check_sum_up(struct checking *checking) {
    struct verdict *verdict = checking->verdict;
    if (verdict->count > 0)
        qsort(verdict->findings, verdict->count, sizeof *verdict->findings, compare_findings);
    verdict->holes = checking->marks->count;
    verdict->holds = true;
    verdict->least = INFINITY;
    verdict->hard_least = INFINITY;
    verdict->shortfall = 0;
    for (size_t i = 0; i < checking->roof->bracket_count; i++)
        verdict->forgiveness[i] = INFINITY;
    for (size_t i = 0; i < verdict->count; i++)
        count_in(verdict, &verdict->findings[i]);
}

size_t verdict_course(const struct verdict *verdict, const struct marks *marks, size_t index) {
    const struct mark *mark = &marks->list[index];
    return mark->row == ROW_PIPE ? verdict->seats[index].course
                                 : verdict->rows[mark->bracket][mark->row].course;
}

void verdict_free(struct verdict *verdict) {
    if (verdict == NULL)
        return;
    free(verdict->findings);
    free(verdict->seats);
    free(verdict->order);
    free(verdict->rows);
    free(verdict->forgiveness);
    free(verdict);
}
