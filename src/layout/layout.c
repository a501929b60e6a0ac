/* The search for all brackets of a roof.
 *
 * Each bracket is searched on its own, out of sight of the others.  What several companies reach
 * apart is the best that they can reach together, as forgiveness is ranked worst bracket first and
 * everything else is a sum over brackets: so where the layouts found do not get in each other's way
 * they make up the best layout of all.  Where two brackets do, their
 * companies become one and are searched again, until nothing clashes.
 *
 * First every company only takes what time its stands need (by_stands.h), until nothing clashes:
 * then there is a layout.  Companies of which the integer program may say more are searched again.
 *
 * Where the time ends first, the brackets that clash are placed one after the other, each with all
 * earlier ones where they are: a layout, but not proved.
 */
#include "layout.h"

#include "check.h"
#include "company.h"
#include "hunt.h"
#include "length.h"
#include "places.h"
#include "read_back.h"
#include "retreat.h"
#include "solve.h"

#include <math.h>
#include <stdlib.h>

/* This part of the time, at the end, is kept for placing brackets one by one; of that this part
 * where there is a layout of all. */
#define SHARE_KEPT 0.2
#define SHARE_KEPT_THEN 0.25

/* While companies grow, each has this part of the time that is left; less where there may be many.
 */
#define SHARE_QUICK 0.3
enum { FEW = 8, HANDFUL = 4 };

struct search {
    const struct roof *roof;
    const struct limits *limits;
    double soon_s, end_s;    /* deadlines: of proofs, of everything */
    uint64_t *steps;         /* as of layout_options */
    struct rack *rack;       /* likewise, or its own */
    bool plain, any;         /* likewise */
    bool quick;              /* no company is searched longer than it takes to have some layout */
    struct layout *fallback; /* owned: of that, or of companies that clash; NULL: nothing */
    size_t of[ROOF_BRACKETS_MOST];            /* each bracket's company: its lowest bracket */
    struct layout *found[ROOF_BRACKETS_MOST]; /* owned, by lowest bracket; NULL: to be searched */
    enum ends arms[ROOF_BRACKETS_MOST];       /* likewise: as of terms */
    double most[ROOF_BRACKETS_MOST];          /* likewise */
    double ceiling[ROOF_BRACKETS_MOST];       /* each bracket alone */
};

static double quick_share(const struct roof *roof) {
    return SHARE_QUICK * fmin(1, (double)FEW / (double)roof->bracket_count);
}

/* A quick search of a handful, or of a company of all, only sees whether ends matter: a longer one
 * follows. */
static enum ends closest_look(const struct search *search, size_t members) {
    const size_t all = search->roof->bracket_count;
    return search->quick && (all <= HANDFUL || members == all) ? ENDS_NONE : ENDS_ALL;
}

static enum outcome search_company(struct search *search, size_t lowest, double deadline_s) {
    size_t members[ROOF_BRACKETS_MOST] = {0};
    const size_t count = company_members(search->roof, search->of, lowest, members);
    double *ceiling = calloc(count, sizeof *ceiling);
    struct company company;
    enum outcome outcome = OUTCOME_FAULT;
    if (company_of(search->roof, search->limits, members, count, &company) && ceiling) {
        for (size_t i = 0; i < count; i++)
            ceiling[i] = search->ceiling[members[i]];
        const struct terms terms = {.deadline_s = deadline_s,
                                    .steps = search->steps,
                                    .ceiling = count > 1 ? ceiling : NULL,
                                    .limits = &company.limits,
                                    .rack = search->rack,
                                    .plain = search->plain,
                                    .closest = closest_look(search, count),
                                    .arms = &search->arms[lowest],
                                    .most = &search->most[lowest],
                                    .quick = search->quick ? quick_share(search->roof) : 0};
        outcome = hunt_company(&company.roof, &terms, &search->found[lowest]);
    }
    if (outcome == OUTCOME_DONE && count == 1)
        search->ceiling[lowest] = search->found[lowest]->bound_forgiveness;
    company_free(&company);
    free(ceiling);
    return outcome;
}

