/* Levels: what each rule's margin must reach, stage by stage. */
#include "parts.h"

#include "grow.h"

#include <math.h>

/* Rungs of the ladder closer than this are one. */
#define SAME_RUNG 1e-9

static bool ladder_is_level(const struct stage *stage) {
    return stage->ladder[stage->ladder_count - 1] - stage->ladder[0] <= SAME_RUNG;
}

bool levels_apart(const struct parts *parts) {
    const struct stage *stage = parts->stage;
    return stage->kind == STAGE_SHORTFALL ||
           (stage->kind == STAGE_COST && stage->ladder[0] < -LENGTH_TOLERANCE);
}

double levels_most(const struct parts *parts) {
    const struct stage *stage = parts->stage;
    if (stage->kind == STAGE_WORST || stage->kind == STAGE_NEXT)
        return stage->hi;
    double best = stage->ladder[stage->ladder_count - 1];
    return levels_apart(parts) ? fmax(best, 0) : best;
}

double levels_least(const struct parts *parts) {
    const struct stage *stage = parts->stage;
    return stage->kind == STAGE_WORST ? stage->lo : stage->ladder[0] - stage->kept;
}

/* Each place on the ladder belongs to one bracket, and no bracket has two:
 * forgiveness >= the sum of its places' values.  Those without a place keep the
 * value of the last known one.  Where the next place is sought, goal <=
 * forgiveness of every bracket without a place. */
static void climb_ladder(struct parts *parts, size_t goal) {
    struct program *program = parts->program;
    const struct stage *stage = parts->stage;
    size_t brackets = parts->roof->bracket_count, known = stage->ladder_count;
    double last = stage->ladder[known - 1];
    size_t first = program->column_count;
    for (size_t b = 0; b < brackets; b++)
        for (size_t j = 0; j < known; j++)
            program_column(program, 0, 1, true, "rank_%zu_%zu", b + 1, j + 1);
    for (size_t j = 0; j < known; j++) {
        program_row(program, 1, true);
        for (size_t b = 0; b < brackets; b++)
            program_term(program, first + b * known + j, 1);
    }
    for (size_t b = 0; b < brackets; b++) {
        size_t rank = first + b * known, own = parts->model->brackets[b].forgiveness;
        program_row(program, -1, false);
        for (size_t j = 0; j < known; j++)
            program_term(program, rank + j, -1);
        program_row(program, last - stage->kept, false);
        program_term(program, own, 1);
        for (size_t j = 0; j < known; j++)
            program_term(program, rank + j, last - stage->ladder[j]);
        if (goal == MODEL_NONE)
            continue;
        program_row(program, 0, false);
        program_term(program, own, 1);
        program_term(program, goal, -1);
        for (size_t j = 0; j < known; j++)
            program_term(program, rank + j, stage->hi - stage->ladder[j]);
    }
}

/* The most that a bracket's own level can come to: never below the least of the ladder, whatever
 * rounding did to its ceiling. */
static double own_most(const struct parts *parts, size_t b) {
    const struct stage *stage = parts->stage;
    double most = stage->kind == STAGE_NEXT ? stage->hi : levels_most(parts);
    if (stage->ceiling)
        most = fmin(most, stage->ceiling[b] + stage->kept);
    return fmax(most, stage->ladder[0]);
}

