/* What a bracket lacks at levels below zero, stand by stand.  Along the eave that is a function of
 * X, up the slope one of Y for every pair of courses. */
#include "gathering.h"

#include "candidates.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { X = GATHERING_X, Y = GATHERING_Y, AXES = GATHERING_AXES };

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
    const double nearest =
        inside.lo <= inside.hi
            ? length_greater(
                  at.lo,
                  length_lesser(at.hi, length_greater(inside.lo, length_lesser(inside.hi, at.lo))))
            : length_greater(at.lo, length_lesser(at.hi, middle));
    return (struct interval){
        length_lesser(lack_beyond(inside, nearest), length_lesser(ends[0], ends[1])),
        length_greater(ends[0], ends[1])};
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
        const double to = length_lesser(x.hi, length_greater(from, cuts[i]));
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
    gathering_add_sides(&lack, sides, 0);
    const struct lack *kept = misses_keep_lack(gathering->made, &lack);
    gathering->failed = gathering->failed || !kept;
    return kept;
}

/* From so many spots on, those of no use are dropped before there is room for more. */
enum { DROP_AT = 4096 };

/* For one more spot; false where there is none, or no memory. */
static bool make_room(struct gathering *gathering) {
    struct misses *made = gathering->made;
    if (made->count < gathering->spot_room)
        return true;
    if (made->count >= DROP_AT)
        gathering_drop(gathering);
    made->crowded |= made->count >= gathering->room;
    if (2 * made->count >= gathering->spot_room && !made->crowded) {
        const size_t room = 2 * gathering->spot_room + 64;
        struct spot *larger = realloc(made->spots, room * sizeof *larger);
        gathering->failed = gathering->failed || !larger;
        if (!larger)
            return false;
        made->spots = larger;
        gathering->spot_room = room;
    }
    return !made->crowded;
}

/* One spot with that miss, or where arms matter one between each two of its bends. */
static void add_pieces(struct gathering *gathering, const struct spot *spot, struct miss *miss) {
    struct bends bends = {.count = 0};
    struct spot piece = *spot;
    piece.miss = miss;
    if (gathering->stands->arms)
        misses_bends(gathering->stands, &piece, gathering->level, &bends);
    for (size_t i = 0; i <= bends.count && make_room(gathering) && !gathering->failed; i++) {
        struct spot *added = &gathering->made->spots[gathering->made->count];
        piece.y.hi = i < bends.count ? bends.at[i] : spot->y.hi;
        if (gathering->stands->arms)
            stands_draw_in(gathering->stands, &piece, gathering->level, miss);
        *added = piece;
        added->miss = misses_keep(gathering->made, miss);
        gathering->failed = !added->miss;
        gathering->made->count++;
        piece.y.lo = piece.y.hi;
    }
}

static void add_spot(struct gathering *gathering, const struct spot *spot,
                     const struct lack lacks[AXES], const struct lack held[AXES],
                     const struct share *share, const struct met_rows *rows,
                     const struct likeness *like) {
    struct misses *made = gathering->made;
    struct miss miss = {.edge = {share->edge[X], share->edge[Y]},
                        .course = {rows->course[ROW_TOP], rows->course[ROW_BOTTOM]}};
    for (int axis = X; axis < AXES; axis++) {
        miss.lack[axis] = misses_keep_lack(made, &lacks[axis]);
        miss.held[axis] = share->edge[axis] ? misses_keep_lack(made, &held[axis]) : miss.lack[axis];
        gathering->failed = gathering->failed || !miss.lack[axis] || !miss.held[axis];
    }
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        miss.lines[row] = keep_sides(gathering, &like->lines[row]);
    if (!gathering->failed)
        add_pieces(gathering, spot, &miss);
}

/* The same as keep_allowed for one of a stand's spots. */
static bool keep_allowed_piece(const struct gathering *gathering, struct spot *piece,
                               const struct lack held[AXES]) {
    const struct pieces *allowed = gathering->ask->allowed;
    double up, most;
    lack_best(&held[Y], piece->y, &up);
    return !allowed || pieces_allow(allowed, &held[X], up, &piece->x, &most);
}

/* A stand on one pair of courses.  (The functions are copied and not put between braces: told to
 * set what nobody sets to zero, as the build with sanitizers is, gcc 12 clears the end of a
 * structure in an array that is initialised with one.) */