/* The first `count` members, the last of them joining the others, which stay pinned. */
static enum outcome place_next(struct search *search, const size_t *members, size_t count,
                               struct box *pinned, double deadline_s, struct layout **layout) {
    const struct terms terms = {.deadline_s = deadline_s,
                                .steps = search->steps,
                                .pinned = pinned,
                                .pinned_count = count - 1};
    struct company company;
    layout_free(*layout);
    *layout = NULL;
    const enum outcome outcome = company_of(search->roof, search->limits, members, count, &company)
                                     ? hunt_company(&company.roof, &terms, layout)
                                     : OUTCOME_FAULT;
    company_free(&company);
    if (outcome == OUTCOME_DONE && (*layout)->marks) {
        const struct standing *at = &(*layout)->marks->brackets[count - 1];
        pinned[count - 1] = (struct box){at->x, at->y, at->x, at->y};
    }
    return outcome;
}

/* Brackets of a company one after the other, each with the earlier ones pinned. */
static enum outcome place_in_turn(struct search *search, size_t lowest) {
    size_t members[ROOF_BRACKETS_MOST];
    const size_t count = company_members(search->roof, search->of, lowest, members);
    struct box pinned[ROOF_BRACKETS_MOST];
    struct layout *layout = NULL;
    size_t placed = 0;
    do { /* a company has members */
        const double now = solve_now(search->steps);
        const double share = (search->end_s - now) / (double)(count - placed);
        if (place_next(search, members, ++placed, pinned, now + share, &layout) != OUTCOME_DONE)
            return OUTCOME_FAULT;
    } while (placed < count && layout->marks);
    layout->state = layout->marks ? LAYOUT_FEASIBLE : LAYOUT_UNDECIDED;
    layout->bound_forgiveness = search->roof->enough;
    for (size_t i = 0; i < count; i++)
        layout->bound_forgiveness = fmin(layout->bound_forgiveness, search->ceiling[members[i]]);
    layout->bound_cost = -INFINITY;
    search->found[lowest] = layout;
    return OUTCOME_DONE;
}

static void forget(struct search *search, size_t lowest) {
    layout_free(search->found[lowest]);
    search->found[lowest] = NULL;
}

/* What can still be done in the time kept: the company once more, which mostly has a layout at
 * once, and otherwise bracket after bracket. */
static enum outcome search_late(struct search *search, size_t lowest) {
    const double now = solve_now(search->steps);
    enum outcome outcome = search_company(search, lowest, (now + search->end_s) / 2);
    const struct layout *found = search->found[lowest];
    if (outcome != OUTCOME_DONE || found->marks || found->state == LAYOUT_IMPOSSIBLE)
        return outcome;
    forget(search, lowest);
    return place_in_turn(search, lowest);
}

/* One company of two brackets' companies, to be searched again. */
static void merge(struct search *search, size_t a, size_t b) {
    const size_t count = search->roof->bracket_count;
    size_t low = search->of[a], high = search->of[b];
    if (low > high) {
        low = search->of[b];
        high = search->of[a];
    }
    forget(search, low);
    forget(search, high);
    search->arms[low] = ENDS_NONE;
    search->most[low] = INFINITY;
    for (size_t i = 0; i < count; i++)
        if (search->of[i] == high)
            search->of[i] = low;
}

/* Merges the companies of brackets that clash and were not yet searched together: a rule between
 * them costs one of them forgiveness, or adds a shortfall.  True where there were any. */
static bool merge_clashing(struct search *search, const struct layout *joined,
                           const struct verdict *verdict) {
    const size_t count = search->roof->bracket_count;
    bool any = false;
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (finding->other_bracket == CHECK_NONE || finding->other_bracket == finding->bracket)
            continue;
        const size_t a = (size_t)finding->bracket, b = (size_t)finding->other_bracket;
        const double most = fmax(joined->bracket_forgiveness[a], joined->bracket_forgiveness[b]);
        if (search->of[a] == search->of[b] || length_holds(finding->margin - fmax(most, 0)))
            continue;
        merge(search, a, b);
        any = true;
    }
    /* Next to others a clamp may have been put on its leg's other side. */
    for (size_t a = 0; a < count && !any; a++)
        for (size_t b = 0; b < count; b++)
            if (search->of[a] != search->of[b] &&
                !length_holds(verdict->forgiveness[a] - joined->bracket_forgiveness[a])) {
                merge(search, a, b);
                any = true;
            }
    return any;
}

/* Takes the place of what there was to fall back on, if it is better. */
static void fall_back_on(struct search *search, struct layout *layout) {
    struct layout *worse = layout;
    if (!search->fallback || retreat_is_better(search->roof, layout, search->fallback)) {
        worse = search->fallback;
        search->fallback = layout;
    }
    layout_free(worse);
}

