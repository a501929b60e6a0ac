#include "round_brute.h"

#include "check.h"
#include "length.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

enum { READINGS_MOST = 24, STEPS = 5 };

/* All readings of a layout, in the order that settles ties: places first, then row by row the
 * height and the marks. */
struct readings {
    double plain[READINGS_MOST];
    double exact[READINGS_MOST];
    size_t count;
};

static void add_reading(const struct roof *roof, struct readings *readings, double exact) {
    assert_true(readings->count < READINGS_MOST);
    readings->exact[readings->count] = exact;
    readings->plain[readings->count++] = length_to_tape(exact, roof->tape);
}

/* True where a row begins at that mark. */
static bool begins_row(const struct marks *marks, size_t i) {
    return i == 0 || marks->list[i].bracket != marks->list[i - 1].bracket ||
           marks->list[i].row != marks->list[i - 1].row;
}

static struct readings read_layout(const struct roof *roof, const struct marks *marks,
                                   enum side from) {
    struct readings readings = {.count = 0};
    for (size_t b = 0; b < marks->bracket_count; b++) {
        const struct standing *at = &marks->brackets[b];
        add_reading(roof, &readings, roof_reading(roof, from, at->x, at->y));
        add_reading(roof, &readings, at->y);
    }
    for (size_t i = 0; i < marks->count; i++) {
        if (begins_row(marks, i))
            add_reading(roof, &readings, marks->list[i].y);
        add_reading(roof, &readings, roof_reading(roof, from, marks->list[i].x, marks->list[i].y));
    }
    return readings;
}

/* Marks from readings; the other way round. */
static void place_marks(const struct roof *roof, enum side from, const double *values,
                        struct marks *marks) {
    size_t next = 0;
    double y = 0;
    for (size_t b = 0; b < marks->bracket_count; b++) {
        const double reading = values[next++];
        marks->brackets[b].y = values[next++];
        marks->brackets[b].x = roof_from_reading(roof, from, reading, marks->brackets[b].y);
    }
    for (size_t i = 0; i < marks->count; i++) {
        if (begins_row(marks, i))
            y = values[next++];
        marks->list[i].y = y;
        marks->list[i].x = roof_from_reading(roof, from, values[next++], y);
    }
}

static struct verdict *verdict_on(const struct roof *roof, const struct marks *marks) {
    struct verdict *verdict = NULL;
    assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
    return verdict;
}

