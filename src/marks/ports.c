#include "ports.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* The holes of one bracket that want a pipe, and the pipes that want a hole. */
struct crowd {
    size_t *holes; /* indices into marks->list */
    size_t hole_count;
    size_t *pipes; /* indices into roof->pipes */
    size_t pipe_count;
};

/* Rows against columns, each row to get a column of its own.  Column 0 stands for none: columns
 * and rows count from 1 here. */
struct matching {
    size_t rows, columns; /* rows <= columns */
    const double *costs;  /* rows by columns */
    double *row_price, *column_price;
    size_t *row_of;     /* of each column; 0: none */
    size_t *column_for; /* the column before it on the shortest way */
    double *way;        /* length of the shortest way to each column */
    bool *done;
};

/* Shortens the ways to all columns by going over this one; returns the nearest that is not done. */
static size_t step(struct matching *matching, size_t column) {
    size_t row = matching->row_of[column], nearest = 0;
    matching->done[column] = true;
    for (size_t j = 1; j <= matching->columns; j++) {
        if (matching->done[j])
            continue;
        double cost = matching->costs[(row - 1) * matching->columns + j - 1] -
                      matching->row_price[row] - matching->column_price[j];
        if (cost < matching->way[j]) {
            matching->way[j] = cost;
            matching->column_for[j] = column;
        }
        if (nearest == 0 || matching->way[j] < matching->way[nearest])
            nearest = j;
    }
    double length = matching->way[nearest];
    for (size_t j = 0; j <= matching->columns; j++) {
        if (matching->done[j]) {
            matching->row_price[matching->row_of[j]] += length;
            matching->column_price[j] -= length;
        } else {
            matching->way[j] -= length;
        }
    }
    return nearest;
}

/* The assignment of least cost, row after row by shortest ways (Kuhn 1955, Munkres 1957): in
 * rows squared times columns. */
static void match(struct matching *matching) {
    for (size_t row = 1; row <= matching->rows; row++) {
        size_t column = 0;
        matching->row_of[0] = row;
        for (size_t j = 0; j <= matching->columns; j++) {
            matching->way[j] = INFINITY;
            matching->done[j] = false;
        }
        do
            column = step(matching, column);
        while (matching->row_of[column] != 0);
        for (; column != 0; column = matching->column_for[column])
            matching->row_of[column] = matching->row_of[matching->column_for[column]];
    }
}

/* The row of each column (from 0; SIZE_MAX: none) into row_of; false without memory. */
static bool match_least(size_t rows, size_t columns, const double *costs, size_t *row_of) {
    struct matching matching = {.rows = rows, .columns = columns, .costs = costs};
    matching.row_price = calloc(rows + 1, sizeof *matching.row_price);
    matching.column_price = calloc(columns + 1, sizeof *matching.column_price);
    matching.row_of = calloc(columns + 1, sizeof *matching.row_of);
    matching.column_for = calloc(columns + 1, sizeof *matching.column_for);
    matching.way = calloc(columns + 1, sizeof *matching.way);
    matching.done = calloc(columns + 1, sizeof *matching.done);
    bool good = matching.row_price && matching.column_price && matching.row_of &&
                matching.column_for && matching.way && matching.done;
    if (good) {
        match(&matching);
        for (size_t j = 0; j < columns; j++)
            row_of[j] = matching.row_of[j + 1] - 1; /* none: 0 - 1 is SIZE_MAX */
    }
    free(matching.row_price);
    free(matching.column_price);
    free(matching.row_of);
    free(matching.column_for);
    free(matching.way);
    free(matching.done);
    return good;
}

static double distance(const struct roof *roof, const struct marks *marks, size_t hole,
                       size_t index) {
    const struct pipe *pipe = &roof->pipes[index];
    const struct standing *standing = &marks->brackets[pipe->bracket];
    return hypot(marks->list[hole].x - standing->x - pipe->port_x,
                 marks->list[hole].y - standing->y - pipe->port_y);
}

