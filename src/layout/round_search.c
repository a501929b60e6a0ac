/* Branch and bound over the readings of a few brackets.
 *
 * First the place of every bracket is chosen, then row by row its height and its marks.  Each part
 * has a bound (round_bound.c); a choice is followed only while the bounds of all parts together
 * could still beat the best found.  Whatever is complete is judged by check alone, so a bound that
 * is too generous costs time and never the answer.
 *
 * The work is bounded: every choice tried costs 1 a bracket and every judgement 16 or more from a
 * budget that the caller hands in.
 */
#include "round_search.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Choices of one search.  One for every reading but two to a bracket's place: a bracket of common
 * size has 8 or so.  Beyond this many, nothing but what was handed in is judged. */
enum { CHOICES_MOST = 1000 };

/* A margin between two pieces, or two rows of one; into the level below `depth`. */
static void note_pair(struct search *search, size_t depth, size_t a, size_t b, double margin) {
    double *pairs = &search->pairs[(depth + 1) * search->count];
    pairs[a] = length_lesser(pairs[a], margin);
    pairs[b] = length_lesser(pairs[b], margin);
    search->pairs_short[depth + 1] += length_greater(0, -margin);
}

static void pair_places(struct search *search, size_t depth) {
    const size_t piece = search->choices[depth].piece;
    const struct box box = round_bracket_box(search->pieces[piece]);
    for (size_t p = 0; p < piece; p++)
        note_pair(search, depth, p, piece,
                  (round_gap(box, round_bracket_box(search->pieces[p])) - search->roof->apart) / 2);
}

/* The flashing just chosen against all of earlier rows: neighbours in its own row are already in
 * that row's bound. */
static void pair_flashings(struct search *search, size_t depth) {
    const struct choice *choice = &search->choices[depth];
    const struct box box =
        round_flashing_box(search->pieces[choice->piece], choice->row, choice->lag);
    for (size_t p = 0; p <= choice->piece; p++)
        for (size_t row = 0; row < ROUND_LINES; row++) {
            if (p == choice->piece && row >= choice->row)
                break;
            const struct piece *piece = search->pieces[p];
            for (size_t i = 0; i < piece->lines[row].count; i++)
                note_pair(search, depth, p, choice->piece,
                          round_gap(box, round_flashing_box(piece, (enum row)row, i)) / 2);
        }
}

/* The strut just completed against all brackets, and against the struts of earlier rows. */
static void pair_struts(struct search *search, size_t depth) {
    const struct choice *choice = &search->choices[depth];
    const struct box box = round_strut_box(search->pieces[choice->piece], choice->row);
    for (size_t p = 0; p < search->count; p++) {
        const struct piece *piece = search->pieces[p];
        if (p != choice->piece)
            note_pair(search, depth, p, choice->piece, round_gap(box, round_bracket_box(piece)));
        if (p > choice->piece)
            continue;
        for (size_t row = 0; row < ROUND_LINES; row++) {
            if (p == choice->piece && row >= choice->row)
                break;
            if (piece->hardware[row] == HARDWARE_STRUT && piece->lines[row].count > 0)
                note_pair(search, depth, p, choice->piece,
                          round_gap(box, round_strut_box(piece, (enum row)row)) / 2);
        }
    }
}

/* Makes the choice at `depth` (its step is set) and bounds what it touches. */
static void take(struct search *search, size_t depth) {
    const struct choice *choice = &search->choices[depth];
    struct piece *piece = search->pieces[choice->piece];
    struct worth *parts = search->parts[choice->piece];
    const size_t count = search->count;
    memcpy(&search->pairs[(depth + 1) * count], &search->pairs[depth * count],
           count * sizeof *search->pairs);
    search->pairs_short[depth + 1] = search->pairs_short[depth];
    search->budget -= count < search->budget ? count : search->budget;
    if (choice->kind == KIND_PLACE) {
        if (!round_place_ready(search->roof, piece, piece->place)) {
            search->failed = true;
            return;
        }
        const struct place *place = &piece->places[piece->place];
        parts[PART_PLACE] = place->own;
        memcpy(parts, place->best, sizeof place->best);
        pair_places(search, depth);
        return;
    }
    const struct line *line = &piece->lines[choice->row];
    const size_t fixed = choice->kind == KIND_LAG ? choice->lag + 1 : 0;
    parts[choice->row] =
        round_row_best(search->roof, piece, piece->place, choice->row, line->step, fixed);
    if (choice->kind == KIND_LAG)
        pair_flashings(search, depth);
    if (fixed == line->count && piece->hardware[choice->row] == HARDWARE_STRUT)
        pair_struts(search, depth);
}

/* Nothing of a place is known but how far it is from where the bracket is wanted. */
static void forget_place(struct search *search, size_t piece, double moved) {
    for (size_t part = 0; part < PART_COUNT; part++)
        search->parts[piece][part] = round_unbounded(search->roof);
    search->parts[piece][PART_PLACE].moved = moved;
}