static void gather_rows(struct gathering *gathering, const struct spot *spot,
                        const struct lack lacks[AXES], const struct met_rows *rows,
                        const struct likeness *like) {
    struct share shares[5];
    const size_t count = share_edges(gathering, spot->x, spot->y, shares);
    for (size_t i = 0; i < count && !gathering->failed && !gathering->made->crowded; i++) {
        struct lack held[AXES], own[AXES];
        memcpy(held, lacks, sizeof held);
        memcpy(own, lacks, sizeof own);
        const int axis = shares[i].edge[X] ? X : Y;
        lack_window(&held[axis], gathering->inside[axis].lo, gathering->inside[axis].hi, 1);
        lack_settle(&held[axis]);
        struct spot piece = *spot;
        piece.x = shares[i].within;
        const double least = least_of(&held[X], piece.x, &held[Y], piece.y);
        gathering->made->least = length_lesser(gathering->made->least, least);
        if (least > gathering->most || !keep_allowed_piece(gathering, &piece, held))
            continue;
        gathering_draw_in(gathering, &piece, own, held);
        add_spot(gathering, &piece, own, held, &shares[i], rows, like);
    }
}

/* Where only the least is asked for, what lacks no less than what was found is of no use. */
bool gathering_hopeless(const struct gathering *gathering, double least) {
    return least > gathering->most &&
           (gathering->most > -INFINITY || least >= gathering->made->least);
}

/* The least that sides from `first` on lack together within an interval. */
static double least_of_sides(const struct sides *sides, size_t first, struct interval within) {
    struct lack lack = {.base = 0};
    double least;
    if (sides->count == first)
        return 0;
    gathering_add_sides(&lack, sides, first);
    lack_settle(&lack);
    lack_best(&lack, interval_settled(within), &least);
    return least;
}

double gathering_bound(const struct gathering *gathering, const struct gathered *gathered) {
    const struct likeness *like = &gathered->like;
    const double level = gathering->level;
    struct lack along = gathered->along;
    double least;
    lack_settle(&along);
    lack_best(&along, gathered->x, &least);
    least +=
        gathered->up +
        least_of_sides(&like->vents, 0, (struct interval){like->y[0] + level, like->y[1] - level});
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        least +=
            least_of_sides(&like->lines[row], gathered->begun[row],
                           (struct interval){like->row[row][0] + level, like->row[row][1] - level});
    return least;
}

bool gathering_over(struct gathering *gathering) {
    const struct misses_ask *ask = gathering->ask;
    const bool over =
        ++gathering->looks % GATHERING_LOOK == 0 && ask->stop && ask->stop(ask->subject);
    gathering->made->crowded = gathering->made->crowded || over;
    return gathering->made->crowded;
}

void gathering_add(struct gathering *gathering, const struct gathered *gathered) {
    const struct stand *stand = &gathering->stands->list[gathered->stand];
    const struct met_list *rows = gathering_rows(gathering, &gathered->like);
    gathering->work += rows ? 1 + rows->count / 4 : 0;
    gathering->made->crowded |= gathering->work > gathering->work_most || gathering_over(gathering);
    struct lack lacks[AXES];
    lacks[X] = gathered->along;
    lacks[Y] = (struct lack){.base = 0};
    lack_settle(&lacks[X]);
    double least;
    lack_best(&lacks[X], gathered->x, &least);
    if (!rows || gathering_hopeless(gathering, least + rows->least))
        return;
    for (size_t i = 0; i < rows->count && !gathering->made->crowded; i++) {
        const struct spot spot = {.x = gathered->x,
                                  .y = interval_settled(rows->list[i].y),
                                  .stand = gathered->stand,
                                  .holes = stand->holes};
        if (gathering_hopeless(gathering, least_of(&lacks[X], spot.x, &rows->list[i].lack, spot.y)))
            continue;
        lacks[Y] = rows->list[i].lack;
        gather_rows(gathering, &spot, lacks, &rows->list[i], &rows->like);
    }
}

/* Draws a stand's X in to where it may lack no more than is allowed, which is then the most; false
 * where that is nowhere. */
static bool keep_allowed(struct gathering *gathering, struct gathered *gathered) {
    const struct pieces *allowed = gathering->ask->allowed;
    return !allowed ||
           pieces_allow(allowed, &gathered->along, gathered->up, &gathered->x, &gathering->most);
}