static size_t nearest_pipe(const struct roof *roof, const struct marks *marks, size_t hole) {
    size_t nearest = SIZE_MAX;
    for (size_t i = 0; i < roof->pipe_count; i++)
        if (roof->pipes[i].bracket == marks->list[hole].bracket &&
            (nearest == SIZE_MAX ||
             distance(roof, marks, hole, i) < distance(roof, marks, hole, nearest)))
            nearest = i;
    return nearest;
}

/* Fewer holes than pipes: holes are rows.  Otherwise pipes are rows, and a hole that gets none
 * costs what it is off its nearest port. */
static void fill_costs(const struct roof *roof, const struct marks *marks,
                       const struct crowd *crowd, double *costs) {
    bool many = crowd->hole_count >= crowd->pipe_count;
    for (size_t h = 0; h < crowd->hole_count; h++) {
        size_t hole = crowd->holes[h];
        double spared = many ? distance(roof, marks, hole, nearest_pipe(roof, marks, hole)) : 0;
        for (size_t p = 0; p < crowd->pipe_count; p++) {
            size_t place = many ? p * crowd->hole_count + h : h * crowd->pipe_count + p;
            costs[place] = distance(roof, marks, hole, crowd->pipes[p]) - spared;
        }
    }
}

static enum outcome assign(const struct roof *roof, const struct crowd *crowd,
                           struct marks *marks) {
    bool many = crowd->hole_count >= crowd->pipe_count;
    size_t rows = many ? crowd->pipe_count : crowd->hole_count;
    size_t columns = many ? crowd->hole_count : crowd->pipe_count;
    double *costs = calloc(rows * columns + 1, sizeof *costs);
    size_t *row_of = calloc(columns + 1, sizeof *row_of);
    bool good = costs && row_of;
    if (good) {
        fill_costs(roof, marks, crowd, costs);
        good = match_least(rows, columns, costs, row_of);
    }
    for (size_t j = 0; good && j < columns; j++) {
        if (many)
            marks->list[crowd->holes[j]].pipe = row_of[j] == SIZE_MAX
                                                    ? nearest_pipe(roof, marks, crowd->holes[j])
                                                    : crowd->pipes[row_of[j]];
        else if (row_of[j] != SIZE_MAX)
            marks->list[crowd->holes[row_of[j]]].pipe = crowd->pipes[j];
    }
    free(costs);
    free(row_of);
    return good ? OUTCOME_DONE : OUTCOME_FAULT;
}

/* True if a hole of the file is named as that pipe's. */
static bool is_named(const struct marks *marks, const bool *named, size_t pipe) {
    for (size_t i = 0; i < marks->count; i++)
        if (named[i] && marks->list[i].row == ROW_PIPE && marks->list[i].pipe == pipe)
            return true;
    return false;
}

static void gather(const struct roof *roof, const struct marks *marks, const bool *named,
                   size_t bracket, struct crowd *crowd) {
    crowd->hole_count = crowd->pipe_count = 0;
    for (size_t i = 0; i < marks->count; i++)
        if (marks->list[i].bracket == bracket && marks->list[i].row == ROW_PIPE && !named[i])
            crowd->holes[crowd->hole_count++] = i;
    for (size_t i = 0; i < roof->pipe_count; i++)
        if (roof->pipes[i].bracket == bracket && !is_named(marks, named, i))
            crowd->pipes[crowd->pipe_count++] = i;
}

enum outcome ports_assign(const struct roof *roof, const bool *named, struct marks *marks) {
    enum outcome outcome = OUTCOME_DONE;
    struct crowd crowd = {.holes = calloc(marks->count + 1, sizeof *crowd.holes),
                          .pipes = calloc(roof->pipe_count + 1, sizeof *crowd.pipes)};
    if (crowd.holes == NULL || crowd.pipes == NULL)
        outcome = OUTCOME_FAULT;
    for (size_t i = 0; i < roof->bracket_count && outcome == OUTCOME_DONE; i++) {
        gather(roof, marks, named, i, &crowd);
        if (crowd.hole_count > 0)
            outcome = assign(roof, &crowd, marks);
    }
    free(crowd.holes);
    free(crowd.pipes);
    return outcome;
}