/* Companies that clash are a layout all the same, of what the check leaves of it; unless a hard
 * rule is broken. */
static void keep_clashing(struct search *search, const struct verdict *verdict,
                          struct layout *made) {
    if (!length_holds(verdict->hard_least)) {
        layout_free(made);
        return;
    }
    places_lower(search->roof, verdict, made);
    made->state = LAYOUT_FEASIBLE;
    made->shortfall = verdict->shortfall;
    made->bound_cost = -INFINITY;
    fall_back_on(search, made);
}

/* Joins what was found and merges what clashes; *joined is NULL where that was needed. */
static enum outcome try_together(struct search *search, struct layout **joined) {
    struct layout *made = NULL;
    struct verdict *verdict = NULL;
    enum outcome outcome =
        company_join(search->roof, search->of, search->found, &made) ? OUTCOME_DONE : OUTCOME_FAULT;
    if (outcome == OUTCOME_DONE)
        outcome = check_marks(search->roof, made->marks, &verdict);
    /* A search that was cut short may not have come to the sum of shortfalls. */
    if (outcome == OUTCOME_DONE && made->state != LAYOUT_PROVED)
        made->shortfall = verdict->shortfall;
    if (outcome != OUTCOME_DONE)
        layout_free(made);
    else if (merge_clashing(search, made, verdict))
        keep_clashing(search, verdict, made);
    else
        *joined = made;
    verdict_free(verdict);
    return outcome;
}

static bool is_stale(const struct search *search, size_t b) {
    return search->of[b] == b && !search->found[b];
}

/* Companies that are still to be searched share the time that is left. */
static double share_time(const struct search *search) {
    const double now = solve_now(search->steps);
    size_t stale = 0;
    for (size_t b = 0; b < search->roof->bracket_count; b++)
        stale += is_stale(search, b);
    return now + (search->soon_s - now) / (double)stale;
}

/* Searches every company that is to be; *bare is one that came out without marks. */
static enum outcome search_stale(struct search *search, bool in_turn, struct layout **bare) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t b = 0; b < search->roof->bracket_count && outcome == OUTCOME_DONE && !*bare; b++) {
        if (!is_stale(search, b))
            continue;
        outcome = in_turn ? search_late(search, b) : search_company(search, b, share_time(search));
        if (outcome == OUTCOME_DONE && search->found[b]->state == LAYOUT_IMPOSSIBLE) {
            *bare = search->found[b];
            search->found[b] = NULL;
        }
    }
    return outcome;
}

/* True where some company was cut short before it had any marks; with `drop`, it is to be searched
 * again. */
static bool any_undecided(struct search *search, bool drop) {
    bool any = false;
    for (size_t b = 0; b < search->roof->bracket_count; b++)
        if (search->of[b] == b && search->found[b] && !search->found[b]->marks) {
            any = true;
            if (drop)
                forget(search, b);
        }
    return any;
}

static enum outcome give_up(const struct search *search, struct layout **layout) {
    struct layout *made = calloc(1, sizeof *made);
    if (!made)
        return OUTCOME_FAULT;
    *made = (struct layout){.state = LAYOUT_UNDECIDED,
                            .bound_forgiveness = search->roof->enough,
                            .bound_cost = -INFINITY};
    for (size_t b = 0; b < search->roof->bracket_count; b++)
        made->bound_forgiveness = fmin(made->bound_forgiveness, search->ceiling[b]);
    *layout = made;
    return OUTCOME_DONE;
}

/* Every company has a layout, and they do not clash: those that are not proved are searched again,
 * with all the time that is left.  False where there are none, or where any layout will do. */
static bool look_again(struct search *search, const struct layout *joined) {
    bool any = false;
    const bool enough = search->any && length_holds(joined->forgiveness);
    if (!search->quick || enough || solve_now(search->steps) >= search->soon_s)
        return false;
    search->quick = false;
    search->soon_s = search->end_s - SHARE_KEPT_THEN * (search->end_s - search->soon_s);
    for (size_t b = 0; b < search->roof->bracket_count; b++) {
        if (search->of[b] != b || search->found[b]->state == LAYOUT_PROVED)
            continue;
        forget(search, b);
        any = true;
    }
    return any;
}

