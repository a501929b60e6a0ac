/* Which single change frees a roof that does not work: each is made, and the roof laid out again.
 *
 * A rule asked for less can only help, so the least that frees is found by doubling and halving; a
 * shortage s that is proved of the closest fit is a bound, as no rule eased by less than s alone
 * could make up for it.  A vent's way is no such thing: the distance found is one that frees, a
 * step less does not, and a shorter one further down is not ruled out.
 */
#include "altered.h"

#include "clock.h"
#include "grow.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STEP_IN (1.0 / 32)
#define STEP_MM 1.0
#define VENT_STEPS_IN 16 /* 1/2 in */
#define VENT_STEPS_MM 10
#define VENT_MOST_IN 32.0
#define SHARE 6 /* no single search takes more than this part of the time */

struct search {
    const struct roof *roof;
    const struct carried *carried; /* how the roof itself came out */
    enum side from;
    double end_s, each_s;
    struct changes changes; /* so far */
    size_t room;            /* in changes.list */
    struct problems *problems;
};

const char *explain_change_word(enum change_kind kind) {
    static const char *const words[CHANGE_KIND_COUNT] = {
        [CHANGE_RULE] = "rule",         [CHANGE_VENT] = "vent", [CHANGE_SISTER] = "sister",
        [CHANGE_HARDWARE] = "hardware", [CHANGE_TAPE] = "tape", [CHANGE_LOADS] = "loads"};
    assert((unsigned)kind < CHANGE_KIND_COUNT);
    return words[kind];
}

double explain_step(const struct roof *roof) {
    return roof->measure == MEASURE_MM ? STEP_MM / LENGTH_MM_PER_INCH : STEP_IN;
}

static double vent_step(const struct roof *roof) {
    return explain_step(roof) * (roof->measure == MEASURE_MM ? VENT_STEPS_MM : VENT_STEPS_IN);
}

static enum outcome keep(struct search *search, const struct change *change) {
    struct changes *changes = &search->changes;
    struct change *list =
        grow_list(changes->list, &search->room, changes->count, sizeof *changes->list);
    if (list == NULL)
        return OUTCOME_FAULT;
    changes->list = list;
    changes->list[changes->count++] = *change;
    return OUTCOME_DONE;
}

/* false: it cannot be made. */
static bool make(struct altered *altered, const struct change *change) {
    switch (change->kind) {
    case CHANGE_RULE:
        altered_relax(altered, change->relaxed, change->by);
        return true;
    case CHANGE_VENT:
        if (change->way == WAY_COUNT)
            altered_drop_vent(altered, change->which);
        else
            altered_move_vent(altered, change->which, change->way, change->by);
        return true;
    case CHANGE_SISTER:
        return altered_sister(altered, change->which, change->way);
    case CHANGE_HARDWARE:
        altered_hardware(altered, change->hardware);
        return true;
    case CHANGE_TAPE:
        altered->roof.tape /= 2;
        return true;
    default:
        altered->roof.loads = NULL;
        return true;
    }
}

static enum freed freed_by(const struct carried *carried) {
    const bool holds = carried->verdict != NULL && carried->verdict->holds;
    const bool carries = carried->strength == NULL || carried->strength->carries;
    if (holds && carries)
        return FREED_YES;
    const enum layout_state state = carried->layout->state;
    return state == LAYOUT_PROVED || state == LAYOUT_IMPOSSIBLE ? FREED_NO : FREED_UNKNOWN;
}

/* Lays the roof out with that change; the result in change->freed. */
static enum outcome prove(struct search *search, const struct roof *roof, struct change *change) {
    const double left_s = search->end_s - clock_now_s();
    const struct layout_options options = {.limit_s = fmin(left_s, search->each_s)};
    struct carried carried = {0};
    change->freed = FREED_UNKNOWN;
    if (!(left_s > 0))
        return OUTCOME_DONE;
    search->changes.solves++;
    const enum outcome outcome =
        carry_find(roof, &options, search->from, &carried, search->problems);
    if (outcome == OUTCOME_DONE)
        change->freed = freed_by(&carried);
    carried_free(&carried);
    return outcome;
}

/* *made: false if it cannot be made; NULL: it can. */
static enum outcome attempt(struct search *search, struct change *change, bool *made) {
    struct altered altered;
    enum outcome outcome = altered_make(search->roof, &altered);
    const bool can = outcome == OUTCOME_DONE && make(&altered, change);
    if (can)
        outcome = prove(search, &altered.roof, change);
    if (made != NULL)
        *made = can;
    altered_free(&altered);
    return outcome;
}

