/* Whether the lines of all rows can lie, and brackets whose X is known stand up the slope, so that
 * none is in another's way.  Each two parts that are not clear of each other along the eave have to
 * be clear up the slope, one above the other or below it: a difference of two places that is at
 * least so much.  Which of the two is tried out, where either may be; as far as differences go,
 * bounds carried from place to place say whether they hold together. */
#include "parts.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The lines of a bracket, and its own place for what is a box. */
enum { PLACES = ROW_COUNT + 1, PLACES_MOST = ROOF_BRACKETS_MOST * PLACES };
/* So many ways are tried before it is said that they do not. */
enum { TRIES_MOST = 4096, FEW_TRIES = 256, ROUNDS = 4 };

/* Two parts of which one has to lie above the other: by[0] that the second one is at least so much
 * higher, by[1] that the first one is. */
struct discord {
    size_t place[2];
    double by[2];
    bool settled; /* it is the first */
};

struct bounds {
    struct interval at[PLACES_MOST];
};

/* What a place may be on: parts of strips, or anywhere (NULL), within that. */
struct on {
    const struct strips *strips; /* of which there is some within it */
    struct interval within;
};

struct agreeing {
    const struct packing_task *task;
    const struct packing *packing; /* NULL: Y of the brackets is known too */
    const struct seat *seats;      /* by bracket */
    const size_t *who;             /* those that are looked at */
    size_t who_count, most;        /* tries */
    size_t places;
    struct discord *discords; /* owned */
    int *chosen;              /* owned: of each discord which way, or OPEN */
    size_t count, room, tries;
    struct on on[PLACES_MOST];
    struct bounds found;
    bool failed; /* no memory */
};
enum { OPEN = -1 };

static size_t place_of(const struct crossing *crossing, int which) {
    const int own = crossing->kind[which] == PART_BOX ? ROW_COUNT : crossing->row[which];
    return crossing->bracket[which] * PLACES + (size_t)own;
}

/* A part's end beyond its place. */
static double off_of(const struct agreeing *agreeing, const struct crossing *crossing, int which,
                     bool high) {
    if (crossing->kind[which] != PART_BOX)
        return parts_off(agreeing->task, crossing, which, high);
    return high ? parts_parcel(agreeing->task, crossing->bracket[which])->height : 0;
}

static void add_discord(struct agreeing *agreeing, const struct discord *discord) {
    struct discord *discords =
        grow_list(agreeing->discords, &agreeing->room, agreeing->count, sizeof *agreeing->discords);
    agreeing->failed = agreeing->failed || !discords;
    if (!discords)
        return;
    agreeing->discords = discords;
    agreeing->discords[agreeing->count++] = *discord;
}

/* By so much less parts may be apart; with Y as it was found by more than by what that rounds. */
static double slack_of(const struct agreeing *agreeing) {
    return agreeing->packing ? SAME / 2 : SAME;
}

static void add_crossing(struct agreeing *agreeing, const struct crossing *crossing) {
    const double gap = parts_gap(agreeing->task, crossing) - slack_of(agreeing);
    struct discord discord = {.settled = false};
    for (int i = 0; i < 2; i++) {
        discord.place[i] = place_of(crossing, i);
        discord.by[i] =
            off_of(agreeing, crossing, i, true) + gap - off_of(agreeing, crossing, 1 - i, false);
    }
    add_discord(agreeing, &discord);
}

/* Two brackets that are not clear of each other along the eave. */
static void add_boxes(struct agreeing *agreeing, size_t a, size_t b) {
    const struct packing *packing = agreeing->packing;
    const double after = agreeing->seats[b].at[ALONG] - agreeing->seats[a].at[ALONG] -
                         packing_size(packing, a, ALONG),
                 before = agreeing->seats[a].at[ALONG] - agreeing->seats[b].at[ALONG] -
                          packing_size(packing, b, ALONG),
                 room = packing_room(packing, a, b, UP) - slack_of(agreeing);
    const struct discord discord = {
        .place = {a * PLACES + ROW_COUNT, b * PLACES + ROW_COUNT},
        .by = {packing_size(packing, a, UP) + room, packing_size(packing, b, UP) + room}};
    /* Ranks leave brackets closer than they may be by a rounding. */
    if (length_greater(after, before) < packing_room(packing, a, b, ALONG) - 2 * SAME)
        add_discord(agreeing, &discord);
}

