/* How far a hole or a frame could move: the check is asked along the way, in steps that no tape
 * shows, and the place between two of them where a rule breaks is found by halving. */
#include "explain.h"

#include "clock.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#define STEPS_A_TICK 8
#define CLOSE_IN 1e-9 /* halving ends here */

/* One hole, or one frame, on its way. */
struct walk {
    const struct roof *roof;
    const struct marks *marks;       /* where everything is now */
    const struct verdict *verdict;   /* on those */
    const struct strength *strength; /* NULL: not looked at */
    struct marks *moved;             /* a copy, to be moved; owned by whoever walks */
    bool frame;                      /* a frame moves, and no hole with it */
    size_t which;                    /* index into the marks' list, or of frames into brackets */
    enum way way;
};

/* What stands against a place along the way. */
struct obstacle {
    bool any;
    bool by_strength;
    struct finding finding;
};

const char *explain_way_word(enum way way) {
    static const char *const words[WAY_COUNT] = {
        [WAY_NEAR] = "near", [WAY_FAR] = "far", [WAY_UP] = "up", [WAY_DOWN] = "down"};
    assert((unsigned)way < WAY_COUNT);
    return words[way];
}

static bool goes_along(const struct mark *mark, const struct mark *other, enum way way) {
    const bool level = way == WAY_NEAR || way == WAY_FAR;
    return !level && mark->row != ROW_PIPE && other->bracket == mark->bracket &&
           other->row == mark->row;
}

static void place(struct walk *walk, double by) {
    const double x = walk->way == WAY_NEAR ? -by : walk->way == WAY_FAR ? by : 0;
    const double y = walk->way == WAY_DOWN ? -by : walk->way == WAY_UP ? by : 0;
    if (walk->frame) {
        const struct standing *from = &walk->marks->brackets[walk->which];
        walk->moved->brackets[walk->which].x = from->x + x;
        walk->moved->brackets[walk->which].y = from->y + y;
        return;
    }
    const struct mark *mark = &walk->marks->list[walk->which];
    for (size_t i = 0; i < walk->marks->count; i++) {
        const struct mark *from = &walk->marks->list[i];
        const bool goes = i == walk->which || goes_along(mark, from, walk->way);
        walk->moved->list[i].x = from->x + (goes ? x : 0);
        walk->moved->list[i].y = from->y + (goes ? y : 0);
    }
}

static bool same_place(const struct finding *a, const struct finding *b) {
    return a->rule == b->rule && a->bracket == b->bracket && a->row == b->row &&
           a->mark == b->mark && a->other_bracket == b->other_bracket &&
           a->other_row == b->other_row && a->other_mark == b->other_mark && a->vent == b->vent;
}

static const struct finding *find(const struct verdict *verdict, const struct finding *wanted) {
    for (size_t i = 0; i < verdict->count; i++)
        if (same_place(&verdict->findings[i], wanted))
            return &verdict->findings[i];
    return NULL;
}

/* Broken, and not just as broken as before the hole moved. */
static bool stands_against(const struct walk *walk, const struct finding *finding) {
    if (length_holds(finding->margin))
        return false;
    const struct finding *before = find(walk->verdict, finding);
    return before == NULL || length_holds(before->margin) ||
           !length_holds(finding->margin - before->margin);
}

static void look(const struct walk *walk, const struct verdict *verdict,
                 struct obstacle *obstacle) {
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if ((obstacle->any && !(finding->margin < obstacle->finding.margin)) ||
            !stands_against(walk, finding))
            continue;
        obstacle->any = true;
        obstacle->finding = *finding;
    }
}

static enum outcome look_at_strength(const struct walk *walk, const struct verdict *verdict,
                                     struct obstacle *obstacle) {
    struct strength *strength = NULL;
    if (obstacle->any || walk->strength == NULL || !walk->strength->carries)
        return OUTCOME_DONE;
    const enum outcome outcome =
        strength_judge(walk->roof, walk->moved, verdict, walk->roof->loads, &strength);
    if (outcome == OUTCOME_DONE && !strength->carries) {
        obstacle->any = true;
        obstacle->by_strength = true;
    }
    strength_free(strength);
    return outcome;
}

/* The worst that stands against having moved that far. */
static enum outcome ask(struct walk *walk, double by, struct obstacle *obstacle) {
    struct verdict *verdict = NULL;
    *obstacle = (struct obstacle){0};
    place(walk, by);
    enum outcome outcome = check_marks(walk->roof, walk->moved, &verdict);
    if (outcome == OUTCOME_DONE) {
        look(walk, verdict, obstacle);
        outcome = look_at_strength(walk, verdict, obstacle);
    }
    verdict_free(verdict);
    return outcome;
}

/* Between a place that is free and one that is not: the first obstacle in *obstacle. */
static enum outcome halve(struct walk *walk, double *free_by, double held_by,
                          struct obstacle *obstacle) {
    enum outcome outcome = OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && held_by - *free_by > CLOSE_IN) {
        const double middle = (*free_by + held_by) / 2;
        struct obstacle here;
        outcome = ask(walk, middle, &here);
        if (outcome == OUTCOME_DONE && here.any) {
            held_by = middle;
            *obstacle = here;
        } else {
            *free_by = middle;
        }
    }
    return outcome;
}

