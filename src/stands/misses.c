/* What a bracket lacks at levels below zero, stand by stand.  Along the eave that is a function of
 * X, up the slope one of Y for every pair of courses. */
#include "gathering.h"

#include "candidates.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { X = GATHERING_X, Y = GATHERING_Y, AXES = GATHERING_AXES };

/* What spots point to stays where it is: in blocks. */
enum { BLOCK = 128 };
struct lack_block {
    struct lack_block *before;
    size_t count;
    struct lack list[BLOCK];
};
struct miss_block {
    struct miss_block *before;
    size_t count;
    struct miss list[BLOCK];
};

/* The same function is kept once, if it came up lately. */
static const struct lack *keep_lack(struct misses *misses, const struct lack *lack) {
    struct lack_block *block = misses->lacks;
    for (size_t i = block ? block->count : 0; i-- > 0;)
        if (lack_same(&block->list[i], lack))
            return &block->list[i];
    if (!block || block->count == BLOCK) {
        struct lack_block *next = calloc(1, sizeof *next);
        if (!next)
            return NULL;
        next->before = block;
        misses->lacks = block = next;
    }
    block->list[block->count] = *lack;
    return &block->list[block->count++];
}

static const struct miss *keep_miss(struct misses *misses, const struct miss *miss) {
    struct miss_block *block = misses->list;
    if (!block || block->count == BLOCK) {
        struct miss_block *next = calloc(1, sizeof *next);
        if (!next)
            return NULL;
        next->before = block;
        misses->list = block = next;
    }
    block->list[block->count] = *miss;
    return &block->list[block->count++];
}

/* Wood and reach of every foot, which share what they lack; wood alone of a strut's lags. */
static void add_lags(const struct gathering *gathering, enum row row, const struct hold *hold,
                     struct lack *lack) {
    const struct kit *kit = gathering->kit;
    const bool feet =
        gathering->roof->brackets[gathering->stands->bracket].hardware[row] == HARDWARE_FEET;
    for (size_t i = 0; i < hold->count; i++) {
        const struct stand_lag *lag = &hold->lags[i];
        const double play = candidates_play(gathering->roof, kit, lag->ply);
        lack->base += fmax(0, -play);
        if (!feet)
            continue;
        const double side = lag->turned == SIDE_FAR ? kit->foot_reach : -kit->foot_reach;
        const double middle = gathering->roof->plies[lag->ply].at - kit->legs[i] - side;
        const double room = fmax(0, play) + kit->foot_slot;
        lack_window(lack, middle - room, middle + room, 1);
    }
}

/* What lies further beyond its own setbacks than any place of the other axis does; and the
 * opposite. */
struct share {
    struct interval within; /* of X */
    bool edge[AXES];
};

/* The least and the most that places of an interval lie beyond. */
static struct interval range_beyond(struct interval inside, struct interval at) {
    const double ends[2] = {lack_beyond(inside, at.lo), lack_beyond(inside, at.hi)};
    const double middle = (inside.lo + inside.hi) / 2;
    const double nearest = inside.lo <= inside.hi
                               ? fmax(at.lo, fmin(at.hi, fmax(inside.lo, fmin(inside.hi, at.lo))))
                               : fmax(at.lo, fmin(at.hi, middle));
    return (struct interval){fmin(lack_beyond(inside, nearest), fmin(ends[0], ends[1])),
                             fmax(ends[0], ends[1])};
}

/* Pieces of X in each of which one axis lacks the more of the setbacks, or nearly so. */
static size_t share_edges(const struct gathering *gathering, struct interval x, struct interval y,
                          struct share shares[5]) {
    const struct interval *inside = gathering->inside;
    const struct interval up = range_beyond(inside[Y], y), along = range_beyond(inside[X], x);
    if (up.hi <= along.lo || along.hi <= up.lo) {
        shares[0] = (struct share){x, {up.hi <= along.lo, up.hi > along.lo}};
        return 1;
    }
    const double cuts[6] = {x.lo,
                            inside[X].lo - up.hi,
                            inside[X].lo - up.lo,
                            inside[X].hi + up.lo,
                            inside[X].hi + up.hi,
                            x.hi};
    size_t count = 0;
    double from = x.lo;
    for (int i = 1; i < 6; i++) {
        const double to = fmin(x.hi, fmax(from, cuts[i]));
        if (to > from || (i == 5 && count == 0))
            shares[count++] = (struct share){{from, to}, {i != 3, i == 3}};
        from = to;
    }
    return count;
}

