/* What a stand lacks whatever way it goes past the vents. */
#include "gathering.h"

#include "candidates.h"
#include "length.h"

#include <math.h>

/* What a foot may lack without X: of two neighbours whose flashings overlap. */
struct footing {
    double middle, room;        /* of X: no more of wood and reach is lacked within so much of it */
    double sure;                /* wood that is lacked wherever the foot is */
    double aside;               /* and what is lacked because it has to keep off a vent */
    double overlap[SIDE_COUNT]; /* with the flashing on that side, where both feet lack no more wood
                                   than that; 0: none */
};

static struct footing footing_of(const struct gathering *gathering, const struct stand_lag *lag,
                                 size_t leg) {
    const struct kit *kit = gathering->kit;
    const double at = lag->middle, level = gathering->level;
    const double play = candidates_play(gathering->roof, kit, lag->ply);
    const double side = lag->turned == SIDE_FAR ? kit->foot_reach : -kit->foot_reach;
    struct interval wood = {at - length_greater(0, play), at + length_greater(0, play)};
    const struct interval left = {length_greater(wood.lo, lag->lo + level),
                                  length_lesser(wood.hi, lag->hi - level)};
    double aside = 0;
    if (left.lo > left.hi) { /* the lag lies beyond its wood: as near to it as the vent lets it */
        aside = left.lo - left.hi;
        wood.lo = wood.hi = left.lo > wood.lo ? left.lo : left.hi;
    } else {
        wood = left;
    }
    return (struct footing){.middle = (wood.lo + wood.hi) / 2 - kit->legs[leg] - side,
                            .room = (wood.hi - wood.lo) / 2 + kit->foot_slot,
                            .sure = length_greater(0, -play),
                            .aside = aside};
}

/* Half of what two flashings overlap is lacked.  A foot that is too far out for its wood on the
 * side away from the other one, as X may want it to be anyway, makes it less by half of that, as
 * far as the level lets it.  With `parted` both are as far out as that, for nothing. */
static void overlap_feet(const struct gathering *gathering, const struct hold *hold, size_t i,
                         bool parted, struct footing *left, struct footing *right,
                         struct lack *lack) {
    const struct flashing *flashing = &gathering->kit->flashing;
    const double free = parted ? -2 * gathering->level : left->sure + right->sure;
    const double overlap = flashing->width - (hold->lags[i + 1].hi - hold->lags[i].lo + free);
    if (overlap <= 0)
        return;
    lack->base += length_lesser(overlap, flashing->height) / 2;
    if (!parted)
        left->overlap[SIDE_FAR] = right->overlap[SIDE_NEAR] = overlap;
}

/* What X lacks on one side of a foot. */
static void add_footing(const struct gathering *gathering, const struct footing *footing,
                        enum side side, struct lack *lack) {
    const double at =
        side == SIDE_NEAR ? footing->middle - footing->room : footing->middle + footing->room;
    const double overlap = footing->overlap[side == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR];
    const double gain =
        length_greater(0, length_lesser(overlap, -gathering->level - footing->sure));
    const double part = gain > 0 ? 0.5 : 0, from = side == SIDE_NEAR ? at - gain : at + gain;
    lack_window(lack, side == SIDE_NEAR ? at : -INFINITY, side == SIDE_NEAR ? INFINITY : at,
                1 - part);
    if (part > 0)
        lack_window(lack, side == SIDE_NEAR ? from : -INFINITY, side == SIDE_NEAR ? INFINITY : from,
                    part);
}

static struct lack lack_of_feet(const struct gathering *gathering, const struct hold *hold,
                                bool parted) {
    struct lack lack = {.base = 0};
    struct footing feet[ROOF_LEGS_MOST];
    for (size_t i = 0; i < hold->count; i++) {
        feet[i] = footing_of(gathering, &hold->lags[i], i);
        lack.base += feet[i].sure + feet[i].aside;
    }
    for (size_t i = 0; i + 1 < hold->count; i++)
        overlap_feet(gathering, hold, i, parted, &feet[i], &feet[i + 1], &lack);
    for (size_t i = 0; i < hold->count; i++)
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
            add_footing(gathering, &feet[i], (enum side)side, &lack);
    return lack;
}