/* Between a number of steps that does not free and one that does. */
struct narrowing {
    double step, most; /* inches */
    size_t low, high;
};

static double length_of(const struct narrowing *steps, size_t count) {
    return fmin((double)count * steps->step, steps->most);
}

/* Tries a number of steps and narrows; *known is false where the time ran out over it. */
static enum outcome try_steps(struct search *search, struct change *change, size_t count,
                              struct narrowing *steps, bool *known) {
    change->by = length_of(steps, count);
    const enum outcome outcome = attempt(search, change, NULL);
    *known = outcome == OUTCOME_DONE && change->freed != FREED_UNKNOWN;
    if (*known && change->freed == FREED_YES)
        steps->high = count;
    else if (*known)
        steps->low = count;
    return outcome;
}

/* `high` frees: a step more than `low` first, then twice as much or halfway, whichever is less. */
static enum outcome narrow(struct search *search, struct narrowing *steps, struct change *change) {
    enum outcome outcome = OUTCOME_DONE;
    bool known = true;
    size_t next = steps->low + 1;
    while (outcome == OUTCOME_DONE && known && steps->high - steps->low > 1) {
        outcome = try_steps(search, change, next, steps, &known);
        const size_t middle = steps->low + (steps->high - steps->low) / 2;
        next = 2 * steps->low > steps->low && 2 * steps->low < middle ? 2 * steps->low : middle;
    }
    change->freed = FREED_YES;
    change->by = length_of(steps, steps->high);
    change->least = steps->high - steps->low == 1;
    return outcome;
}

/* True where there is time to begin another; otherwise it is counted. */
static bool begins(struct search *search) {
    const bool in_time = clock_now_s() < search->end_s;
    search->changes.left += !in_time;
    return in_time;
}

/* What no rule eased alone can be eased by less than. */
static size_t least_steps(const struct search *search, double step) {
    const struct layout *layout = search->carried->layout;
    if (layout->state != LAYOUT_PROVED || length_holds(layout->forgiveness))
        return 1;
    return (size_t)fmax(1, ceil((-layout->forgiveness - LENGTH_TOLERANCE) / step));
}

static enum outcome try_rule(struct search *search, enum relaxed relaxed) {
    const double step = explain_step(search->roof);
    struct change change = {.kind = CHANGE_RULE, .relaxed = relaxed};
    change.by = altered_most(search->roof, relaxed);
    if (!(change.by > LENGTH_TOLERANCE) || !begins(search))
        return OUTCOME_DONE;
    struct narrowing steps = {.step = step, .most = change.by};
    steps.high = (size_t)ceil((change.by - LENGTH_TOLERANCE) / step);
    steps.low = least_steps(search, step) - 1;
    enum outcome outcome = attempt(search, &change, NULL);
    if (outcome == OUTCOME_DONE && change.freed == FREED_YES) {
        if (steps.low >= steps.high)
            steps.low = steps.high - 1;
        outcome = narrow(search, &steps, &change);
    }
    return outcome == OUTCOME_DONE ? keep(search, &change) : outcome;
}

/* True where the vent so moved is still on the face. */
static bool stays_on(const struct roof *roof, const struct change *change, double by) {
    const struct box *box = &roof->vents[change->which].flange;
    const double x = change->way == WAY_NEAR ? -by : change->way == WAY_FAR ? by : 0;
    const double y = change->way == WAY_DOWN ? -by : change->way == WAY_UP ? by : 0;
    bool on = box->y0 + y >= 0 && box->y1 + y <= roof->slope;
    for (int end = 0; end < 2; end++) {
        const double height = (end == 0 ? box->y0 : box->y1) + y;
        on = on && box->x0 + x >= roof_rake_x(roof, SIDE_NEAR, height) &&
             box->x1 + x <= roof_rake_x(roof, SIDE_FAR, height);
    }
    return on;
}