/* What came of a longer search, or of the quick one, whichever is better. */
static void choose(struct search *search, struct layout **layout) {
    struct layout *other = search->fallback, *own = *layout;
    if (!other || own->state == LAYOUT_PROVED || own->state == LAYOUT_IMPOSSIBLE)
        return;
    if (own->marks && retreat_is_better(search->roof, own, other))
        return;
    other->bound_forgiveness = fmin(other->bound_forgiveness, own->bound_forgiveness);
    search->fallback = own;
    *layout = other;
}

/* Out of time, and there is something to fall back on. */
static bool is_enough(const struct search *search) {
    return search->fallback && solve_now(search->steps) >= search->end_s;
}

/* *layout is the result, whatever its state. */
static enum outcome search_all(struct search *search, struct layout **layout) {
    bool in_turn = false;
    for (;;) {
        if (is_enough(search))
            return give_up(search, layout);
        enum outcome outcome = search_stale(search, in_turn, layout);
        if (outcome != OUTCOME_DONE || *layout)
            return outcome;
        if (any_undecided(search, !in_turn)) {
            if (in_turn)
                return give_up(search, layout);
            in_turn = true;
            continue;
        }
        outcome = try_together(search, layout);
        if (outcome != OUTCOME_DONE || (*layout && !look_again(search, *layout)))
            return outcome;
        if (*layout)
            fall_back_on(search, *layout);
        *layout = NULL;
        in_turn = in_turn || solve_now(search->steps) >= search->soon_s;
    }
}

/* What is known already is something to fall back on; false without memory. */
static bool begin_with(struct search *search, const struct layout *known) {
    if (!known || search->limits)
        return true;
    search->fallback = layout_copy(search->roof, known);
    if (!search->fallback)
        return false;
    search->fallback->state = LAYOUT_FEASIBLE;
    search->fallback->bound_forgiveness = search->roof->enough;
    search->fallback->bound_cost = -INFINITY;
    return true;
}

static void begin(struct search *search, const struct roof *roof,
                  const struct layout_options *options, struct rack *own) {
    const double now = solve_now(options->steps), limit_s = options->limit_s;
    *search = (struct search){
        .roof = roof,
        .limits = options->limits,
        .steps = options->steps,
        .rack = options->rack ? options->rack : own,
        .plain = options->plain,
        .any = options->any,
        .quick = roof->bracket_count > 1,
        .end_s = now + limit_s,
        .soon_s = now + limit_s * (roof->bracket_count > 1 ? 1 - SHARE_KEPT : 1),
    };
    for (size_t b = 0; b < roof->bracket_count; b++) {
        search->of[b] = b;
        search->ceiling[b] = roof->enough;
        search->most[b] = INFINITY;
    }
}

static enum outcome write_model(const struct search *search, const char *path,
                                struct layout *layout, struct problems *problems) {
    if (!path || layout->state == LAYOUT_IMPOSSIBLE)
        return OUTCOME_DONE;
    const struct terms terms = {.ceiling = search->roof->bracket_count > 1 ? search->ceiling : NULL,
                                .limits = search->limits};
    const double forgiveness = layout->marks ? layout->forgiveness : layout->bound_forgiveness;
    return hunt_write_model(search->roof, &terms, forgiveness, path, &layout->model_written,
                            problems);
}

enum outcome layout_find(const struct roof *roof, const struct layout_options *options,
                         struct layout **layout, struct problems *problems) {
    struct search search;
    struct layout *found = NULL;
    struct rack *own = options->rack ? NULL : rack_new();
    begin(&search, roof, options, own);
    enum outcome outcome = begin_with(&search, options->known) ? OUTCOME_DONE : OUTCOME_FAULT;
    if (outcome == OUTCOME_DONE)
        outcome = search_all(&search, &found);
    if (outcome == OUTCOME_DONE)
        choose(&search, &found);
    layout_free(search.fallback);
    if (outcome == OUTCOME_DONE)
        outcome = write_model(&search, options->model_path, found, problems);
    solve_close();
    rack_free(own);
    for (size_t b = 0; b < roof->bracket_count; b++)
        layout_free(search.found[b]);
    if (outcome == OUTCOME_DONE)
        *layout = found;
    else
        layout_free(found);
    return outcome;
}

void layout_free(struct layout *layout) {
    if (!layout)
        return;
    drop_answer(layout);
    free(layout->reasons);
    free(layout);
}
