/* tdestroy is no part of POSIX; glibc shows it where this is asked for. */
#define _GNU_SOURCE
#include "program.h"

#include "grow.h"

#include <assert.h>
#include <math.h>
#include <search.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

void program_free(struct program *program) {
    if (!program)
        return;
    free(program->columns);
    free(program->rows);
    free(program->terms);
    tdestroy(program->choices, free);
    *program = (struct program){0};
}

size_t program_column(struct program *program, double lo, double hi, bool binary,
                      const char *format, ...) {
    struct column *columns = program->failed ? NULL
                                             : grow_list(program->columns, &program->column_room,
                                                         program->column_count, sizeof *columns);
    if (!columns) {
        program->failed = true;
        return 0;
    }
    program->columns = columns;
    struct column *column = &program->columns[program->column_count];
    *column = (struct column){.lo = lo, .hi = hi, .binary = binary};
    va_list words;
    va_start(words, format);
    vsnprintf(column->name, sizeof column->name, format, words);
    va_end(words);
    return program->column_count++;
}

void program_row(struct program *program, double least, bool equal) {
    struct program_row *rows = program->failed ? NULL
                                               : grow_list(program->rows, &program->row_room,
                                                           program->row_count, sizeof *rows);
    if (!rows) {
        program->failed = true;
        return;
    }
    program->rows = rows;
    program->rows[program->row_count++] =
        (struct program_row){.first_term = program->term_count, .least = least, .equal = equal};
}

void program_term(struct program *program, size_t column, double factor) {
    struct term *terms =
        program->failed || program->row_count == 0
            ? NULL
            : grow_list(program->terms, &program->term_room, program->term_count, sizeof *terms);
    if (!terms) {
        program->failed = true;
        return;
    }
    program->terms = terms;
    program->terms[program->term_count++] = (struct term){column, factor};
    program->rows[program->row_count - 1].term_count++;
}

struct linear linear_of(double constant) {
    return (struct linear){.constant = constant};
}

/* A column that occurs twice is summed: solvers refuse doubled entries of a
 * row. */
struct linear linear_plus(struct linear sum, size_t column, double factor) {
    for (size_t i = 0; i < sum.count; i++)
        if (sum.terms[i].column == column) {
            sum.terms[i].factor += factor;
            return sum;
        }
    assert(sum.count < LINEAR_TERMS);
    sum.terms[sum.count++] = (struct term){column, factor};
    return sum;
}

double program_least(const struct program *program, const struct linear *sum) {
    double least = sum->constant;
    for (size_t i = 0; i < sum->count && !program->failed; i++) {
        const struct column *column = &program->columns[sum->terms[i].column];
        double factor = sum->terms[i].factor;
        least += factor * (factor > 0 ? column->lo : column->hi);
    }
    return least;
}

double program_most(const struct program *program, const struct linear *sum) {
    double most = sum->constant;
    for (size_t i = 0; i < sum->count && !program->failed; i++) {
        const struct column *column = &program->columns[sum->terms[i].column];
        double factor = sum->terms[i].factor;
        most += factor * (factor > 0 ? column->hi : column->lo);
    }
    return most;
}

static void add_row(struct program *program, const struct linear *sum, double least) {
    program_row(program, least - sum->constant, false);
    for (size_t i = 0; i < sum->count; i++)
        program_term(program, sum->terms[i].column, sum->terms[i].factor);
}

void program_require(struct program *program, struct linear sum) {
    if (program_least(program, &sum) < 0)
        add_row(program, &sum, 0);
}

void program_require_when(struct program *program, struct linear sum, const size_t *binaries,
                          size_t count) {
    double lacking = -program_least(program, &sum);
    if (lacking <= 0)
        return;
    /* sum + lacking * (number of binaries at 0) >= 0 */
    program_row(program, -sum.constant - lacking * (double)count, false);
    for (size_t i = 0; i < sum.count; i++)
        program_term(program, sum.terms[i].column, sum.terms[i].factor);
    for (size_t i = 0; i < count; i++)
        program_term(program, binaries[i], -lacking);
}

