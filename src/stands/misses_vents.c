/* What keeps off a vent by less than it should does so on one side of it: every side that the level
 * allows is a way of its own, with what it lacks there.  What is clear of the vent wherever the
 * stand may be lacks nothing. */
#include "gathering.h"

#include "length.h"

#include <math.h>

/* What is held against a vent: its bracket, and of each row the flashings and the strut. */
enum part { PART_BRACKET, PART_FLASHINGS, PART_STRUT, PARTS = PART_STRUT + ROW_COUNT + 1 };

struct passing {
    struct gathering *gathering;
    size_t vent;
    int part; /* PART_BRACKET, then flashings and strut of each row */
};

static void pass(const struct passing *passing, const struct gathered *gathered);

static void pass_next(const struct passing *passing, const struct gathered *gathered) {
    struct passing next = *passing;
    if (++next.part == PARTS) {
        next.part = PART_BRACKET;
        next.vent++;
    }
    pass(&next, gathered);
}

/* One way of several, if what it lacks may be of use. */
static void pass_way(const struct passing *passing, const struct gathered *way) {
    if (!gathering_hopeless(passing->gathering, gathering_bound(passing->gathering, way)))
        pass_next(passing, way);
}

static void add_side(struct sides *sides, struct hinge hinge) {
    if (sides->count < GATHERING_SIDES) /* without it less is lacked than in truth */
        sides->list[sides->count++] = hinge;
}

/* A value that lacks what it is beyond `at`, or below it. */
struct limit {
    double at;
    bool most;
};

static struct hinge hinge_of(struct limit limit, double weight) {
    return (struct hinge){limit.at, limit.most ? 0 : weight, limit.most ? weight : 0};
}

/* The least and the largest margin that values of an interval have of a limit. */
static struct interval margins(struct limit limit, struct interval at) {
    return limit.most ? (struct interval){limit.at - at.hi, limit.at - at.lo}
                      : (struct interval){at.lo - limit.at, at.hi - limit.at};
}

static bool clear(struct limit limit, struct interval at) {
    return margins(limit, at).lo >= -BAND_TOUCH;
}

static bool possible(const struct passing *passing, struct limit limit, struct interval at) {
    return margins(limit, at).hi >= passing->gathering->level - BAND_TOUCH;
}

static struct interval line_range(const struct passing *passing, const struct gathered *gathered,
                                  enum row row) {
    const double level = passing->gathering->level;
    return (struct interval){gathered->like.row[row][0] + level,
                             gathered->like.row[row][1] - level};
}

static void pass_bracket(const struct passing *passing, const struct gathered *gathered) {
    const struct gathering *gathering = passing->gathering;
    const struct vent *vent = &gathering->roof->vents[passing->vent];
    const struct kit *kit = gathering->kit;
    const double keep = vent->keep_bracket, level = gathering->level;
    const struct interval y = {gathered->like.y[0] + level, gathered->like.y[1] - level};
    const struct limit x_limits[2] = {{vent->flange.x0 - keep - kit->width, true},
                                      {vent->flange.x1 + keep, false}};
    const struct limit y_limits[2] = {{vent->flange.y0 - keep - kit->height, true},
                                      {vent->flange.y1 + keep, false}};
    bool over = vent->kind == VENT_BLANK && vent->tall < kit->standoff;
    for (int i = 0; i < 2; i++)
        over = over || clear(x_limits[i], gathered->x) || clear(y_limits[i], y);
    if (over) {
        pass_next(passing, gathered);
        return;
    }
    for (int i = 0; i < 2; i++) {
        struct gathered beside = *gathered, past = *gathered;
        lack_window(&beside.along, x_limits[i].most ? -INFINITY : x_limits[i].at,
                    x_limits[i].most ? x_limits[i].at : INFINITY, 1);
        add_side(&past.like.vents, hinge_of(y_limits[i], 1));
        if (possible(passing, x_limits[i], gathered->x))
            pass_way(passing, &beside);
        if (possible(passing, y_limits[i], y))
            pass_way(passing, &past);
    }
}

/* Where a lag may be while its bracket is anywhere in its spot. */
static struct interval lag_range(const struct passing *passing, const struct gathered *gathered,
                                 enum row row, size_t i) {
    const struct gathering *gathering = passing->gathering;
    const struct stands *stands = gathering->stands;
    const struct stand_lag *lag =
        &stands->holds[row][stands->list[gathered->stand].holds[row]].lags[i];
    if (gathering->roof->brackets[stands->bracket].hardware[row] == HARDWARE_STRUT)
        return (struct interval){lag->lo, lag->hi};
    const struct kit *kit = gathering->kit;
    const double side = lag->turned == SIDE_FAR ? kit->foot_reach : -kit->foot_reach;
    const double off = kit->legs[i] + side, play = kit->foot_slot - gathering->level;
    return (struct interval){
        length_greater(lag->lo + gathering->level, gathered->x.lo + off - play),
        length_lesser(lag->hi - gathering->level, gathered->x.hi + off + play)};
}