static double least_moved(const struct roof *roof, const struct piece *piece) {
    double least = INFINITY;
    for (size_t place = 0; place < ROUND_PLACES; place++)
        least = length_lesser(least, round_moved(roof, piece, place));
    return least;
}

/* What the choice at `depth` would come to for its own piece.  A place is not worked out for that,
 * as most are cut off by how far they are moved. */
static struct worth look(struct search *search, size_t depth) {
    const struct choice *choice = &search->choices[depth];
    const struct piece *piece = search->pieces[choice->piece];
    if (choice->kind == KIND_PLACE) {
        struct worth worth = round_unbounded(search->roof);
        worth.moved = round_moved(search->roof, piece, piece->place);
        worth.away = piece->across.away[piece->place / ROUND_STEPS] +
                     piece->up.away[piece->place % ROUND_STEPS];
        return worth;
    }
    take(search, depth);
    struct worth worth = round_piece_worth(search, choice->piece, depth + 1);
    worth.shortfall += search->pairs_short[depth + 1];
    return worth;
}

static bool kept(const struct search *search, size_t depth, size_t step) {
    const struct choice *choice = &search->choices[depth];
    const struct line *line = &search->pieces[choice->piece]->lines[choice->row];
    switch (choice->kind) {
    case KIND_HEIGHT:
        return line->kept[step];
    case KIND_LAG:
        return line->lags[choice->lag].kept[line->step][step];
    default:
        return true;
    }
}

/* The steps open to the choice at `depth`, the most promising first; returns how many. */
static size_t order_steps(struct search *search, size_t depth, unsigned char steps[ROUND_PLACES]) {
    const struct choice *choice = &search->choices[depth];
    const size_t all = choice->kind == KIND_PLACE ? ROUND_PLACES : ROUND_STEPS;
    struct worth worths[ROUND_PLACES];
    size_t count = 0;
    for (size_t step = 0; step < all && !search->failed; step++) {
        if (!kept(search, depth, step))
            continue;
        *choice->step = step;
        const struct worth worth = look(search, depth);
        size_t at = count++;
        for (; at > 0 && round_compare_worths(&worth, &worths[at - 1]) > 0; at--) {
            worths[at] = worths[at - 1];
            steps[at] = steps[at - 1];
        }
        worths[at] = worth;
        steps[at] = (unsigned char)step;
    }
    return count;
}

static void descend(struct search *search, size_t depth) {
    if (depth == search->depth) {
        round_judge(search);
        return;
    }
    const struct choice *choice = &search->choices[depth];
    struct worth *part = &search->parts[choice->piece][choice->row];
    const struct worth saved = *part;
    unsigned char steps[ROUND_PLACES];
    const size_t count = order_steps(search, depth, steps);
    for (size_t i = 0; i < count && !search->failed && search->budget > 0; i++) {
        *choice->step = steps[i];
        if (choice->kind == KIND_PLACE) {
            const struct piece *piece = search->pieces[choice->piece];
            forget_place(search, choice->piece, round_moved(search->roof, piece, piece->place));
            if (!round_promising(search, depth))
                continue;
        }
        take(search, depth);
        if (!search->failed && round_promising(search, depth + 1))
            descend(search, depth + 1);
    }
    if (choice->kind == KIND_PLACE)
        forget_place(search, choice->piece,
                     least_moved(search->roof, search->pieces[choice->piece]));
    else
        *part = saved;
}

static size_t count_choices(struct piece *const *pieces, size_t count) {
    size_t choices = count;
    for (size_t p = 0; p < count; p++)
        for (size_t row = 0; row < ROUND_LINES; row++)
            if (pieces[p]->lines[row].count > 0)
                choices += 1 + pieces[p]->lines[row].count;
    return choices;
}

/* The order of choices, which is also the order in which equal layouts are told apart. */
static void set_choices(struct search *search) {
    struct choice *next = search->choices;
    for (size_t p = 0; p < search->count; p++)
        *next++ =
            (struct choice){.kind = KIND_PLACE, .piece = p, .step = &search->pieces[p]->place};
    for (size_t p = 0; p < search->count; p++)
        for (size_t r = 0; r < ROUND_LINES; r++) {
            struct line *line = &search->pieces[p]->lines[r];
            const enum row row = (enum row)r;
            if (line->count > 0)
                *next++ = (struct choice){
                    .kind = KIND_HEIGHT, .piece = p, .row = row, .step = &line->step};
            for (size_t i = 0; i < line->count; i++)
                *next++ = (struct choice){.kind = KIND_LAG,
                                          .piece = p,
                                          .row = row,
                                          .lag = i,
                                          .step = &line->lags[i].step};
        }
}

static void free_search(struct search *search) {
    free(search->brackets);
    free(search->pipes);
    free(search->pipe_seen);
    free(search->choices);
    free(search->best);
    free(search->parts);
    free(search->pairs);
    free(search->pairs_short);
    marks_free(search->marks);
    free(search->best_forgiveness);
    free(search->best_hard);
}