static int by_size(double a, double b) {
    return (a > b) - (a < b);
}

static int by_column(size_t a, size_t b) {
    return (a > b) - (a < b);
}

/* Choices in some order of their sums, the same ones beside each other. */
static int by_sum(const void *one, const void *other) {
    const struct linear *a = &((const struct made_choice *)one)->sum;
    const struct linear *b = &((const struct made_choice *)other)->sum;
    int order = by_column(a->count, b->count);
    if (order == 0)
        order = by_size(a->constant, b->constant);
    for (size_t i = 0; i < a->count && order == 0; i++) {
        order = by_column(a->terms[i].column, b->terms[i].column);
        if (order == 0)
            order = by_size(a->terms[i].factor, b->terms[i].factor);
    }
    return order;
}

/* The choice of that sum, made before or now; NULL without memory. */
static struct made_choice *find_choice(struct program *program, const struct linear *sum) {
    struct made_choice *made = malloc(sizeof *made);
    if (!made)
        return NULL;
    *made = (struct made_choice){*sum, CHOICE_NEVER};
    struct made_choice *const *found = tsearch(made, &program->choices, by_sum);
    if (!found || *found != made)
        free(made);
    return found ? *found : NULL;
}

size_t program_choice(struct program *program, struct linear sum, const char *name) {
    if (program_least(program, &sum) >= 0)
        return CHOICE_ALWAYS;
    if (program_most(program, &sum) < 0)
        return CHOICE_NEVER;
    struct made_choice *choice = find_choice(program, &sum);
    if (!choice) {
        program->failed = true;
        return 0;
    }
    if (choice->binary == CHOICE_NEVER) {
        choice->binary = program_column(program, 0, 1, true, "%s_%zu", name, program->column_count);
        program_require_when(program, sum, &choice->binary, 1);
    }
    return choice->binary;
}

/* Two ways out may be the same one, such as left and right of a lag straight above another. */
static bool seen_before(const size_t *ways, size_t i) {
    for (size_t j = 0; j < i; j++)
        if (ways[j] == ways[i])
            return true;
    return false;
}

void program_one_of(struct program *program, const size_t *ways, size_t way_count,
                    const size_t *when, size_t when_count) {
    for (size_t i = 0; i < way_count; i++)
        if (ways[i] == CHOICE_ALWAYS)
            return;
    program_row(program, 1.0 - (double)when_count, false);
    for (size_t i = 0; i < way_count; i++)
        if (ways[i] != CHOICE_NEVER && !seen_before(ways, i))
            program_term(program, ways[i], 1);
    for (size_t i = 0; i < when_count; i++)
        program_term(program, when[i], -1);
}

bool program_finite(const struct program *program) {
    for (size_t c = 0; c < program->column_count; c++)
        if (!isfinite(program->columns[c].lo) || !isfinite(program->columns[c].hi) ||
            !isfinite(program->columns[c].cost))
            return false;
    for (size_t r = 0; r < program->row_count; r++)
        if (!isfinite(program->rows[r].least))
            return false;
    for (size_t t = 0; t < program->term_count; t++)
        if (!isfinite(program->terms[t].factor))
            return false;
    return true;
}

bool program_bounds_cross(const struct program *program) {
    for (size_t c = 0; c < program->column_count; c++)
        if (program->columns[c].lo > program->columns[c].hi)
            return true;
    return false;
}

size_t program_cost_count(const struct program *program) {
    size_t count = 0;
    for (size_t c = 0; c < program->column_count; c++)
        count += program->columns[c].cost > 0 || program->columns[c].cost < 0;
    return count;
}

int program_number_columns(const struct program *program, int *numbers) {
    int count = 0;
    for (size_t t = 0; t < program->term_count; t++)
        numbers[program->terms[t].column] = 1;
    for (size_t c = 0; c < program->column_count; c++)
        if (numbers[c] || program->columns[c].cost > 0 || program->columns[c].cost < 0)
            numbers[c] = ++count;
    return count;
}
