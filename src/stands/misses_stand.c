/* What a stand lacks whatever way it goes past the vents. */
#include "gathering.h"

#include "candidates.h"
#include "length.h"

#include <math.h>

/* Wood and reach of every foot, which share what they lack; wood alone of a strut's lags. */
static void add_lags(const struct gathering *gathering, enum row row, const struct hold *hold,
                     struct lack *lack) {
    const struct kit *kit = gathering->kit;
    const bool feet =
        gathering->roof->brackets[gathering->stands->bracket].hardware[row] == HARDWARE_FEET;
    for (size_t i = 0; i < hold->count; i++) {
        const struct stand_lag *lag = &hold->lags[i];
        const double play = candidates_play(gathering->roof, kit, lag->ply);
        lack->base += length_greater(0, -play);
        if (!feet)
            continue;
        const double side = lag->turned == SIDE_FAR ? kit->foot_reach : -kit->foot_reach;
        const double middle = gathering->roof->plies[lag->ply].at - kit->legs[i] - side;
        const double room = length_greater(0, play) + kit->foot_slot;
        lack_window(lack, middle - room, middle + room, 1);
    }
}

/* What two neighbours' flashings in a row lack of lying side by side, however far apart the level
 * lets their lags be: half of what overlaps, of each. */
static void add_neighbours(const struct gathering *gathering, enum row row, const struct hold *hold,
                           struct lack *lack) {
    const struct flashing *flashing = &gathering->kit->flashing;
    const bool feet =
        gathering->roof->brackets[gathering->stands->bracket].hardware[row] == HARDWARE_FEET;
    const double give = feet ? 2 * gathering->level : 0;
    for (size_t i = 1; i < hold->count; i++) {
        const double most = hold->lags[i].hi - hold->lags[i - 1].lo - give;
        lack->base +=
            length_greater(0, length_lesser(flashing->width - most, flashing->height)) / 2;
    }
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
    double lags = 0;
    for (size_t i = 0; i < hold->count; i++) {
        const struct stand_lag *lag = &hold->lags[i];
        const double off = flashing->width / 2 - (feet ? level : 0);
        lags += lag->lo - off >= face->x0 && lag->hi + off <= face->x1;
    }
    struct sides *sides = &gathered->like.lines[row];
    if (lags > 0)
        add_window(sides, face->y0 + flashing->hole_up,
                   face->y1 - (flashing->height - flashing->hole_up), lags, may);
    if (feet)
        return;
    const struct interval outer = outer_clamps(kit, hold->clamps);
    const double from = length_lesser(hold->lags[0].lo, gathered->x.lo + outer.lo) - kit->strut_end;
    const double to =
        length_greater(hold->lags[hold->count - 1].lo, gathered->x.hi + outer.hi) + kit->strut_end;
    if (from >= face->x0 && to <= face->x1)
        add_window(sides, face->y0 + kit->strut_half, face->y1 - kit->strut_half, 1, may);
}

bool gathering_begin(struct gathering *gathering, size_t index, struct gathered *gathered) {
    const struct stands *stands = gathering->stands;
    const struct stand *stand = &stands->list[index];
    const struct interval x = band_at(&stand->x, gathering->level);
    if (stand->cap < gathering->level - BAND_TOUCH || !interval_there(x))
        return false;
    *gathered = (struct gathered){
        .stand = index, .x = interval_settled(x), .like = gathering_likeness(stands, stand)};
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *hold = &stands->holds[row][stand->holds[row]];
        add_lags(gathering, (enum row)row, hold, &gathered->along);
        add_neighbours(gathering, (enum row)row, hold, &gathered->along);
    }
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        keep_to_face(gathering, (enum row)row, gathered);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        gathered->begun[row] = gathered->like.lines[row].count;
    const struct met_list *rows = gathering_rows(gathering, &gathered->like);
    gathered->up = rows ? rows->least : INFINITY;
    return rows && rows->count > 0;
}
