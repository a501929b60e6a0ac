#include "held.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static int set_up(void **state, size_t bracket_count, size_t pipe_count) {
    struct plain_knobs knobs = plain_knobs();
    struct trial *trial = calloc(1, sizeof *trial);
    assert_non_null(trial);
    knobs.bracket_count = bracket_count;
    knobs.pipe_count = pipe_count;
    trial->roof = plain_roof(&knobs);
    trial->marks = plain_marks(trial->roof);
    *state = trial;
    return 0;
}

int trial_set_up(void **state) {
    return set_up(state, 1, 0);
}

int trial_set_up_pair(void **state) {
    return set_up(state, 2, 0);
}

int trial_set_up_pipes(void **state) {
    return set_up(state, 1, 2);
}

int trial_tear_down(void **state) {
    struct trial *trial = *state;
    roof_free(trial->roof);
    marks_free(trial->marks);
    free(trial);
    return 0;
}

void trial_rebuild(struct trial *trial, const struct plain_knobs *knobs) {
    roof_free(trial->roof);
    marks_free(trial->marks);
    trial->roof = plain_roof(knobs);
    trial->marks = plain_marks(trial->roof);
}

struct edge *trial_edge(struct trial *trial, enum edge_kind kind) {
    for (size_t i = 0; i < trial->roof->edge_count; i++) {
        if (trial->roof->edges[i].kind == kind) {
            return &trial->roof->edges[i];
        }
    }
    fail_msg("no edge of that kind");
    return NULL;
}

void trial_shift(struct trial *trial, size_t bracket, double x, double y) {
    struct marks *marks = trial->marks;
    marks->brackets[bracket].x += x;
    marks->brackets[bracket].y += y;
    for (size_t i = 0; i < marks->count; i++) {
        if (marks->list[i].bracket == bracket) {
            marks->list[i].x += x;
            marks->list[i].y += y;
        }
    }
}

void trial_raise_row(struct trial *trial, size_t bracket, enum row row, double y) {
    for (size_t i = 0; i < trial->marks->count; i++) {
        struct mark *mark = &trial->marks->list[i];
        if (mark->bracket == bracket && mark->row == row) {
            mark->y += y;
        }
    }
}

void trial_drop(struct trial *trial, size_t mark) {
    struct marks *marks = trial->marks;
    for (size_t i = mark + 1; i < marks->count; i++) {
        marks->list[i - 1] = marks->list[i];
    }
    marks->count--;
}

struct verdict *held(const struct roof *roof, const struct marks *marks) {
    struct verdict *verdict = NULL;
    assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
    assert_non_null(verdict);
    return verdict;
}

struct finding about(enum rule rule, int bracket, int row, int mark) {
    return (struct finding){.rule = rule,
                            .bracket = bracket,
                            .row = row,
                            .mark = mark,
                            .other_bracket = CHECK_NONE,
                            .other_row = CHECK_NONE,
                            .other_mark = CHECK_NONE,
                            .vent = CHECK_NONE};
}

static bool same_subject(const struct finding *a, const struct finding *b) {
    return a->rule == b->rule && a->bracket == b->bracket && a->row == b->row &&
           a->mark == b->mark && a->other_bracket == b->other_bracket &&
           a->other_row == b->other_row && a->other_mark == b->other_mark && a->vent == b->vent;
}

const struct finding *held_find(const struct verdict *verdict, struct finding wanted) {
    for (size_t i = 0; i < verdict->count; i++) {
        if (same_subject(&verdict->findings[i], &wanted)) {
            return &verdict->findings[i];
        }
    }
    return NULL;
}

double held_margin(const struct verdict *verdict, struct finding wanted) {
    const struct finding *found = held_find(verdict, wanted);
    if (found == NULL) {
        fail_msg("no finding on %s, bracket %d, row %d, mark %d", check_rule_name(wanted.rule),
                 wanted.bracket, wanted.row, wanted.mark);
        return NAN;
    }
    return found->margin;
}

void expect_inches(double found, double wanted) {
    if (!(fabs(found - wanted) <= 1e-9)) {
        fail_msg("found %.17g, wanted %.17g", found, wanted);
    }
}

void expect_margin(const struct roof *roof, const struct marks *marks, struct finding about_what,
                   double wanted) {
    struct verdict *verdict = held(roof, marks);
    double margin = held_margin(verdict, about_what);
    verdict_free(verdict);
    expect_inches(margin, wanted);
    assert_int_equal(length_holds(margin), wanted >= 0);
}

void expect_broken(const struct roof *roof, const struct marks *marks, const char *names) {
    struct verdict *verdict = held(roof, marks);
    bool broken[RULE_COUNT] = {false};
    char found[400] = "";
    for (size_t i = 0; i < verdict->count; i++) {
        if (!length_holds(verdict->findings[i].margin)) {
            broken[verdict->findings[i].rule] = true;
        }
    }
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        size_t used = strlen(found);
        if (broken[rule]) {
            snprintf(found + used, sizeof found - used, "%s%s", used > 0 ? " " : "",
                     check_rule_name((enum rule)rule));
        }
    }
    bool holds = verdict->holds;
    verdict_free(verdict);
    assert_string_equal(found, names);
    assert_int_equal(holds, names[0] == '\0');
}