/* The pipes of the brackets in sight, in the roof's order. */
static void see_pipes(struct search *search) {
    search->seen.pipes = search->pipes;
    search->seen.pipe_count = 0;
    for (size_t i = 0; i < search->roof->pipe_count; i++)
        for (size_t p = 0; p < search->count; p++)
            if (search->pieces[p]->bracket == search->roof->pipes[i].bracket) {
                search->pipe_seen[i] = search->seen.pipe_count;
                search->pipes[search->seen.pipe_count] = search->roof->pipes[i];
                search->pipes[search->seen.pipe_count++].bracket = p;
            }
}

/* False without memory; free_search either way. */
static bool begin_search(struct search *search) {
    const size_t count = search->count;
    const size_t levels = search->depth + 1;
    size_t lags = 0;
    for (size_t p = 0; p < count; p++)
        for (size_t row = 0; row < ROUND_LINES; row++)
            lags += search->pieces[p]->lines[row].count;
    if (count > SIZE_MAX / sizeof(double) / levels)
        return false;
    search->brackets = calloc(count, sizeof *search->brackets);
    search->pipes = calloc(search->roof->pipe_count + 1, sizeof *search->pipes);
    search->pipe_seen = calloc(search->roof->pipe_count + 1, sizeof *search->pipe_seen);
    search->choices = calloc(search->depth, sizeof *search->choices);
    search->best = calloc(search->depth, sizeof *search->best);
    search->parts = calloc(count, sizeof *search->parts);
    search->pairs = calloc(levels * count, sizeof *search->pairs);
    search->pairs_short = calloc(levels, sizeof *search->pairs_short);
    search->best_forgiveness = calloc(count, sizeof *search->best_forgiveness);
    search->best_hard = calloc(count, sizeof *search->best_hard);
    if (!search->brackets || !search->pipes || !search->pipe_seen || !search->choices ||
        !search->best || !search->parts || !search->pairs || !search->pairs_short ||
        !search->best_forgiveness || !search->best_hard ||
        marks_new(count, lags, &search->marks) != OUTCOME_DONE)
        return false;
    for (size_t p = 0; p < count; p++) {
        search->brackets[p] = search->roof->brackets[search->pieces[p]->bracket];
        search->pairs[p] = search->roof->enough;
        forget_place(search, p, least_moved(search->roof, search->pieces[p]));
    }
    search->seen = *search->roof;
    search->seen.brackets = search->brackets;
    search->seen.bracket_count = count;
    see_pipes(search);
    set_choices(search);
    return true;
}

/* The readings handed in, then plain rounding; leaves the choices at plain rounding. */
static void judge_first(struct search *search) {
    bool plain = true;
    for (size_t i = 0; i < search->depth; i++) {
        const struct choice *choice = &search->choices[i];
        plain &= *choice->step == (choice->kind == KIND_PLACE ? ROUND_PLAIN_PLACE : ROUND_PLAIN);
    }
    round_judge(search);
    if (plain || search->failed)
        return;
    for (size_t i = 0; i < search->depth; i++) {
        const struct choice *choice = &search->choices[i];
        *choice->step = choice->kind == KIND_PLACE ? ROUND_PLAIN_PLACE : ROUND_PLAIN;
    }
    round_judge(search);
}

/* Leaves the best found as the pieces' choice; without one, plain rounding. */
static void settle(struct search *search) {
    for (size_t i = 0; i < search->depth; i++) {
        const struct choice *choice = &search->choices[i];
        const size_t plain = choice->kind == KIND_PLACE ? ROUND_PLAIN_PLACE : ROUND_PLAIN;
        *choice->step = search->found ? search->best[i] : plain;
    }
    for (size_t p = 0; p < search->count; p++) {
        struct piece *piece = search->pieces[p];
        piece->found = search->found;
        piece->forgiveness = search->best_forgiveness[p];
        piece->broken = search->best_hard[p].broken;
        piece->bare = search->best_hard[p].bare;
    }
}

/* First among readings that keep every hard rule: any of these is better than all others, which
 * are looked at only if there are none.  Otherwise a search could spend all it has among places
 * that break one. */
static void search_both(struct search *search) {
    search->keep_hard = true;
    descend(search, 0);
    search->keep_hard = false;
    if (!search->failed && !(search->found && search->best_grade.sum.broken == 0))
        descend(search, 0);
}

enum outcome round_search(const struct roof *roof, struct piece *const *pieces, size_t count,
                          size_t *budget, bool *proved) {
    if (count == 0) {
        *proved = true;
        return OUTCOME_DONE;
    }
    struct search search = {.roof = roof,
                            .pieces = pieces,
                            .count = count,
                            .depth = count_choices(pieces, count),
                            .budget = *budget};
    if (!begin_search(&search)) {
        free_search(&search);
        return OUTCOME_FAULT;
    }
    judge_first(&search);
    const bool searched = search.depth <= CHOICES_MOST;
    if (searched && !search.failed)
        search_both(&search);
    settle(&search);
    *budget = search.budget;
    *proved = searched && search.budget > 0;
    const bool failed = search.failed;
    free_search(&search);
    return failed ? OUTCOME_FAULT : OUTCOME_DONE;
}