/* Flashings of a row that are not clear of a vent: some of them may pass beside it. */
enum { BESIDE_MOST = 3 };
struct flashings {
    size_t in_its_way;      /* how many have to pass below or above */
    size_t count;           /* of those that may do either */
    double by[BESIDE_MOST]; /* what each of these lacks beside the vent, at least */
    size_t lag[BESIDE_MOST];
};

/* Whether a foot's flashing may have to make room for one beside it. */
static bool has_close_neighbour(const struct gathering *gathering, const struct hold *hold,
                                size_t i) {
    const double width = gathering->kit->flashing.width;
    return (i > 0 && width > hold->lags[i].hi - hold->lags[i - 1].lo) ||
           (i + 1 < hold->count && width > hold->lags[i + 1].hi - hold->lags[i].lo);
}

/* An inch that a foot's lag goes from its wood towards a vent's side lacks as much as it spares the
 * vent: together they lack the way, but for what the foot's leg lacks less by it.  What is counted
 * of it already is left out, and so is all of it for a foot that keeps off another vent. */
static double way_from_wood(const struct passing *passing, const struct gathered *gathered,
                            enum row row, size_t i, struct limit limit) {
    const struct gathering *gathering = passing->gathering;
    const struct stands *stands = gathering->stands;
    const struct kit *kit = gathering->kit;
    const struct hold *hold = &stands->holds[row][stands->list[gathered->stand].holds[row]];
    const struct stand_lag *lag = &hold->lags[i];
    if (gathering->roof->brackets[stands->bracket].hardware[row] == HARDWARE_STRUT ||
        gathered->dodged[row][i] || has_close_neighbour(gathering, hold, i))
        return 0;
    const double play = length_greater(0, candidates_play(gathering->roof, kit, lag->ply));
    const double side = lag->turned == SIDE_FAR ? kit->foot_reach : -kit->foot_reach;
    const double at = lag->middle, off = kit->legs[i] + side;
    const struct interval wood = {at - play, at + play};
    const double beyond = length_greater(0, length_greater(lag->lo + gathering->level - wood.hi,
                                                           wood.lo - lag->hi + gathering->level));
    const double way = limit.most ? wood.lo - limit.at : limit.at - wood.hi;
    const double leg = limit.most ? wood.lo - kit->foot_slot - gathered->x.lo - off
                                  : gathered->x.hi + off - kit->foot_slot - wood.hi;
    return way - beyond - length_greater(0, leg);
}

static struct flashings flashings_of(const struct passing *passing, const struct gathered *gathered,
                                     enum row row) {
    const struct gathering *gathering = passing->gathering;
    const struct vent *vent = &gathering->roof->vents[passing->vent];
    const double off = vent->keep_flashing + gathering->kit->flashing.width / 2;
    const struct limit limits[2] = {{vent->flange.x0 - off, true}, {vent->flange.x1 + off, false}};
    struct flashings flashings = {.count = 0};
    for (size_t i = 0; i < gathered->like.lags[row]; i++) {
        const struct interval x = lag_range(passing, gathered, row, i);
        const double best = length_greater(margins(limits[0], x).hi, margins(limits[1], x).hi);
        double by = INFINITY;
        if (clear(limits[0], x) || clear(limits[1], x))
            continue;
        for (int side = 0; side < 2; side++)
            by = length_lesser(
                by, length_greater(-margins(limits[side], x).hi,
                                   way_from_wood(passing, gathered, row, i, limits[side])));
        if (best < gathering->level - BAND_TOUCH) {
            flashings.in_its_way++;
        } else if (flashings.count < BESIDE_MOST) {
            flashings.lag[flashings.count] = i;
            flashings.by[flashings.count++] = length_greater(0, by);
        }
    }
    return flashings;
}

