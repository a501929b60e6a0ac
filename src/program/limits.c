/* Choices that strength rules out. */
#include "parts.h"

/* Which candidate of a row a ply is; MODEL_NONE where it is none. */
static size_t place_of(const size_t *plies, size_t count, size_t ply) {
    for (size_t i = 0; i < count; i++)
        if (plies[i] == ply)
            return i;
    return MODEL_NONE;
}

static bool is_ruled_out(const struct ruled_out *out, size_t ply) {
    return place_of(out->plies, out->count, ply) != MODEL_NONE;
}

enum { WAYS_MOST = 2 * (1 + ROW_COUNT) };

/* Ways for a figure of the frame to lie on either side of a stretch. */
static void ways_past(struct parts *parts, struct linear figure, const double stretch[2],
                      size_t ways[2]) {
    ways[0] = program_choice(parts->program, linear_sum(linear_of(stretch[0]), figure, -1), "less");
    ways[1] = program_choice(parts->program, linear_sum(figure, linear_of(stretch[1]), -1), "more");
}

/* Ways for the bracket to stand elsewhere than where the choice is ruled out.  False where it
 * always does. */
static bool ways_elsewhere(struct parts *parts, const struct ruled_out *out,
                           size_t ways[WAYS_MOST]) {
    const struct model_bracket *bracket = &parts->model->brackets[out->bracket];
    ways_past(parts, linear_plus(linear_of(0), bracket->x, 1), out->where.x, ways);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct linear up = linear_plus(linear_of(0), bracket->rows[row].y, 1);
        ways_past(parts, linear_plus(up, bracket->y, -1), out->where.v[row],
                  &ways[2 * ((size_t)row + 1)]);
    }
    for (int i = 0; i < WAYS_MOST; i++)
        if (ways[i] == CHOICE_ALWAYS)
            return false;
    return true;
}

static void add_ways(struct parts *parts, const size_t ways[WAYS_MOST]) {
    for (int i = 0; i < WAYS_MOST; i++)
        if (ways[i] != CHOICE_NEVER)
            program_term(parts->program, ways[i], 1);
}

/* At least one lag of the set is left out, or one beside it taken. */
static void forbid_lags(struct parts *parts, const struct ruled_out *out) {
    const struct candidate_row *found = &parts->candidates->brackets[out->bracket].rows[out->row];
    const size_t *used = parts->model->brackets[out->bracket].rows[out->row].used;
    for (size_t i = 0; i < out->count; i++)
        if (place_of(found->plies, found->ply_count, out->plies[i]) == MODEL_NONE)
            return; /* not all of them can be reached anyway */
    size_t ways[WAYS_MOST];
    if (!ways_elsewhere(parts, out, ways))
        return;
    program_row(parts->program, 1 - (double)out->count, false);
    for (size_t i = 0; i < found->ply_count; i++)
        program_term(parts->program, used[i], is_ruled_out(out, found->plies[i]) ? -1 : 1);
    add_ways(parts, ways);
}

/* At least one foot stands in another ply. */
static void forbid_feet(struct parts *parts, const struct ruled_out *out) {
    const struct candidate_row *found = &parts->candidates->brackets[out->bracket].rows[out->row];
    size_t *const *seats = parts->model->brackets[out->bracket].rows[out->row].seats;
    for (size_t leg = 0; leg < found->leg_count; leg++)
        if (place_of(found->legs[leg].plies, found->legs[leg].count, out->plies[leg]) == MODEL_NONE)
            return;
    size_t ways[WAYS_MOST];
    if (!ways_elsewhere(parts, out, ways))
        return;
    program_row(parts->program, 1 - (double)found->leg_count, false);
    for (size_t leg = 0; leg < found->leg_count; leg++) {
        const struct candidate_leg *foot = &found->legs[leg];
        program_term(parts->program,
                     seats[leg][place_of(foot->plies, foot->count, out->plies[leg])], -1);
    }
    add_ways(parts, ways);
}

static void need_lags(struct parts *parts, size_t bracket, enum row row, size_t least) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    if (least <= 2 || !found->plies)
        return; /* every strut has two */
    program_row(parts->program, (double)least, false);
    for (size_t i = 0; i < found->ply_count; i++)
        program_term(parts->program, parts->model->brackets[bracket].rows[row].used[i], 1);
}

void hold_limits(struct parts *parts) {
    const struct limits *limits = parts->stage->limits;
    if (!limits)
        return;
    for (size_t b = 0; limits->least_lags && b < parts->roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            need_lags(parts, b, (enum row)row, limits->least_lags[b][row]);
    for (size_t i = 0; i < limits->count && !parts->program->failed; i++) {
        const struct ruled_out *out = &limits->list[i];
        if (parts->roof->brackets[out->bracket].hardware[out->row] == HARDWARE_STRUT)
            forbid_lags(parts, out);
        else
            forbid_feet(parts, out);
    }
}