/* A bracket's lines go with it. */
static void add_own(struct agreeing *agreeing, size_t b) {
    const struct parcel *parcel = parts_parcel(agreeing->task, b);
    const size_t box = b * PLACES + ROW_COUNT;
    for (size_t row = ROW_TOP; row < ROW_COUNT && parcel->arms; row++) {
        const struct arm *arm = parts_arm(parcel, agreeing->seats[b].spot, (int)row);
        const struct discord low = {{box, b * PLACES + row}, {arm->rise[0], 0}, true},
                             high = {{b * PLACES + row, box}, {-arm->rise[1], 0}, true};
        if (!arm->there)
            continue;
        add_discord(agreeing, &low);
        add_discord(agreeing, &high);
    }
}

static void list_discords(struct agreeing *agreeing) {
    const struct packing_task *task = agreeing->task;
    for (size_t i = 0; i < agreeing->who_count; i++) {
        const size_t a = agreeing->who[i];
        if (agreeing->packing)
            add_own(agreeing, a);
        for (size_t k = i + 1; k < agreeing->who_count; k++) {
            const size_t b = agreeing->who[k];
            const struct seats seats = seats_of(agreeing->seats, a, b);
            struct crossing crossing;
            if (agreeing->packing)
                add_boxes(agreeing, a, b);
            if (!parts_begin(task, &seats, a, b, &crossing))
                continue;
            while (parts_next(task, &seats, &crossing))
                if (parts_excess(task, &crossing, &seats, WAY_AFTER) > SAME &&
                    parts_excess(task, &crossing, &seats, WAY_BEFORE) > SAME)
                    add_crossing(agreeing, &crossing);
        }
    }
}

/* The lowest (highest) place on a strip that is no lower (higher); beyond all of them: none. */
static double next_up(const struct on *on, double y) {
    double next = length_greater(y, on->within.lo);
    if (on->strips) {
        const size_t i = parts_first_strip(on->strips, next);
        next = i < on->strips->count ? length_greater(next, on->strips->list[i].lo) : INFINITY;
    }
    return next <= on->within.hi ? next : INFINITY;
}
static double next_down(const struct on *on, double y) {
    double next = length_lesser(y, on->within.hi);
    if (on->strips) {
        size_t i = parts_first_strip(on->strips, next);
        if (i == on->strips->count || on->strips->list[i].lo > next)
            next = i > 0 ? on->strips->list[i - 1].hi : -INFINITY;
    }
    return next >= on->within.lo ? next : -INFINITY;
}

static struct on line_on(const struct parcel *parcel, const struct arm *arm, struct interval up) {
    struct on on = {&parcel->arms->strips, parts_lines_within(arm, up)};
    const double lowest = next_up(&on, on.within.lo), highest = next_down(&on, on.within.hi);
    if (lowest <= highest)
        on.within = (struct interval){lowest, highest};
    else
        on.strips = NULL; /* as if it could lie anywhere */
    return on;
}

static void set_bounds(struct agreeing *agreeing, struct bounds *bounds) {
    for (size_t i = 0; i < agreeing->who_count; i++) {
        const size_t b = agreeing->who[i];
        const struct parcel *parcel = parts_parcel(agreeing->task, b);
        const struct seat *seat = &agreeing->seats[b];
        const struct interval up = agreeing->packing
                                       ? packing_side(seat->spot, UP)
                                       : (struct interval){seat->at[UP], seat->at[UP]};
        for (int row = ROW_TOP; row < PLACES; row++) {
            const size_t place = b * PLACES + (size_t)row;
            const struct arm *arm =
                row < ROW_COUNT && parcel->arms ? parts_arm(parcel, seat->spot, row) : NULL;
            agreeing->on[place] =
                arm && arm->there ? line_on(parcel, arm, up) : (struct on){NULL, up};
            bounds->at[place] = agreeing->on[place].within;
        }
    }
}

/* How much more room a discord has than it takes, in a way; below zero it cannot be held so. */
static double spare(const struct bounds *bounds, const struct discord *discord, int way) {
    return bounds->at[discord->place[1 - way]].hi -
           (bounds->at[discord->place[way]].lo + discord->by[way]);
}
/* Whether it is held wherever its lines lie. */
static bool is_held(const struct bounds *bounds, const struct discord *discord, int way) {
    return bounds->at[discord->place[way]].hi + discord->by[way] <=
           bounds->at[discord->place[1 - way]].lo;
}