static int falling(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static bool same_seats(const struct layout *layout, const struct verdict *verdict,
                       const struct marks *marks) {
    for (size_t i = 0; i < marks->count; i++)
        if (verdict->seats[i].ply != layout->plies[i] ||
            verdict->rows[marks->list[i].bracket][marks->list[i].row].course !=
                layout->courses[marks->list[i].bracket][marks->list[i].row])
            return false;
    return true;
}

struct rank round_rank(const struct roof *roof, const struct layout *layout,
                       const struct marks *marks, double away) {
    struct verdict *verdict = verdict_on(roof, marks);
    double broken = 0, bare = 0, moved = 0, worst[ROOF_BRACKETS_MOST] = {0};
    for (size_t i = 0; i < verdict->count; i++) {
        const enum rule rule = verdict->findings[i].rule;
        const double margin = verdict->findings[i].margin;
        if (!check_rule_counted(rule) && margin < -1e-6)
            broken++;
        if ((rule == RULE_STRUT_CLAMP || rule == RULE_STRUT_SPAN || rule == RULE_STRUT_STOCK) &&
            margin < roof->tape - 1e-9)
            bare++;
    }
    for (size_t b = 0; b < roof->bracket_count; b++) {
        worst[b] = fmin(verdict->forgiveness[b], roof->enough);
        if (worst[b] < 0 && worst[b] >= -1e-6)
            worst[b] = 0;
        moved += fabs(marks->brackets[b].x - roof->brackets[b].want_x) +
                 fabs(marks->brackets[b].y - roof->brackets[b].want_y);
    }
    qsort(worst, roof->bracket_count, sizeof *worst, falling);
    struct rank rank = {.holds = verdict->holds, .keeps = same_seats(layout, verdict, marks)};
    rank.figures[rank.count++] = -broken;
    for (size_t b = 0; b < roof->bracket_count; b++)
        rank.figures[rank.count++] = worst[b];
    rank.figures[rank.count++] = worst[0] >= 0 ? 0 : -verdict->shortfall;
    rank.figures[rank.count++] = -bare;
    rank.figures[rank.count++] = -moved;
    rank.figures[rank.count++] = -away;
    verdict_free(verdict);
    return rank;
}

int round_rank_compare(const struct rank *a, const struct rank *b) {
    for (size_t i = 0; i < a->count; i++)
        if (!(fabs(a->figures[i] - b->figures[i]) <= 1e-9))
            return a->figures[i] > b->figures[i] ? 1 : -1;
    return 0;
}

double round_away(const struct roof *roof, const struct layout *layout, enum side from,
                  const struct marks *marks) {
    const struct readings exact = read_layout(roof, layout->marks, from);
    const struct readings found = read_layout(roof, marks, from);
    double away = 0;
    for (size_t i = 0; i < exact.count; i++)
        away += fabs(found.exact[i] - exact.exact[i]);
    return away;
}

/* Plain rounding has lost nothing that mattered. */
static bool plain_will_do(const struct roof *roof, const struct layout *layout,
                          const struct marks *plain) {
    struct verdict *verdict = verdict_on(roof, plain);
    const bool obeyed = layout->forgiveness >= -1e-6;
    bool good = obeyed ? verdict->holds : verdict->hard_least >= -1e-6;
    for (size_t b = 0; b < roof->bracket_count; b++)
        good = good &&
               fmin(verdict->forgiveness[b], roof->enough) >= layout->bracket_forgiveness[b] - 1e-6;
    good = good && (obeyed || verdict->shortfall <= layout->shortfall + 1e-6);
    verdict_free(verdict);
    return good;
}

/* The next combination of steps, the last reading fastest; false after the last. */
static bool advance(size_t *steps, size_t count) {
    for (size_t i = count; i > 0; i--) {
        if (++steps[i - 1] < STEPS)
            return true;
        steps[i - 1] = 0;
    }
    return false;
}

struct marks *round_brute(const struct roof *roof, const struct layout *layout, enum side from,
                          size_t *tried) {
    struct marks *best = NULL, *marks = NULL;
    assert_int_equal(marks_copy(layout->marks, &best), OUTCOME_DONE);
    assert_int_equal(marks_copy(layout->marks, &marks), OUTCOME_DONE);
    const struct readings readings = read_layout(roof, layout->marks, from);
    place_marks(roof, from, readings.plain, best);
    *tried = 0;
    if (!plain_will_do(roof, layout, best)) {
        size_t steps[READINGS_MOST] = {0};
        struct rank best_rank = {.count = 0};
        do {
            double values[READINGS_MOST], away = 0;
            for (size_t i = 0; i < readings.count; i++) {
                values[i] = length_to_tape(readings.plain[i] + ((double)steps[i] - 2) * roof->tape,
                                           roof->tape);
                away += fabs(values[i] - readings.exact[i]);
            }
            place_marks(roof, from, values, marks);
            const struct rank rank = round_rank(roof, layout, marks, away);
            ++*tried;
            if (!rank.keeps || (best_rank.count > 0 && round_rank_compare(&rank, &best_rank) <= 0))
                continue;
            best_rank = rank;
            place_marks(roof, from, values, best);
        } while (advance(steps, readings.count));
    }
    marks_free(marks);
    return best;
}

struct layout *round_layout(const struct roof *roof, struct marks *marks) {
    struct layout *layout = calloc(1, sizeof *layout);
    assert_non_null(layout);
    marks_sort(marks);
    struct verdict *verdict = verdict_on(roof, marks);
    layout->marks = marks;
    layout->plies = calloc(marks->count + 1, sizeof *layout->plies);
    layout->courses = calloc(roof->bracket_count, sizeof *layout->courses);
    layout->bracket_forgiveness = calloc(roof->bracket_count, sizeof(double));
    assert_true(layout->plies && layout->courses && layout->bracket_forgiveness);
    for (size_t i = 0; i < marks->count; i++)
        layout->plies[i] = verdict->seats[i].ply;
    layout->forgiveness = INFINITY;
    for (size_t b = 0; b < roof->bracket_count; b++) {
        for (size_t row = 0; row < ROW_COUNT; row++)
            layout->courses[b][row] = verdict->rows[b][row].course;
        layout->bracket_forgiveness[b] = fmin(verdict->forgiveness[b], roof->enough);
        layout->forgiveness = fmin(layout->forgiveness, layout->bracket_forgiveness[b]);
    }
    layout->shortfall = layout->forgiveness < 0 ? verdict->shortfall : 0;
    verdict_free(verdict);
    return layout;
}

void round_layout_free(struct layout *layout) {
    free(layout->plies);
    free(layout->courses);
    free(layout->bracket_forgiveness);
    free(layout);
}
