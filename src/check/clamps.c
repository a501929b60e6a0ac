/* On which side of its leg each clamp of a strut is.  Of all combinations of sides, those whose
 * hard rules hold come first, then the greatest least counted margin, then the greatest hard
 * margin.
 *
 * A counted margin sees only the two ends of a strut, and grows as the strut shrinks.  So it is
 * enough to look at each pair of ends that clamps can give: between them, each leg takes the side
 * with the greater hard margin.  No combination of sides with those ends is better than that one.
 */
#include "rules.h"

#include <math.h>
#include <string.h>

enum { ENDS_MOST = 2 * ROOF_LEGS_MOST + 1, SWEEPS_MOST = 64 };

/* One combination of sides and what it is worth. */
struct choice {
    bool far[ROOF_LEGS_MOST];
    double from, to;
    bool holds;
    double counted, hard;
};

/* Both clamps that each leg could have. */
struct places {
    size_t leg_count;
    double x[ROOF_LEGS_MOST][SIDE_COUNT];
    double margin[ROOF_LEGS_MOST][SIDE_COUNT]; /* strut-clamp */
};

static struct places find_places(const struct checking *checking, const struct strut *strut) {
    struct places places = {.leg_count = roof_kit(checking->roof, strut->bracket)->leg_count};
    for (size_t i = 0; i < places.leg_count; i++) {
        for (int side = 0; side < SIDE_COUNT; side++) {
            double x = check_clamp_x(checking, strut, i, side == SIDE_FAR);
            places.x[i][side] = x;
            places.margin[i][side] = check_clamp(checking, strut, x);
        }
    }
    return places;
}

/* Least over the counted rules that see a strut: strut-clear, apart and pipe-bay. */
static double counted_margin(const struct checking *checking, const struct strut *strut,
                             double from, double to) {
    const struct roof *roof = checking->roof;
    struct box box = check_strut_box(roof, strut, from, to);
    double least = check_inside(roof, &box, false);
    for (size_t i = 0; i < roof->vent_count; i++)
        least = check_lesser(least, check_strut_vent(&roof->vents[i], &box));
    for (size_t i = 0; i < roof->bracket_count; i++) {
        if (i == strut->bracket)
            continue;
        struct box other = check_bracket_box(roof, i, &checking->marks->brackets[i]);
        least = check_lesser(least, check_gap(&box, &other));
    }
    for (size_t i = 0; i < checking->strut_count; i++) {
        const struct strut *other = &checking->struts[i];
        if (other == strut)
            continue;
        struct box at = check_strut_box(roof, other, other->from, other->to);
        least = check_lesser(least, check_apart(&box, &at, 0));
    }
    for (size_t i = 0; i < checking->pipe_mark_count; i++) {
        const struct mark *pipe = &checking->marks->list[checking->pipe_marks[i]];
        least = check_lesser(least, check_bore_clear(roof, pipe, &box));
    }
    return least;
}

/* The sides with the greatest hard margins among clamps from lo to hi; false where a leg has none.
 */
static bool choose_sides(const struct places *places, double lo, double hi, struct choice *choice) {
    choice->hard = INFINITY;
    for (size_t i = 0; i < places->leg_count; i++) {
        const double *x = places->x[i], *margin = places->margin[i];
        bool near = x[SIDE_NEAR] >= lo && x[SIDE_NEAR] <= hi;
        bool far = x[SIDE_FAR] >= lo && x[SIDE_FAR] <= hi;
        if (!near && !far)
            return false;
        choice->far[i] = far && (!near || margin[SIDE_FAR] > margin[SIDE_NEAR]);
        choice->hard = check_lesser(choice->hard, margin[choice->far[i] ? SIDE_FAR : SIDE_NEAR]);
    }
    return true;
}

/* Fills in the ends and what the choice is worth.  While nothing else is known of the others
 * (`narrow`), the shorter strut counts as the better one. */
static void weigh(const struct checking *checking, const struct strut *strut,
                  const struct places *places, bool narrow, struct choice *choice) {
    const struct kit *kit = roof_kit(checking->roof, strut->bracket);
    double first = strut->start, last = strut->finish;
    for (size_t i = 0; i < places->leg_count; i++) {
        double x = places->x[i][choice->far[i] ? SIDE_FAR : SIDE_NEAR];
        first = check_lesser(first, x);
        last = check_greater(last, x);
    }
    choice->from = first - kit->strut_end;
    choice->to = last + kit->strut_end;
    choice->hard = check_lesser(choice->hard, check_stock(kit, choice->to - choice->from));
    choice->holds = length_holds(choice->hard);
    choice->counted = narrow ? choice->from - choice->to
                             : counted_margin(checking, strut, choice->from, choice->to);
}

static bool better(const struct choice *a, const struct choice *b) {
    if (a->holds != b->holds)
        return a->holds;
    if (a->counted < b->counted || a->counted > b->counted)
        return a->counted > b->counted;
    if (a->hard < b->hard || a->hard > b->hard)
        return a->hard > b->hard;
    return a->to - a->from < b->to - b->from;
}

/* Where the end lag or a clamp beyond it can be the outermost thing on one side. */
static size_t list_ends(const struct places *places, double lag, bool finish,
                        double ends[ENDS_MOST]) {
    size_t count = 0;
    ends[count++] = lag;
    for (size_t i = 0; i < places->leg_count; i++) {
        for (int side = 0; side < SIDE_COUNT; side++) {
            double x = places->x[i][side];
            if (finish ? x > lag : x < lag)
                ends[count++] = x;
        }
    }
    return count;
}

/* Puts the best combination of sides into the strut; true where that changed anything. */
static bool choose(const struct checking *checking, struct strut *strut, bool narrow) {
    struct places places = find_places(checking, strut);
    double starts[ENDS_MOST], finishes[ENDS_MOST];
    size_t start_count = list_ends(&places, strut->start, false, starts);
    size_t finish_count = list_ends(&places, strut->finish, true, finishes);
    struct choice best = {.holds = false};
    bool found = false;
    for (size_t i = 0; i < start_count; i++) {
        for (size_t j = 0; j < finish_count; j++) {
            struct choice choice = {.holds = false};
            if (!choose_sides(&places, starts[i], finishes[j], &choice))
                continue;
            weigh(checking, strut, &places, narrow, &choice);
            if (!found || better(&choice, &best))
                best = choice;
            found = true;
        }
    }
    bool changed = memcmp(strut->far, best.far, sizeof best.far) != 0;
    memcpy(strut->far, best.far, sizeof best.far);
    strut->from = best.from;
    strut->to = best.to;
    return changed;
}

static void store(struct checking *checking, const struct strut *strut) {
    struct row_seat *seat = &checking->verdict->rows[strut->bracket][strut->row];
    seat->from = strut->from;
    seat->to = strut->to;
    for (size_t i = 0; i < roof_kit(checking->roof, strut->bracket)->leg_count; i++)
        seat->clamps[i] = check_clamp_x(checking, strut, i, strut->far[i]);
}

/* Each strut starts as short as it can be; then each in turn has its best with the others held,
 * until none changes. */
void check_seat_clamps(struct checking *checking) {
    for (size_t i = 0; i < checking->strut_count; i++)
        choose(checking, &checking->struts[i], true);
    bool changed = true;
    for (int sweep = 0; changed && sweep < SWEEPS_MOST; sweep++) {
        changed = false;
        for (size_t i = 0; i < checking->strut_count; i++)
            changed = choose(checking, &checking->struts[i], false) || changed;
    }
    for (size_t i = 0; i < checking->strut_count; i++)
        store(checking, &checking->struts[i]);
}