static bool is_there(const struct bounds *bounds, const struct discord *discord) {
    const struct interval *one = &bounds->at[discord->place[0]],
                          *other = &bounds->at[discord->place[1]];
    return one->lo <= one->hi + SAME && other->lo <= other->hi + SAME;
}

/* A discord that is settled narrows its two lines; true: it did. */
static bool narrow_by(const struct agreeing *agreeing, struct bounds *bounds,
                      const struct discord *discord, int way) {
    const size_t low = discord->place[way], high = discord->place[1 - way];
    struct interval *below = &bounds->at[low], *above = &bounds->at[high];
    const double lo = below->lo + discord->by[way], hi = above->hi - discord->by[way];
    const bool narrower = lo > above->lo || hi < below->hi;
    if (lo > above->lo)
        above->lo = next_up(&agreeing->on[high], lo);
    if (hi < below->hi)
        below->hi = next_down(&agreeing->on[low], hi);
    return narrower;
}

/* Carries bounds along the discords whose way is known until nothing changes; false: they do not
 * hold together.  Without strips there are no more rounds than places where they do. */
static bool carry(const struct agreeing *agreeing, struct bounds *bounds) {
    bool changed = true, good = true;
    for (size_t round = 0; round <= ROUNDS * agreeing->places && changed && good; round++) {
        changed = false;
        for (size_t i = 0; i < agreeing->count && good; i++) {
            const struct discord *discord = &agreeing->discords[i];
            if (agreeing->chosen[i] == OPEN)
                continue;
            good = spare(bounds, discord, agreeing->chosen[i]) >= 0;
            changed =
                (good && narrow_by(agreeing, bounds, discord, agreeing->chosen[i])) || changed;
            good = good && is_there(bounds, discord);
        }
    }
    return good && !changed;
}

/* The discords that can be held in one way only are; false: one cannot be at all.  *open is the one
 * with least to spare of those that could be in both, the count where none is. */
static bool settle_forced(struct agreeing *agreeing, struct bounds *bounds, size_t *open) {
    bool forced = true;
    while (forced) {
        if (!carry(agreeing, bounds))
            return false;
        double least = INFINITY;
        forced = false;
        *open = agreeing->count;
        for (size_t i = 0; i < agreeing->count; i++) {
            const struct discord *discord = &agreeing->discords[i];
            const double under = spare(bounds, discord, 0), over = spare(bounds, discord, 1);
            if (agreeing->chosen[i] != OPEN || is_held(bounds, discord, 0) ||
                is_held(bounds, discord, 1))
                continue;
            if (under < 0 && over < 0)
                return false;
            if (under < 0 || over < 0) {
                agreeing->chosen[i] = under < 0;
                forced = true;
            } else if (length_greater(under, over) < least) {
                least = length_greater(under, over);
                *open = i;
            }
        }
    }
    return true;
}

static bool agree(struct agreeing *agreeing, struct bounds *bounds) {
    size_t open;
    if (++agreeing->tries > agreeing->most || !settle_forced(agreeing, bounds, &open))
        return false;
    if (open == agreeing->count) {
        agreeing->found = *bounds;
        return true;
    }
    int *const kept = malloc(agreeing->count * sizeof *kept);
    agreeing->failed = agreeing->failed || !kept;
    if (!kept)
        return false;
    memcpy(kept, agreeing->chosen, agreeing->count * sizeof *kept);
    const struct discord *discord = &agreeing->discords[open];
    const int rather = spare(bounds, discord, 1) > spare(bounds, discord, 0);
    bool good = false;
    for (int i = 0; i < 2 && !good; i++) {
        struct bounds own = *bounds;
        memcpy(agreeing->chosen, kept, agreeing->count * sizeof *kept);
        agreeing->chosen[open] = i == 0 ? rather : 1 - rather;
        good = agree(agreeing, &own);
    }
    free(kept);
    return good;
}

/* Halfway between the lowest that all can lie and the highest every difference holds too; not every
 * line may be on a strip there. */
static double place_at(const struct agreeing *agreeing, size_t place, bool halfway) {
    const struct interval at = agreeing->found.at[place];
    return halfway ? (at.lo + at.hi) / 2 : at.lo;
}