static double least_of(const struct lack *x, struct interval along, const struct lack *y,
                       struct interval up) {
    double one, other;
    lack_best(x, along, &one);
    lack_best(y, up, &other);
    return one + other;
}

/* What a row's line lacks beside its course; NULL where that is nothing. */
static const struct lack *keep_sides(struct gathering *gathering, const struct sides *sides) {
    struct lack lack = {.base = 0};
    if (sides->count == 0)
        return NULL;
    gathering_add_sides(&lack, sides);
    const struct lack *kept = keep_lack(gathering->made, &lack);
    gathering->failed = gathering->failed || !kept;
    return kept;
}

static void add_spot(struct gathering *gathering, const struct spot *spot,
                     const struct lack lacks[AXES], const struct lack held[AXES],
                     const struct share *share, const struct met_rows *rows,
                     const struct likeness *like) {
    struct misses *made = gathering->made;
    made->crowded |= made->count == gathering->room;
    if (made->crowded)
        return;
    if (made->count == gathering->spot_room) {
        const size_t room = 2 * gathering->spot_room + 64;
        struct spot *larger = realloc(made->spots, room * sizeof *larger);
        gathering->failed = gathering->failed || !larger;
        if (!larger)
            return;
        made->spots = larger;
        gathering->spot_room = room;
    }
    struct miss miss = {.edge = {share->edge[X], share->edge[Y]},
                        .course = {rows->course[ROW_TOP], rows->course[ROW_BOTTOM]}};
    for (int axis = X; axis < AXES; axis++) {
        miss.lack[axis] = keep_lack(made, &lacks[axis]);
        miss.held[axis] = share->edge[axis] ? keep_lack(made, &held[axis]) : miss.lack[axis];
        gathering->failed = gathering->failed || !miss.lack[axis] || !miss.held[axis];
    }
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        miss.lines[row] = keep_sides(gathering, &like->lines[row]);
    struct spot *added = &made->spots[made->count];
    *added = *spot;
    added->miss = gathering->failed ? NULL : keep_miss(made, &miss);
    gathering->failed = gathering->failed || !added->miss;
    made->count++;
}

/* A stand on one pair of courses. */
static void gather_rows(struct gathering *gathering, const struct spot *spot,
                        const struct lack lacks[AXES], const struct met_rows *rows,
                        const struct likeness *like) {
    struct share shares[5];
    const size_t count = share_edges(gathering, spot->x, spot->y, shares);
    for (size_t i = 0; i < count && !gathering->failed && !gathering->made->crowded; i++) {
        struct lack held[AXES] = {lacks[X], lacks[Y]};
        const int axis = shares[i].edge[X] ? X : Y;
        lack_window(&held[axis], gathering->inside[axis].lo, gathering->inside[axis].hi, 1);
        lack_settle(&held[axis]);
        struct spot piece = *spot;
        piece.x = shares[i].within;
        const double least = least_of(&held[X], piece.x, &held[Y], piece.y);
        gathering->made->least = fmin(gathering->made->least, least);
        if (least <= gathering->most)
            add_spot(gathering, &piece, lacks, held, &shares[i], rows, like);
    }
}

static struct interval settled(struct interval at) {
    const double middle = (at.lo + at.hi) / 2;
    return at.lo <= at.hi ? at : (struct interval){middle, middle};
}