void levels_begin(struct parts *parts) {
    struct program *program = parts->program;
    const struct stage *stage = parts->stage;
    struct model *model = parts->model;
    model->goal = MODEL_NONE;
    if (stage->kind == STAGE_WORST || stage->kind == STAGE_NEXT) {
        double lo = stage->kind == STAGE_WORST ? stage->lo : stage->ladder[stage->ladder_count - 1];
        model->goal = program_column(program, lo, stage->hi, false, "forgiveness");
        if (!program->failed)
            program->columns[model->goal].cost = -1;
    }
    for (size_t b = 0; b < model->bracket_count; b++) {
        size_t *own = &model->brackets[b].forgiveness;
        if (stage->kind == STAGE_WORST)
            *own = model->goal;
        else if (stage->own)
            *own = program_column(program, stage->own[b] - stage->kept, stage->own[b], false,
                                  "own_%zu", b + 1);
        else if (stage->kind == STAGE_NEXT || !ladder_is_level(stage))
            *own = program_column(program, stage->ladder[0] - stage->kept, own_most(parts, b),
                                  false, "own_%zu", b + 1);
        else
            *own = program_column(program, stage->ladder[0] - stage->kept, stage->ladder[0], false,
                                  "own_%zu", b + 1);
    }
    if (stage->kind != STAGE_WORST && !stage->own &&
        (stage->kind == STAGE_NEXT || !ladder_is_level(stage)))
        climb_ladder(parts, model->goal);
}

static void count_shortfall(struct parts *parts, size_t column, double times) {
    struct term *shortfalls = grow_list(parts->shortfalls, &parts->shortfall_room,
                                        parts->shortfall_count, sizeof *parts->shortfalls);
    if (!shortfalls) {
        parts->program->failed = true;
        return;
    }
    parts->shortfalls = shortfalls;
    parts->shortfalls[parts->shortfall_count++] = (struct term){column, times};
}

/* A column for what a margin lacks: shortfall >= -level wherever `used` is 1.
 */
static void add_shortfall(struct parts *parts, size_t level, size_t used, double times) {
    struct program *program = parts->program;
    size_t lack = program_column(program, 0, fmax(0, -levels_least(parts)), false, "lack_%zu",
                                 program->column_count);
    struct linear sum = linear_plus(linear_plus(linear_of(0), lack, 1), level, 1);
    program_require_when(program, sum, &used, used == MODEL_NONE ? 0 : 1);
    count_shortfall(parts, lack, times);
}

static void at_least_own(struct parts *parts, size_t level, size_t bracket) {
    struct linear sum = linear_plus(linear_of(0), level, 1);
    program_require(parts->program,
                    linear_plus(sum, parts->model->brackets[bracket].forgiveness, -1));
}

static size_t new_level(struct parts *parts, struct subject subject) {
    struct program *program = parts->program;
    size_t level = program_column(program, levels_least(parts), levels_most(parts), false,
                                  "level_%zu", program->column_count);
    at_least_own(parts, level, subject.bracket);
    if (subject.other != NOBODY)
        at_least_own(parts, level, subject.other);
    return level;
}

size_t level_of(struct parts *parts, struct subject subject, double times) {
    if (parts->stage->kind == STAGE_WORST)
        return parts->model->goal;
    if (levels_apart(parts)) {
        size_t level = new_level(parts, subject);
        if (times > 0)
            add_shortfall(parts, level, MODEL_NONE, times);
        return level;
    }
    if (subject.other == NOBODY)
        return parts->model->brackets[subject.bracket].forgiveness;
    size_t *shared =
        &parts->pair_levels[subject.bracket * parts->roof->bracket_count + subject.other];
    if (*shared == 0)
        *shared = new_level(parts, subject) + 1;
    return *shared - 1;
}

void level_shared(struct parts *parts, size_t level, size_t used) {
    if (levels_apart(parts))
        add_shortfall(parts, level, used, 1);
}

void levels_end(struct parts *parts) {
    struct program *program = parts->program;
    if (!levels_apart(parts))
        return;
    if (parts->stage->kind == STAGE_SHORTFALL) {
        for (size_t i = 0; i < parts->shortfall_count && !program->failed; i++)
            program->columns[parts->shortfalls[i].column].cost = parts->shortfalls[i].factor;
        return;
    }
    program_row(program, -parts->stage->shortfall - parts->stage->kept, false);
    for (size_t i = 0; i < parts->shortfall_count; i++)
        program_term(program, parts->shortfalls[i].column, -parts->shortfalls[i].factor);
}