static void pass_flashings(const struct passing *passing, const struct gathered *gathered,
                           enum row row) {
    const struct gathering *gathering = passing->gathering;
    const struct vent *vent = &gathering->roof->vents[passing->vent];
    const struct flashing *flashing = &gathering->kit->flashing;
    const double keep = vent->keep_flashing;
    const struct interval y = line_range(passing, gathered, row);
    const struct limit limits[2] = {
        {vent->flange.y0 - keep - (flashing->height - flashing->hole_up), true},
        {vent->flange.y1 + keep + flashing->hole_up, false}};
    const struct flashings flashings = flashings_of(passing, gathered, row);
    if (clear(limits[0], y) || clear(limits[1], y) || flashings.count + flashings.in_its_way == 0) {
        pass_next(passing, gathered);
        return;
    }
    const unsigned all = (1U << flashings.count) - 1;
    for (unsigned beside = 0; beside <= all; beside++) {
        struct gathered way = *gathered;
        size_t past = flashings.in_its_way;
        for (size_t i = 0; i < flashings.count; i++)
            if (beside & (1U << i)) {
                way.along.base += flashings.by[i];
                way.dodged[row][flashings.lag[i]] = true;
            } else {
                past++;
            }
        if (past == 0)
            pass_way(passing, &way);
        for (int i = 0; i < 2 && past > 0; i++) {
            struct gathered over = way;
            add_side(&over.like.lines[row], hinge_of(limits[i], (double)past));
            if (possible(passing, limits[i], y))
                pass_way(passing, &over);
        }
    }
}

/* A strut that ends at the larger of a fixed place and one that goes with X: what that lacks. */
static void end_at(struct lack *along, double fixed, struct limit limit) {
    const double sure = length_greater(0, fixed);
    along->base += sure;
    if (limit.most)
        lack_window(along, -INFINITY, limit.at + sure, 1);
    else
        lack_window(along, limit.at - sure, INFINITY, 1);
}

static void pass_strut(const struct passing *passing, const struct gathered *gathered,
                       enum row row) {
    const struct gathering *gathering = passing->gathering;
    const struct stands *stands = gathering->stands;
    const struct vent *vent = &gathering->roof->vents[passing->vent];
    const struct kit *kit = gathering->kit;
    const struct hold *hold = &stands->holds[row][stands->list[gathered->stand].holds[row]];
    const double keep = vent->keep_flashing, half = kit->strut_half, end = kit->strut_end + keep;
    const struct interval y = line_range(passing, gathered, row);
    const struct interval outer = outer_clamps(kit, hold->clamps);
    const struct limit y_limits[2] = {{vent->flange.y0 - keep - half, true},
                                      {vent->flange.y1 + keep + half, false}};
    const struct limit x_limits[2] = {{vent->flange.x0 - end - outer.hi, true},
                                      {vent->flange.x1 + end - outer.lo, false}};
    const double fixed[2] = {hold->lags[hold->count - 1].hi + end - vent->flange.x0,
                             vent->flange.x1 + end - hold->lags[0].lo};
    bool over = false;
    for (int i = 0; i < 2; i++)
        over = over || clear(y_limits[i], y) ||
               (clear(x_limits[i], gathered->x) && fixed[i] <= BAND_TOUCH);
    if (over) {
        pass_next(passing, gathered);
        return;
    }
    for (int i = 0; i < 2; i++) {
        struct gathered beside = *gathered, past = *gathered;
        end_at(&beside.along, fixed[i], x_limits[i]);
        add_side(&past.like.lines[row], hinge_of(y_limits[i], 1));
        if (possible(passing, x_limits[i], gathered->x) &&
            -fixed[i] >= gathering->level - BAND_TOUCH)
            pass_way(passing, &beside);
        if (possible(passing, y_limits[i], y))
            pass_way(passing, &past);
    }
}

static void pass(const struct passing *passing, const struct gathered *gathered) {
    struct gathering *gathering = passing->gathering;
    if (gathering->failed || gathering->made->crowded)
        return;
    if (passing->vent == gathering->roof->vent_count) {
        gathering_add(gathering, gathered);
        return;
    }
    if (passing->part == PART_BRACKET) {
        pass_bracket(passing, gathered);
        return;
    }
    const enum row row = (enum row)((passing->part - PART_FLASHINGS) / 2);
    const bool strut = (passing->part - PART_FLASHINGS) % 2 != 0;
    if (!strut)
        pass_flashings(passing, gathered, row);
    else if (gathering->roof->brackets[gathering->stands->bracket].hardware[row] == HARDWARE_STRUT)
        pass_strut(passing, gathered, row);
    else
        pass_next(passing, gathered);
}

void gathering_vents(struct gathering *gathering, const struct gathered *gathered) {
    const struct passing passing = {.gathering = gathering};
    pass(&passing, gathered);
}