/* Where several rules break at one place, the one that is worst a tick beyond is named. */
static enum outcome name(struct walk *walk, double by, struct obstacle *obstacle) {
    struct verdict *there = NULL, *beyond = NULL;
    place(walk, by + 2 * LENGTH_TOLERANCE);
    enum outcome outcome = check_marks(walk->roof, walk->moved, &there);
    place(walk, by + walk->roof->tape);
    if (outcome == OUTCOME_DONE)
        outcome = check_marks(walk->roof, walk->moved, &beyond);
    bool any = false;
    for (size_t i = 0; outcome == OUTCOME_DONE && i < there->count; i++) {
        const struct finding *finding =
            stands_against(walk, &there->findings[i]) ? find(beyond, &there->findings[i]) : NULL;
        if (finding == NULL || !stands_against(walk, finding) ||
            (any && !(finding->margin < obstacle->finding.margin)))
            continue;
        any = true;
        obstacle->finding = *finding;
    }
    verdict_free(there);
    verdict_free(beyond);
    return outcome;
}

static enum outcome go(struct walk *walk, struct move *move) {
    const double step = walk->roof->tape / STEPS_A_TICK;
    struct obstacle obstacle = {0};
    double by = 0;
    enum outcome outcome = OUTCOME_DONE;
    for (double next = step; next <= EXPLAIN_MOVE_MOST; next += step) {
        outcome = ask(walk, next, &obstacle);
        if (outcome != OUTCOME_DONE || obstacle.any)
            break;
        by = next;
    }
    if (outcome == OUTCOME_DONE && obstacle.any)
        outcome = halve(walk, &by, by + step, &obstacle);
    if (outcome == OUTCOME_DONE && obstacle.any && !obstacle.by_strength)
        outcome = name(walk, by, &obstacle);
    /* rules hold a tolerance beyond the zero of their margin; what is said stops at the zero */
    move->by = fmax(0, obstacle.any ? by - LENGTH_TOLERANCE : EXPLAIN_MOVE_MOST);
    move->stopped = !obstacle.any          ? STOPPED_NEVER
                    : obstacle.by_strength ? STOPPED_STRENGTH
                                           : STOPPED_RULE;
    move->finding = obstacle.finding;
    return outcome;
}

/* A mark of the same line before this one, which moves up and down as it does; SIZE_MAX: none. */
static size_t looked_at(const struct marks *marks, size_t mark, enum way way) {
    for (size_t i = 0; i < mark; i++)
        if (goes_along(&marks->list[mark], &marks->list[i], way))
            return i;
    return SIZE_MAX;
}

static enum outcome go_every_way(struct walk *walk, double end_s, size_t only,
                                 struct moves *moves) {
    enum outcome outcome = OUTCOME_DONE;
    for (int way = 0; way < WAY_COUNT && outcome == OUTCOME_DONE; way++) {
        struct move *move = &moves[walk->which].way[way];
        const size_t before =
            walk->frame ? SIZE_MAX : looked_at(walk->marks, walk->which, (enum way)way);
        walk->way = (enum way)way;
        if (before != SIZE_MAX && only == SIZE_MAX)
            *move = moves[before].way[way];
        else if (clock_now_s() < end_s)
            outcome = go(walk, move);
    }
    return outcome;
}

/* Each of `count` in turn, or only one of them, with the time that is left. */
static enum outcome walk_each(struct walk *walk, size_t count, size_t only, double end_s,
                              struct moves **moves) {
    struct moves *made = calloc(count + 1, sizeof *made);
    enum outcome outcome = made == NULL ? OUTCOME_FAULT : marks_copy(walk->marks, &walk->moved);
    for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
        for (int way = 0; way < WAY_COUNT; way++)
            made[i].way[way].stopped = STOPPED_UNKNOWN;
        walk->which = i;
        if (only == SIZE_MAX || only == i)
            outcome = go_every_way(walk, end_s, only, made);
        if (walk->frame && outcome == OUTCOME_DONE)
            walk->moved->brackets[i] = walk->marks->brackets[i];
    }
    marks_free(walk->moved);
    if (outcome != OUTCOME_DONE) {
        free(made);
        return outcome;
    }
    *moves = made;
    return OUTCOME_DONE;
}

enum outcome explain_moves(const struct roof *roof, const struct marks *marks,
                           const struct verdict *verdict, const struct strength *strength,
                           size_t mark, double limit_s, struct moves **moves) {
    const double end_s = clock_now_s() + limit_s;
    struct walk walk = {.roof = roof, .marks = marks, .verdict = verdict, .strength = strength};
    return walk_each(&walk, marks->count, mark, end_s, moves);
}

enum outcome explain_frame_moves(const struct roof *roof, const struct marks *marks,
                                 const struct verdict *verdict, const struct strength *strength,
                                 size_t bracket, double limit_s, struct moves **moves) {
    const double end_s = clock_now_s() + limit_s;
    struct walk walk = {
        .roof = roof, .marks = marks, .verdict = verdict, .strength = strength, .frame = true};
    return walk_each(&walk, marks->bracket_count, bracket, end_s, moves);
}
