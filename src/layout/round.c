/* Rounding a layout to the tape.
 *
 * Plain rounding first.  If that breaks a rule or loses forgiveness, each bracket is searched on
 * its own, out of sight of the others.  If all brackets put together leave each at its own best,
 * that is the best of all, as every part of the order is a sum over brackets or taken worst bracket
 * first.  Only brackets that get in each other's way are then searched together, as one group,
 * until no two groups do.
 *
 * The order: fewest hard rules broken; worst bracket's forgiveness, capped at `enough`, then the
 * next worst, and so on; least sum of shortfalls (none where every rule holds); fewest hard rules
 * of struts without a tick to spare; least moved; nearest to the unrounded figures (sum of the
 * differences); then the smaller reading, places first, then row by row height and marks.
 */
#include "round.h"

#include "length.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Choices that may be tried in one rounding, all searches together; a choice takes roughly a
 * microsecond.  A bracket alone takes a few hundred, two that
 * get in each other's way some hundred thousand.  The searches of single brackets share one
 * half, those of groups have half of what is left each: when one runs out, the best readings so far
 * are taken, and they are never worse than the ones it began with. */
enum { WORK_MOST = 4000000 };

/* Nothing that mattered is lost: no rule broken that held, no forgiveness, and for a nearest miss
 * nothing of the sum of shortfalls. */
static bool all_kept(const struct roof *roof, const struct layout *layout,
                     const struct verdict *verdict) {
    const bool obeyed = length_holds(layout->forgiveness);
    if (obeyed ? !verdict->holds : !length_holds(verdict->hard_least))
        return false;
    for (size_t b = 0; b < roof->bracket_count; b++)
        if (!length_holds(length_lesser(verdict->forgiveness[b], roof->enough) -
                          layout->bracket_forgiveness[b]))
            return false;
    return obeyed || length_holds(layout->shortfall - verdict->shortfall);
}

/* The marks of all pieces as chosen, and check's verdict on them. */
static enum outcome assemble(const struct pieces *pieces, struct marks **marks,
                             struct verdict **verdict) {
    struct marks *made = NULL;
    if (marks_new(pieces->count, pieces->mark_count, &made) != OUTCOME_DONE)
        return OUTCOME_FAULT;
    size_t next = 0;
    for (size_t b = 0; b < pieces->count; b++)
        round_write(&pieces->list[b], b, made, &next);
    marks_sort(made);
    struct verdict *found = NULL;
    if (check_marks(pieces->roof, made, &found) != OUTCOME_DONE) {
        marks_free(made);
        return OUTCOME_FAULT;
    }
    *marks = made;
    *verdict = found;
    return OUTCOME_DONE;
}

/* Which group a bracket is in: the lowest bracket of that group. */
struct groups {
    size_t of[ROOF_BRACKETS_MOST];
    bool stale[ROOF_BRACKETS_MOST]; /* by lowest bracket: to be searched (again) */
};

/* Where no reading of a bracket keeps its targets, none of a group with it would. */
static void merge(const struct pieces *pieces, struct groups *groups, size_t a, size_t b) {
    size_t low = groups->of[a], high = groups->of[b];
    if (low == high || !pieces->list[a].found || !pieces->list[b].found)
        return;
    if (low > high) {
        low = groups->of[b];
        high = groups->of[a];
    }
    for (size_t i = 0; i < pieces->count; i++)
        if (groups->of[i] == high)
            groups->of[i] = low;
    groups->stale[high] = false;
    groups->stale[low] = true;
}

static bool any_stale(const struct groups *groups, size_t count) {
    for (size_t b = 0; b < count; b++)
        if (groups->stale[b])
            return true;
    return false;
}

static enum outcome search_group(const struct pieces *pieces, const struct groups *groups,
                                 size_t group, size_t *budget) {
    struct piece *members[ROOF_BRACKETS_MOST];
    size_t count = 0;
    for (size_t b = 0; b < pieces->count; b++)
        if (groups->of[b] == group)
            members[count++] = &pieces->list[b];
    bool proved = false;
    return round_search(pieces->roof, members, count, budget, &proved);
}

static enum outcome search_alone(const struct pieces *pieces, struct groups *groups,
                                 size_t *budget) {
    const size_t share = *budget / 2 / pieces->count;
    for (size_t b = 0; b < pieces->count; b++) {
        groups->of[b] = b;
        groups->stale[b] = false;
    }
    for (size_t b = 0; b < pieces->count; b++) {
        size_t left = share;
        if (search_group(pieces, groups, b, &left) != OUTCOME_DONE)
            return OUTCOME_FAULT;
        *budget -= share - left;
    }
    return OUTCOME_DONE;
}

