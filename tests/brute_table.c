/* A small linear program solved by the simplex method on its dual.
 *
 * The dual of: minimise c.x, A x >= b is: maximise b.m, m >= 0, where m . A equals c in the free
 * columns (c = 0 there) and is at most c in the others (c >= 0).  m = 0 is a start that needs no
 * search.  Each equation starts with a helper that stays at 0 and leaves at the first chance; an
 * unbounded dual means that no x keeps every row.
 */
#include "brute_parts.h"

#include <math.h>
#include <stdlib.h>

#define ZERO 1e-10 /* entries below this are rounding: the table starts with 0, 1, 2 and -1 */

bool brute_table_new(size_t free_count, size_t other_count, size_t row_room,
                     struct brute_table *table) {
    size_t columns = free_count + other_count;
    *table = (struct brute_table){
        .column_count = columns, .free_count = free_count, .row_room = row_room};
    table->cost = calloc(columns + 1, sizeof *table->cost);
    table->rows = calloc(row_room * columns + 1, sizeof *table->rows);
    table->least = calloc(row_room + 1, sizeof *table->least);
    if (table->cost && table->rows && table->least)
        return true;
    brute_table_free(table);
    return false;
}

void brute_table_free(struct brute_table *table) {
    free(table->cost);
    free(table->rows);
    free(table->least);
    *table = (struct brute_table){0};
}

double *brute_table_row(struct brute_table *table, double least) {
    if (table->row_count == table->row_room)
        abort(); /* whoever made the table counted wrongly */
    table->least[table->row_count] = least;
    return &table->rows[table->row_count++ * table->column_count];
}

/* The dual's own table: one line a column of the program, then the line of what is gained; one
 * entry a row of the program, one a line's slack (or helper), one for the value. */
struct dual {
    size_t lines, entries;
    double *cells;
    size_t *basis;
};

static double *cell(const struct dual *dual, size_t line, size_t entry) {
    return &dual->cells[line * dual->entries + entry];
}

static bool start(const struct brute_table *table, struct dual *dual) {
    dual->lines = table->column_count;
    dual->entries = table->row_count + table->column_count + 1;
    dual->cells = calloc((dual->lines + 1) * dual->entries, sizeof *dual->cells);
    dual->basis = calloc(dual->lines + 1, sizeof *dual->basis);
    if (!dual->cells || !dual->basis)
        return false;
    for (size_t i = 0; i < dual->lines; i++) {
        for (size_t r = 0; r < table->row_count; r++)
            *cell(dual, i, r) = table->rows[r * table->column_count + i];
        *cell(dual, i, table->row_count + i) = 1;
        *cell(dual, i, dual->entries - 1) = i < table->free_count ? 0 : table->cost[i];
        dual->basis[i] = table->row_count + i;
    }
    for (size_t r = 0; r < table->row_count; r++)
        *cell(dual, dual->lines, r) = table->least[r];
    return true;
}

static bool is_helper(const struct brute_table *table, size_t entry) {
    return entry >= table->row_count && entry < table->row_count + table->free_count;
}

/* The entry that gains; the steepest at first, then the first one, which cannot go round in
 * circles (Bland's rule). */
static size_t enter(const struct brute_table *table, const struct dual *dual, bool steepest) {
    size_t best = dual->entries;
    double gain = 1e-9;
    for (size_t e = 0; e + 1 < dual->entries; e++) {
        if (is_helper(table, e) || *cell(dual, dual->lines, e) <= gain)
            continue;
        best = e;
        if (!steepest)
            break;
        gain = *cell(dual, dual->lines, e);
    }
    return best;
}

/* The line that leaves; dual->lines if nothing stops the gain. */
static size_t leave(const struct brute_table *table, const struct dual *dual, size_t entry) {
    size_t best = dual->lines;
    double least = INFINITY;
    for (size_t i = 0; i < dual->lines; i++) {
        double slope = *cell(dual, i, entry);
        if (is_helper(table, dual->basis[i]) && fabs(slope) > ZERO)
            return i;
        if (slope <= ZERO)
            continue;
        double ratio = fmax(0, *cell(dual, i, dual->entries - 1)) / slope;
        if (ratio < least - 1e-13 ||
            (ratio <= least && best < dual->lines && dual->basis[i] < dual->basis[best])) {
            least = ratio;
            best = i;
        }
    }
    return best;
}

static void pivot(struct dual *dual, size_t line, size_t entry) {
    double by = *cell(dual, line, entry);
    for (size_t e = 0; e < dual->entries; e++)
        *cell(dual, line, e) /= by;
    for (size_t i = 0; i <= dual->lines; i++) {
        double times = *cell(dual, i, entry);
        if (i == line || fabs(times) <= 1e-14)
            continue;
        for (size_t e = 0; e < dual->entries; e++)
            *cell(dual, i, e) -= times * *cell(dual, line, e);
        *cell(dual, i, entry) = 0;
    }
    dual->basis[line] = entry;
}

double brute_table_solve(const struct brute_table *table, double *x) {
    struct dual dual = {0};
    double value = NAN;
    if (start(table, &dual)) {
        for (size_t turn = 0; turn < 20000; turn++) {
            size_t entry = enter(table, &dual, turn < 400);
            if (entry == dual.entries) {
                value = -*cell(&dual, dual.lines, dual.entries - 1);
                for (size_t i = 0; i < table->column_count && x != NULL; i++)
                    x[i] = -*cell(&dual, dual.lines, table->row_count + i);
                break;
            }
            size_t line = leave(table, &dual, entry);
            if (line == dual.lines) {
                value = INFINITY;
                break;
            }
            pivot(&dual, line, entry);
        }
    }
    free(dual.cells);
    free(dual.basis);
    return value;
}
