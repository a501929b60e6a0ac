/* From the columns of a solved program back to marks on a roof. */
#include "read_back.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static size_t count_holes(const struct candidate_row *found, const struct model_row *columns,
                          const double *values) {
    size_t holes = found->leg_count;
    for (size_t i = 0; i < found->ply_count; i++)
        holes += values[columns->used[i]] > 0.5;
    return holes;
}

static void read_feet(const struct roof *roof, struct layout *layout,
                      const struct candidate_row *found, const struct model_row *columns,
                      const double *values, struct mark mark, size_t *next) {
    for (size_t leg = 0; leg < found->leg_count; leg++) {
        mark.x = values[columns->x[leg]];
        layout->legs[*next] = leg;
        for (size_t i = 0; i < found->legs[leg].count; i++)
            if (values[columns->seats[leg][i]] > 0.5)
                layout->plies[*next] = found->legs[leg].plies[i];
        const struct given *given = roof_given(roof, mark.bracket, mark.row, layout->plies[*next]);
        if (given)
            mark.x = given->x; /* the solver has it to a rounding */
        layout->marks->list[(*next)++] = mark;
    }
}

static void read_strut(const struct roof *roof, struct layout *layout,
                       const struct candidate_row *found, const struct model_row *columns,
                       const double *values, struct mark mark, size_t *next) {
    for (size_t i = 0; i < found->ply_count; i++) {
        if (!(values[columns->used[i]] > 0.5))
            continue;
        const struct ply *ply = &roof->plies[found->plies[i]];
        const struct given *given = roof_given(roof, mark.bracket, mark.row, found->plies[i]);
        mark.x = given ? given->x : ply->at + ply->lean * mark.y;
        layout->legs[*next] = SIZE_MAX;
        layout->plies[*next] = found->plies[i];
        layout->marks->list[(*next)++] = mark;
    }
}

void drop_answer(struct layout *layout) {
    marks_free(layout->marks);
    free(layout->plies);
    free(layout->legs);
    free(layout->courses);
    free(layout->pipe_courses);
    free(layout->bracket_forgiveness);
    layout->marks = NULL;
    layout->plies = layout->legs = NULL;
    layout->courses = NULL;
    layout->pipe_courses = NULL;
    layout->bracket_forgiveness = NULL;
}

bool room_for_answer(const struct roof *roof, struct layout *layout, size_t holes) {
    drop_answer(layout);
    layout->plies = calloc(holes + 1, sizeof *layout->plies);
    layout->legs = calloc(holes + 1, sizeof *layout->legs);
    layout->courses = calloc(roof->bracket_count + 1, sizeof *layout->courses);
    layout->pipe_courses = calloc(roof->pipe_count + 1, sizeof *layout->pipe_courses);
    layout->bracket_forgiveness =
        calloc(roof->bracket_count + 1, sizeof *layout->bracket_forgiveness);
    return layout->plies && layout->legs && layout->courses && layout->pipe_courses &&
           layout->bracket_forgiveness &&
           marks_new(roof->bracket_count, holes, &layout->marks) == OUTCOME_DONE;
}

struct layout *layout_copy(const struct roof *roof, const struct layout *layout) {
    const size_t holes = layout->marks->count, brackets = roof->bracket_count;
    struct layout *copy = malloc(sizeof *copy);
    if (!copy)
        return NULL;
    *copy = *layout;
    copy->marks = NULL;
    copy->plies = copy->legs = copy->pipe_courses = NULL;
    copy->courses = NULL;
    copy->bracket_forgiveness = NULL;
    copy->reasons = NULL;
    copy->reason_count = 0;
    if (!room_for_answer(roof, copy, holes)) {
        layout_free(copy);
        return NULL;
    }
    memcpy(copy->plies, layout->plies, holes * sizeof *copy->plies);
    memcpy(copy->legs, layout->legs, holes * sizeof *copy->legs);
    memcpy(copy->courses, layout->courses, brackets * sizeof *copy->courses);
    memcpy(copy->pipe_courses, layout->pipe_courses, roof->pipe_count * sizeof *copy->pipe_courses);
    memcpy(copy->bracket_forgiveness, layout->bracket_forgiveness,
           brackets * sizeof *copy->bracket_forgiveness);
    memcpy(copy->marks->brackets, layout->marks->brackets,
           brackets * sizeof *copy->marks->brackets);
    memcpy(copy->marks->list, layout->marks->list, holes * sizeof *copy->marks->list);
    return copy;
}

static void read_bracket(const struct roof *roof, struct layout *layout,
                         const struct candidates *candidates, const struct model *model,
                         const double *values, size_t b, size_t *next) {
    const struct model_bracket *columns = &model->brackets[b];
    struct standing *standing = &layout->marks->brackets[b];
    *standing = (struct standing){.x = values[columns->x], .y = values[columns->y]};
    memcpy(standing->hardware, roof->brackets[b].hardware, sizeof standing->hardware);
    layout->bracket_forgiveness[b] = values[columns->forgiveness];
    layout->moved +=
        fabs(standing->x - roof->brackets[b].want_x) + fabs(standing->y - roof->brackets[b].want_y);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct candidate_row *found = &candidates->brackets[b].rows[row];
        for (size_t i = 0; i < found->course_count; i++)
            if (values[columns->rows[row].courses[i]] > 0.5)
                layout->courses[b][row] = found->courses[i];
        struct mark mark = {.bracket = b, .row = (enum row)row, .y = values[columns->rows[row].y]};
        const struct given *given = roof_given(roof, b, (enum row)row, SIZE_MAX);
        if (given)
            mark.y = given->y;
        if (found->plies)
            read_strut(roof, layout, found, &columns->rows[row], values, mark, next);
        else
            read_feet(roof, layout, found, &columns->rows[row], values, mark, next);
    }
}

static void read_pipe(const struct roof *roof, struct layout *layout,
                      const struct candidate_pipe *found, const struct model_pipe *columns,
                      const double *values, size_t p, size_t *next) {
    for (size_t i = 0; i < found->course_count; i++)
        if (values[columns->courses[i]] > 0.5)
            layout->pipe_courses[p] = found->courses[i];
    layout->legs[*next] = layout->plies[*next] = SIZE_MAX;
    layout->marks->list[(*next)++] = (struct mark){.bracket = roof->pipes[p].bracket,
                                                   .row = ROW_PIPE,
                                                   .x = values[columns->x],
                                                   .y = values[columns->y],
                                                   .pipe = p};
}

bool read_back(const struct roof *roof, struct layout *layout, const struct candidates *candidates,
               const struct model *model, const double *values) {
    size_t holes = roof->pipe_count, next = 0;
    for (size_t b = 0; b < roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            holes += count_holes(&candidates->brackets[b].rows[row], &model->brackets[b].rows[row],
                                 values);
    if (!room_for_answer(roof, layout, holes))
        return false;
    layout->holes = holes;
    layout->moved = 0;
    for (size_t b = 0; b < roof->bracket_count; b++) {
        read_bracket(roof, layout, candidates, model, values, b, &next);
        for (size_t p = 0; p < roof->pipe_count; p++)
            if (roof->pipes[p].bracket == b)
                read_pipe(roof, layout, &candidates->pipes[p], &model->pipes[p], values, p, &next);
    }
    return true;
}