void gathering_add(struct gathering *gathering, const struct gathered *gathered) {
    const struct stand *stand = &gathering->stands->list[gathered->stand];
    const struct met_list *rows = gathering_rows(gathering, &gathered->like);
    gathering->work += rows ? 1 + rows->count / 4 : 0;
    gathering->made->crowded |= gathering->work > GATHERING_WORK_MOST;
    struct lack lacks[AXES] = {gathered->along, {.base = 0}};
    lack_settle(&lacks[X]);
    for (size_t i = 0; rows && i < rows->count && !gathering->made->crowded; i++) {
        const struct spot spot = {.x = gathered->x,
                                  .y = settled(rows->list[i].y),
                                  .stand = gathered->stand,
                                  .holes = stand->holes};
        const double least = least_of(&lacks[X], spot.x, &rows->list[i].lack, spot.y);
        if (least > gathering->most && least >= gathering->made->least)
            continue;
        lacks[Y] = rows->list[i].lack;
        gather_rows(gathering, &spot, lacks, &rows->list[i], &rows->like);
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
    const double from = fmin(hold->lags[0].lo, gathered->x.lo + outer.lo) - kit->strut_end;
    const double to =
        fmax(hold->lags[hold->count - 1].lo, gathered->x.hi + outer.hi) + kit->strut_end;
    if (from >= face->x0 && to <= face->x1)
        add_window(sides, face->y0 + kit->strut_half, face->y1 - kit->strut_half, 1, may);
}

static void gather_stand(struct gathering *gathering, size_t index) {
    const struct stands *stands = gathering->stands;
    const struct stand *stand = &stands->list[index];
    const struct interval x = band_at(&stand->x, gathering->level);
    if (stand->cap < gathering->level - BAND_TOUCH || !interval_there(x))
        return;
    struct gathered gathered = {
        .stand = index, .x = settled(x), .like = gathering_likeness(stands, stand)};
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        add_lags(gathering, (enum row)row, &stands->holds[row][stand->holds[row]], &gathered.along);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        keep_to_face(gathering, (enum row)row, &gathered);
    gathering_vents(gathering, &gathered);
}

/* The face, and where the setbacks, at no level, leave the bracket. */
static void find_inside(struct gathering *gathering) {
    const struct roof *roof = gathering->roof;
    const double size[AXES] = {gathering->kit->width, gathering->kit->height};
    for (int axis = X; axis < AXES; axis++)
        gathering->inside[axis] = (struct interval){-INFINITY, INFINITY};
    gathering->face = stands_face(roof);
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        const int axis = fabs(edge->nx) > 0 ? X : Y;
        const double in = edge->offset + edge->setback;
        if (edge->nx + edge->ny > 0)
            gathering->inside[axis].lo = fmax(gathering->inside[axis].lo, in);
        else
            gathering->inside[axis].hi = fmin(gathering->inside[axis].hi, -in - size[axis]);
    }
}

/* At a level of 0 or more nothing is lacked anywhere. */
static enum outcome lack_nothing(const struct stands *stands, double level, size_t room,
                                 struct misses *made) {
    static const struct lack none = {.flat = {-INFINITY, INFINITY}};
    static const struct miss nothing = {.lack = {&none, &none}, .held = {&none, &none}};
    const enum outcome outcome = stands_at(stands, level, false, &made->spots, &made->count);
    if (outcome != OUTCOME_DONE)
        return outcome;
    made->crowded = made->count > room;
    made->least = made->count > 0 ? 0 : INFINITY;
    for (size_t i = 0; i < made->count; i++)
        made->spots[i].miss = &nothing;
    return OUTCOME_DONE;
}

enum outcome stands_misses(const struct stands *stands, double level, double most, size_t room,
                           struct misses **misses) {
    struct gathering gathering = {.stands = stands,
                                  .roof = stands->roof,
                                  .kit = roof_kit(stands->roof, stands->bracket),
                                  .level = level,
                                  .most = most,
                                  .room = room,
                                  .made = calloc(1, sizeof *gathering.made)};
    if (!gathering.made)
        return OUTCOME_FAULT;
    gathering.made->least = INFINITY;
    find_inside(&gathering);
    memcpy(gathering.made->inside, gathering.inside, sizeof gathering.inside);
    if (level >= 0)
        gathering.failed = lack_nothing(stands, level, room, gathering.made) != OUTCOME_DONE;
    for (size_t i = 0; i < stands->count && level < 0 && !gathering.failed; i++)
        if (!gathering.made->crowded)
            gather_stand(&gathering, i);
    gathering_rows_free(&gathering);
    if (gathering.failed) {
        misses_free(gathering.made);
        return OUTCOME_FAULT;
    }
    *misses = gathering.made;
    return OUTCOME_DONE;
}

void misses_free(struct misses *misses) {
    if (!misses)
        return;
    for (struct lack_block *block = misses->lacks; block;) {
        struct lack_block *before = block->before;
        free(block);
        block = before;
    }
    for (struct miss_block *block = misses->list; block;) {
        struct miss_block *before = block->before;
        free(block);
        block = before;
    }
    free(misses->spots);
    free(misses);
}

double misses_line(const struct stands *stands, const struct spot *spot, enum row row, double level,
                   double y) {
    const struct gathering gathering = {.stands = stands,
                                        .roof = stands->roof,
                                        .kit = roof_kit(stands->roof, stands->bracket),
                                        .level = level};
    const struct likeness like = gathering_likeness(stands, &stands->list[spot->stand]);
    struct met_line line = gathering_line(&gathering, &like, row, spot->miss->course[row]);
    if (spot->miss->lines[row])
        lack_add(&line.line, spot->miss->lines[row]);
    return lack_line(&line.line, line.line_in, &line.met, line.met_in, y);
}