static bool all_on_strips(const struct agreeing *agreeing) {
    bool all = true;
    for (size_t i = 0; i < agreeing->count; i++)
        for (int which = 0; which < 2; which++) {
            const size_t place = agreeing->discords[i].place[which];
            const double y = place_at(agreeing, place, true);
            all = all && next_up(&agreeing->on[place], y) <= y;
        }
    return all;
}

/* Places that agree, by bracket: of its rows' lines, and its own; NAN where that does not matter.
 */
static bool find_places(struct agreeing *agreeing, double places[ROOF_BRACKETS_MOST][PLACES]) {
    struct bounds bounds;
    list_discords(agreeing);
    agreeing->chosen = malloc((agreeing->count + 1) * sizeof *agreeing->chosen);
    for (size_t i = 0; i < agreeing->count && agreeing->chosen; i++)
        agreeing->chosen[i] = agreeing->discords[i].settled ? 0 : OPEN;
    set_bounds(agreeing, &bounds);
    const bool good = agreeing->chosen && !agreeing->failed && agree(agreeing, &bounds);
    const bool halfway = good && all_on_strips(agreeing);
    for (size_t k = 0; k < agreeing->who_count && good; k++)
        for (int i = 0; i < PLACES; i++)
            places[agreeing->who[k]][i] = NAN;
    for (size_t i = 0; i < agreeing->count && good; i++)
        for (int which = 0; which < 2; which++) {
            const size_t place = agreeing->discords[i].place[which];
            places[place / PLACES][place % PLACES] = place_at(agreeing, place, halfway);
        }
    free(agreeing->discords);
    free(agreeing->chosen);
    return good && !agreeing->failed;
}

/* All brackets of a packing. */
static size_t list_all(const struct packing_task *task, size_t who[ROOF_BRACKETS_MOST]) {
    for (size_t b = 0; b < task->count; b++)
        who[b] = b;
    return task->count;
}

bool packing_lines_agree(const struct packing_task *task, const struct seat *seats,
                         double lines[ROOF_BRACKETS_MOST][ROW_COUNT]) {
    size_t who[ROOF_BRACKETS_MOST];
    struct agreeing agreeing = {.task = task,
                                .seats = seats,
                                .who = who,
                                .who_count = list_all(task, who),
                                .most = TRIES_MOST,
                                .places = task->count * PLACES};
    double places[ROOF_BRACKETS_MOST][PLACES];
    const bool good = find_places(&agreeing, places);
    for (size_t b = 0; b < task->count && good; b++)
        memcpy(lines[b], places[b], sizeof lines[b]);
    return good;
}

bool packing_agrees(const struct packing *packing, const struct places *places) {
    struct seat seats[ROOF_BRACKETS_MOST];
    double lines[ROOF_BRACKETS_MOST][ROW_COUNT];
    if (packing->task->misses || !packing->task->parcels[0].arms)
        return true;
    parts_sit(packing, places, seats);
    return packing_lines_agree(packing->task, seats, lines);
}

bool packing_agree_up(const struct packing *packing, struct places *places) {
    struct seat seats[ROOF_BRACKETS_MOST];
    size_t who[ROOF_BRACKETS_MOST];
    struct agreeing agreeing = {.task = packing->task,
                                .packing = packing,
                                .seats = seats,
                                .who = who,
                                .who_count = list_all(packing->task, who),
                                .most = TRIES_MOST,
                                .places = packing->count * PLACES};
    double found[ROOF_BRACKETS_MOST][PLACES];
    parts_sit(packing, places, seats);
    if (!find_places(&agreeing, found))
        return false;
    for (size_t b = 0; b < packing->count; b++)
        if (!isnan(found[b][ROW_COUNT]))
            places->at[UP][b] = found[b][ROW_COUNT];
    return true;
}

bool packing_some_agree(const struct packing *packing, const struct seat *seats, const size_t *who,
                        size_t count) {
    struct agreeing agreeing = {.task = packing->task,
                                .packing = packing,
                                .seats = seats,
                                .who = who,
                                .who_count = count,
                                .most = FEW_TRIES,
                                .places = packing->count * PLACES};
    double found[ROOF_BRACKETS_MOST][PLACES];
    return find_places(&agreeing, found);
}