static enum outcome search_stale(const struct pieces *pieces, struct groups *groups,
                                 size_t *budget) {
    for (size_t b = 0; b < pieces->count; b++) {
        if (!groups->stale[b])
            continue;
        groups->stale[b] = false;
        const size_t share = *budget / 2;
        size_t left = share;
        if (search_group(pieces, groups, b, &left) != OUTCOME_DONE)
            return OUTCOME_FAULT;
        *budget -= share - left;
    }
    return OUTCOME_DONE;
}

/* Merges groups of which one costs the other forgiveness, or adds a shortfall. */
static void merge_clashing(const struct pieces *pieces, const struct verdict *verdict,
                           struct groups *groups) {
    size_t hard = 0, own = 0;
    for (size_t b = 0; b < pieces->count; b++)
        own += pieces->list[b].broken + pieces->list[b].bare;
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (!check_rule_counted(finding->rule)) {
            hard += !length_holds(finding->margin);
            hard += round_is_strut_rule(finding->rule) &&
                    finding->margin < pieces->roof->tape - ROUND_SLACK;
        } else if (finding->other_bracket != CHECK_NONE &&
                   finding->other_bracket != finding->bracket) {
            const size_t a = (size_t)finding->bracket, b = (size_t)finding->other_bracket;
            const double most =
                length_greater(pieces->list[a].forgiveness, pieces->list[b].forgiveness);
            if (finding->margin < most - ROUND_SLACK || !length_holds(finding->margin))
                merge(pieces, groups, a, b);
        }
    }
    /* Next to other brackets check may have put a clamp on its leg's other side. */
    if (hard > own && !any_stale(groups, pieces->count))
        for (size_t a = 0; a < pieces->count; a++)
            for (size_t b = a + 1; b < pieces->count; b++)
                merge(pieces, groups, a, b);
}

static enum outcome search_all(const struct pieces *pieces, struct marks **marks,
                               struct verdict **verdict) {
    struct groups groups;
    size_t budget = WORK_MOST;
    if (search_alone(pieces, &groups, &budget) != OUTCOME_DONE)
        return OUTCOME_FAULT;
    for (;;) {
        struct marks *made = NULL;
        struct verdict *found = NULL;
        if (assemble(pieces, &made, &found) != OUTCOME_DONE)
            return OUTCOME_FAULT;
        merge_clashing(pieces, found, &groups);
        if (!any_stale(&groups, pieces->count)) {
            *marks = made;
            *verdict = found;
            return OUTCOME_DONE;
        }
        marks_free(made);
        verdict_free(found);
        if (search_stale(pieces, &groups, &budget) != OUTCOME_DONE)
            return OUTCOME_FAULT;
    }
}

/* Plain rounding lost something: *marks and *verdict, its own, become those of the best readings.
 * Where these break a rule and plain rounding breaks none, it stays. */
static enum outcome improve(const struct pieces *pieces, struct marks **marks,
                            struct verdict **verdict) {
    struct marks *better = NULL;
    struct verdict *verdict_better = NULL;
    if (search_all(pieces, &better, &verdict_better) != OUTCOME_DONE)
        return OUTCOME_FAULT;
    if ((*verdict)->holds && !verdict_better->holds) {
        marks_free(better);
        verdict_free(verdict_better);
        return OUTCOME_DONE;
    }
    marks_free(*marks);
    verdict_free(*verdict);
    *marks = better;
    *verdict = verdict_better;
    return OUTCOME_DONE;
}

enum outcome layout_round(const struct roof *roof, const struct layout *layout, enum side from,
                          struct marks **marks, bool *obeyed) {
    assert(layout->marks && layout->marks->bracket_count == roof->bracket_count);
    struct pieces *pieces = NULL;
    struct marks *made = NULL;
    struct verdict *verdict = NULL;
    enum outcome outcome = round_pieces_new(roof, layout, from, &pieces);
    if (outcome == OUTCOME_DONE)
        outcome = assemble(pieces, &made, &verdict);
    if (outcome == OUTCOME_DONE && !all_kept(roof, layout, verdict))
        outcome = improve(pieces, &made, &verdict);
    if (outcome == OUTCOME_DONE) {
        *obeyed = verdict->holds;
        *marks = made;
        made = NULL;
    }
    marks_free(made);
    verdict_free(verdict);
    round_pieces_free(pieces);
    return outcome;
}