/* Wood and reach of every foot, which share what they lack, and the flashings of neighbours: of the
 * two ways to bound that from below the one that says more for X in there. */
static void add_feet(const struct gathering *gathering, const struct hold *hold, struct interval x,
                     struct lack *lack) {
    double least[2];
    struct lack ways[2];
    for (int parted = 0; parted < 2; parted++) {
        ways[parted] = lack_of_feet(gathering, hold, parted != 0);
        lack_settle(&ways[parted]);
        lack_best(&ways[parted], x, &least[parted]);
    }
    lack_add(lack, &ways[least[1] > least[0]]);
}

double misses_run(const struct roof *roof, const struct kit *kit, const struct hold *hold) {
    const struct flashing *flashing = &kit->flashing;
    double sum = 0;
    for (size_t i = 0; i < hold->count; i++)
        sum += length_greater(0, -candidates_play(roof, kit, hold->lags[i].ply));
    for (size_t i = 1; i < hold->count; i++)
        sum += length_greater(
                   0, length_lesser(flashing->width - hold->lags[i].lo + hold->lags[i - 1].lo,
                                    flashing->height)) /
               2;
    return sum;
}

size_t misses_on_face(const struct hold *hold, double off, const struct box *face) {
    size_t count = 0;
    for (size_t i = 0; i < hold->count; i++)
        count += hold->lags[i].lo - off >= face->x0 && hold->lags[i].hi + off <= face->x1;
    return count;
}

static void add_window(struct sides *sides, double lo, double hi, double weight,
                       struct interval may) {
    if (may.lo < lo && sides->count < GATHERING_SIDES)
        sides->list[sides->count++] = (struct hinge){lo, weight, 0};
    if (may.hi > hi && sides->count < GATHERING_SIDES)
        sides->list[sides->count++] = (struct hinge){hi, 0, weight};
}

/* What a row's flashings and its strut lack up the slope of lying on the face.  It is one rule with
 * what they lack along the eave: those that may lack anything there are left out. */
static void keep_to_face(const struct gathering *gathering, enum row row,
                         struct gathered *gathered) {
    const struct stands *stands = gathering->stands;
    const struct kit *kit = gathering->kit;
    const struct flashing *flashing = &kit->flashing;
    const struct hold *hold = &stands->holds[row][stands->list[gathered->stand].holds[row]];
    const bool feet = gathering->roof->brackets[stands->bracket].hardware[row] == HARDWARE_FEET;
    const double level = gathering->level, *y = gathered->like.row[row];
    const struct interval may = {y[0] + level, y[1] - level};
    const struct box *face = &gathering->face;
    const double lags =
        (double)misses_on_face(hold, flashing->width / 2 - (feet ? level : 0), face);
    struct sides *sides = &gathered->like.lines[row];
    if (lags > 0)
        add_window(sides, face->y0 + flashing->hole_up,
                   face->y1 - (flashing->height - flashing->hole_up), lags, may);
    if (feet)
        return;
    const struct interval strut = arms_strut(kit, hold, gathered->x);
    if (strut.lo >= face->x0 && strut.hi <= face->x1)
        add_window(sides, face->y0 + kit->strut_half, face->y1 - kit->strut_half, 1, may);
}

bool gathering_begin(struct gathering *gathering, size_t index, struct gathered *gathered) {
    const struct stands *stands = gathering->stands;
    const struct stand *stand = &stands->list[index];
    const struct interval x = stands_x(gathering->stands, stand, gathering->level);
    if (stand->cap < gathering->level - BAND_TOUCH || !interval_there(x))
        return false;
    *gathered = (struct gathered){
        .stand = index, .x = interval_settled(x), .like = gathering_likeness(stands, stand)};
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *hold = &stands->holds[row][stand->holds[row]];
        if (gathering->roof->brackets[stands->bracket].hardware[row] == HARDWARE_FEET)
            add_feet(gathering, hold, gathered->x, &gathered->along);
        else
            gathered->along.base += misses_run(gathering->roof, gathering->kit, hold);
    }
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        keep_to_face(gathering, (enum row)row, gathered);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        gathered->begun[row] = gathered->like.lines[row].count;
    const struct met_list *rows = gathering_rows(gathering, &gathered->like);
    gathered->up = rows ? rows->least : INFINITY;
    return rows && rows->count > 0;
}