static void gather_all(struct gathering *gathering) {
    struct gathered gathered;
    for (size_t i = 0; i < gathering->stands->count; i++)
        if (!gathering->failed && !gathering->made->crowded &&
            gathering_begin(gathering, i, &gathered) && keep_allowed(gathering, &gathered) &&
            !gathering_hopeless(gathering, gathering_bound(gathering, &gathered)))
            gathering_vents(gathering, &gathered);
}

/* A stand and the least that it may lack. */
struct prospect {
    double least;
    size_t stand;
};

static int by_least(const void *a, const void *b) {
    const struct prospect *x = a, *y = b;
    if (x->least < y->least || x->least > y->least)
        return x->least < y->least ? -1 : 1;
    return (x->stand > y->stand) - (x->stand < y->stand);
}

/* Only the least that any lacks: those that may lack little first, no further than what was found.
 */
static void gather_least(struct gathering *gathering) {
    struct prospect *order = calloc(gathering->stands->count + 1, sizeof *order);
    struct gathered gathered;
    size_t count = 0;
    gathering->failed = !order;
    for (size_t i = 0; i < gathering->stands->count && !gathering->failed; i++)
        if (!gathering_over(gathering) && gathering_begin(gathering, i, &gathered))
            order[count++] = (struct prospect){gathering_bound(gathering, &gathered), i};
    if (count > 0)
        qsort(order, count, sizeof *order, by_least);
    for (size_t i = 0; i < count && !gathering_hopeless(gathering, order[i].least); i++)
        if (!gathering->failed && !gathering->made->crowded &&
            gathering_begin(gathering, order[i].stand, &gathered))
            gathering_vents(gathering, &gathered);
    free(order);
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
        if (edge_leans(edge))
            continue;
        const int axis = fabs(edge->nx) > 0 ? X : Y;
        const double in = edge->offset + edge->setback;
        if (edge->nx + edge->ny > 0)
            gathering->inside[axis].lo = length_greater(gathering->inside[axis].lo, in);
        else
            gathering->inside[axis].hi =
                length_lesser(gathering->inside[axis].hi, -in - size[axis]);
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

struct gathering gathering_open(struct stands *stands, const struct misses_ask *ask) {
    struct gathering gathering = {.stands = stands,
                                  .ask = ask,
                                  .roof = stands->roof,
                                  .kit = roof_kit(stands->roof, stands->bracket),
                                  .level = ask->level,
                                  .most = ask->most,
                                  .up = {-INFINITY, INFINITY},
                                  .room = ask->room,
                                  .work_most =
                                      stands->roof->bracket_count == 1
                                          ? GATHERING_WORK_ALONE * stands_patience(stands->roof)
                                          : GATHERING_WORK_MOST,
                                  .made = calloc(1, sizeof *gathering.made)};
    if (gathering.made) {
        gathering.made->holders = 1;
        gathering.made->least = INFINITY;
        gathering.made->stands = stands_share(stands);
        find_inside(&gathering);
        memcpy(gathering.made->inside, gathering.inside, sizeof gathering.inside);
    }
    return gathering;
}

enum outcome stands_misses(struct stands *stands, const struct misses_ask *ask,
                           struct misses **misses) {
    struct gathering gathering = gathering_open(stands, ask);
    if (!gathering.made)
        return OUTCOME_FAULT;
    if (ask->level >= 0)
        gathering.failed =
            lack_nothing(stands, ask->level, ask->room, gathering.made) != OUTCOME_DONE;
    else if (ask->most > -INFINITY || ask->allowed)
        gather_all(&gathering);
    else
        gather_least(&gathering);
    if (gathering.made->crowded)
        misses_forget(gathering.made);
    else if (ask->level < 0 && !gathering.failed)
        gathering_drop(&gathering);
    gathering_rows_free(&gathering);
    if (gathering.failed) {
        misses_free(gathering.made);
        return OUTCOME_FAULT;
    }
    *misses = gathering.made;
    return OUTCOME_DONE;
}

struct misses *misses_share(struct misses *misses) {
    misses->holders++;
    return misses;
}

void misses_free(struct misses *misses) {
    if (!misses || --misses->holders > 0)
        return;
    misses_forget(misses);
    stands_free(misses->stands);
    free(misses);
}