static enum outcome try_vent_way(struct search *search, size_t vent, enum way way) {
    struct change change = {.kind = CHANGE_VENT, .which = vent, .way = way};
    struct narrowing steps = {.step = vent_step(search->roof), .most = VENT_MOST_IN};
    enum outcome outcome = OUTCOME_DONE;
    bool known = true;
    if (!begins(search))
        return OUTCOME_DONE;
    for (size_t next = 1; outcome == OUTCOME_DONE && known && steps.high == 0; next *= 2) {
        const double by = (double)next * steps.step;
        if (by > VENT_MOST_IN + LENGTH_TOLERANCE || !stays_on(search->roof, &change, by))
            break;
        outcome = try_steps(search, &change, next, &steps, &known);
    }
    if (outcome == OUTCOME_DONE && known && steps.high > 0)
        outcome = narrow(search, &steps, &change);
    return outcome == OUTCOME_DONE && change.by > 0 ? keep(search, &change) : outcome;
}

/* Without the vent first: what its absence does not free, no other place of it does. */
static enum outcome try_vent(struct search *search, size_t vent) {
    struct change gone = {.kind = CHANGE_VENT, .which = vent, .way = WAY_COUNT};
    if (!begins(search))
        return OUTCOME_DONE;
    enum outcome outcome = attempt(search, &gone, NULL);
    if (outcome != OUTCOME_DONE || gone.freed == FREED_NO)
        return outcome == OUTCOME_DONE ? keep(search, &gone) : outcome;
    for (int way = 0; way < WAY_COUNT && outcome == OUTCOME_DONE; way++)
        outcome = try_vent_way(search, vent, (enum way)way);
    return outcome;
}

/* One that needs no amount. */
static enum outcome try_plain(struct search *search, struct change change) {
    bool made = false;
    if (!begins(search))
        return OUTCOME_DONE;
    const enum outcome outcome = attempt(search, &change, &made);
    return outcome == OUTCOME_DONE && made ? keep(search, &change) : outcome;
}

static bool has_hardware(const struct roof *roof, const enum hardware hardware[ROW_COUNT]) {
    for (size_t i = 0; i < roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++)
            if (roof->brackets[i].hardware[row] != hardware[row])
                return false;
    return true;
}

static enum outcome try_hardware(struct search *search) {
    enum outcome outcome = OUTCOME_DONE;
    for (int i = 0; i < 4 && outcome == OUTCOME_DONE; i++) {
        const enum hardware hardware[ROW_COUNT] = {i < 2 ? HARDWARE_STRUT : HARDWARE_FEET,
                                                   i % 2 == 0 ? HARDWARE_STRUT : HARDWARE_FEET};
        struct change change = {.kind = CHANGE_HARDWARE};
        memcpy(change.hardware, hardware, sizeof change.hardware);
        if (!has_hardware(search->roof, hardware))
            outcome = try_plain(search, change);
    }
    return outcome;
}

static enum outcome try_sisters(struct search *search) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < search->roof->rafter_count; i++)
        for (int way = WAY_NEAR; way <= WAY_FAR && outcome == OUTCOME_DONE; way++)
            outcome = try_plain(
                search, (struct change){.kind = CHANGE_SISTER, .which = i, .way = (enum way)way});
    return outcome;
}

static enum outcome try_all(struct search *search) {
    const struct carried *carried = search->carried;
    enum outcome outcome = try_hardware(search);
    if (outcome == OUTCOME_DONE && search->roof->loads != NULL)
        outcome = try_plain(search, (struct change){.kind = CHANGE_LOADS});
    if (outcome == OUTCOME_DONE && carried->held && !carried->verdict->holds)
        outcome = try_plain(search, (struct change){.kind = CHANGE_TAPE});
    for (int i = 0; i < RELAXED_COUNT && outcome == OUTCOME_DONE; i++)
        outcome = try_rule(search, (enum relaxed)i);
    for (size_t i = 0; i < search->roof->vent_count && outcome == OUTCOME_DONE; i++)
        outcome = try_vent(search, i);
    return outcome == OUTCOME_DONE ? try_sisters(search) : outcome;
}

enum outcome explain_changes(const struct roof *roof, const struct carried *carried, enum side from,
                             double limit_s, struct changes *changes, struct problems *problems) {
    struct search search = {.roof = roof,
                            .carried = carried,
                            .from = from,
                            .end_s = clock_now_s() + limit_s,
                            .each_s = limit_s / SHARE,
                            .problems = problems};
    const enum outcome outcome = try_all(&search);
    if (outcome == OUTCOME_DONE)
        *changes = search.changes;
    else
        explain_changes_free(&search.changes);
    return outcome;
}

void explain_changes_free(struct changes *changes) {
    free(changes->list);
    *changes = (struct changes){0};
}
