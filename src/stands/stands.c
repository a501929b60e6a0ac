#include "stands.h"

#include "listing.h"

#include <math.h>
#include <stdlib.h>

/* Legs of a row of feet: each flashing beside the one before costs two slopes of a band. */
#define FEET_MOST ((STAND_SLOPES - 2) / 2)

static bool upright(const struct roof *roof) {
    for (size_t i = 0; i < roof->edge_count; i++)
        if (edge_leans(&roof->edges[i]))
            return false;
    for (size_t i = 0; i < roof->ply_count; i++)
        if (fabs(roof->plies[i].lean) > 0)
            return false;
    return true;
}

/* The rows of a bracket never come so near each other that their hardware could overlap: both
 * windows move inwards by the level while the gap asked for grows by twice as much. */
static bool rows_apart(const struct kit *kit) {
    const double rise = kit->window[ROW_TOP][0] - kit->window[ROW_BOTTOM][1];
    return rise >= kit->flashing.height && rise >= 2 * kit->strut_half;
}

static bool kit_fits(const struct roof *roof, size_t bracket) {
    const struct kit *kit = roof_kit(roof, bracket);
    const enum hardware *rows = roof->brackets[bracket].hardware;
    const bool feet = rows[ROW_TOP] == HARDWARE_FEET || rows[ROW_BOTTOM] == HARDWARE_FEET;
    return rows_apart(kit) && (!feet || kit->leg_count <= FEET_MOST);
}

bool stands_guide(const struct roof *roof) {
    bool good = roof->given_count == 0;
    for (size_t b = 0; b < roof->bracket_count && good; b++)
        good = kit_fits(roof, b);
    return good;
}

bool stands_apply(const struct roof *roof) {
    return upright(roof) && roof->pipe_count == 0 && stands_guide(roof);
}

struct on_line listing_ply(const struct listing *listing, size_t ply) {
    const struct ply *own = &listing->roof->plies[ply];
    const double *y = listing->row_y, lean = fabs(own->lean);
    if (!(lean > 0)) /* the line's limits may be endless */
        return (struct on_line){own->at, 0};
    const double sway = lean * ((y[1] - y[0]) / 2 - length_lesser(listing->lowest, 0));
    return (struct on_line){roof_ply_x(own, (y[0] + y[1]) / 2),
                            listing->ask->lenient ? -sway : sway};
}

/* Between which heights something is, how mildly that is taken, and at which levels. */
struct between {
    struct interval up;
    bool lenient;
    double least, most;
};

/* x of an edge that does not run along the eave, where it is furthest in between those heights, and
 * a level that is kept along the eave is kept square to it as well; or where it is furthest out. */
static double edge_between(const struct edge *edge, double setback, const struct between *between) {
    const double low = (edge->offset + setback - edge->ny * between->up.lo) / edge->nx;
    const double high = (edge->offset + setback - edge->ny * between->up.hi) / edge->nx;
    const double level =
        between->lenient ? length_lesser(between->least, 0) : length_greater(between->most, 0);
    const double more = edge_leans(edge) ? level * (1 / fabs(edge->nx) - 1) : 0;
    if (edge->nx > 0)
        return (between->lenient ? length_lesser(low, high) : length_greater(low, high)) + more;
    return (between->lenient ? length_greater(low, high) : length_lesser(low, high)) - more;
}

/* What is on the face all the way between those heights, or anywhere. */
static struct box face_between(const struct roof *roof, const struct between *between) {
    struct box face = {-INFINITY, -INFINITY, INFINITY, INFINITY};
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        if (edge->nx > 0)
            face.x0 = length_greater(face.x0, edge_between(edge, 0, between));
        else if (edge->nx < 0)
            face.x1 = length_lesser(face.x1, edge_between(edge, 0, between));
        else if (edge->ny > 0)
            face.y0 = length_greater(face.y0, edge->offset);
        else
            face.y1 = length_lesser(face.y1, -edge->offset);
    }
    return face;
}

struct box stands_face(const struct roof *roof) {
    const struct between halfway = {.up = {roof->slope / 2, roof->slope / 2}};
    return face_between(roof, &halfway);
}

/* Inside every edge by its setback and the level. */
static void bound_corner(struct listing *listing) {
    const struct roof *roof = listing->roof;
    const struct kit *kit = listing->kit;
    band_open(&listing->x);
    listing->y[0] = -INFINITY;
    listing->y[1] = INFINITY;
    if (listing->ask->near > 0) {
        const double want = roof->brackets[listing->bracket].want_x;
        band_least(&listing->x, 0, want - listing->ask->near);
        band_most(&listing->x, 0, want + listing->ask->near);
    }
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        const double in = edge->offset + edge->setback;
        if (edge_leans(edge))
            continue;
        if (edge->nx > 0)
            band_least(&listing->x, 1, in);
        else if (edge->nx < 0)
            band_most(&listing->x, 1, -in - kit->width);
        else if (edge->ny > 0)
            listing->y[0] = length_greater(listing->y[0], in);
        else
            listing->y[1] = length_lesser(listing->y[1], -in - kit->height);
    }
}

/* Where the row's line can run at the least level, whatever course it is on. */
static void bound_row(struct listing *listing) {
    const double *window = listing->kit->window[listing->row];
    const double slack = length_greater(0, -listing->least);
    listing->row_y[0] = listing->y[0] + window[0] - slack;
    listing->row_y[1] = listing->y[1] + window[1] + slack;
}

static bool goes_on(const struct listing *listing) {
    return !listing->failed && !listing->stands->crowded;
}

bool listing_over(struct listing *listing) {
    const struct stands_ask *ask = listing->ask;
    if (++listing->work > listing->work_most ||
        (ask->stop && listing->work % STANDS_LOOK == 0 && ask->stop(ask->subject)))
        listing->stands->crowded = true;
    return !goes_on(listing);
}

/* Only those of a row's holds that are chosen. */
static void cut_row(struct listing *listing, chooser *choose) {
    struct stands *stands = listing->stands;
    struct hold *holds = stands->holds[listing->row];
    size_t *count = &stands->hold_counts[listing->row], left = 0;
    bool *needed = choose(listing, holds, *count);
    listing->failed = listing->failed || !needed;
    for (size_t i = 0; i < *count && needed; i++) {
        if (needed[i])
            holds[left++] = holds[i];
        else
            free(holds[i].lags);
    }
    if (needed)
        *count = left;
    free(needed);
}

static void list_stretch(struct listing *listing) {
    if (listing_has_strut(listing))
        list_runs(listing);
    else
        list_seats(listing);
}

/* Edges that lean, for a bracket that stands anywhere in there. */
static void bound_leaning(struct listing *listing, const struct between *between) {
    const struct roof *roof = listing->roof;
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        const double x = edge_leans(edge) ? edge_between(edge, edge->setback, between) : 0;
        if (edge_leans(edge) && edge->nx > 0)
            band_least(&listing->x, 1, x);
        else if (edge_leans(edge))
            band_most(&listing->x, 1, x - listing->kit->width);
    }
}

/* The row that tells more closely where its bracket is. */
static enum row closer_row(const struct kit *kit) {
    const double *top = kit->window[ROW_TOP], *bottom = kit->window[ROW_BOTTOM];
    return top[1] - top[0] > bottom[1] - bottom[0] ? ROW_BOTTOM : ROW_TOP;
}

/* How far a row's hardware reaches above its line and below it. */
static double reach(const struct kit *kit, double flashing) {
    return length_greater(flashing, kit->strut_half);
}

/* The row's line within its limits, on which whatever leans is taken to stand upright. */
static void list_leaning(struct listing *listing) {
    const struct kit *kit = listing->kit;
    const struct flashing *flashing = &kit->flashing;
    const struct band x = listing->x;
    const double *window = kit->window[listing->row], *y = listing->row_y;
    const double slack = -length_lesser(listing->lowest, 0);
    struct between between = {
        .up = {y[0] - slack - reach(kit, flashing->hole_up),
               y[1] + slack + reach(kit, flashing->height - flashing->hole_up)},
        .lenient = listing->ask->lenient,
        .least = listing->lowest,
        .most = listing->roof->enough};
    listing->face = face_between(listing->roof, &between);
    between.up =
        (struct interval){y[0] - slack - window[1], y[1] + slack - window[0] + kit->height};
    if (listing->row == closer_row(kit))
        bound_leaning(listing, &between);
    list_stretch(listing);
    listing->x = x;
}

/* So many stretches of a row's line are told apart; more courses share them. */
enum { STRETCHES_MOST = 12 };

static struct interval line_on(const struct listing *listing, size_t course) {
    return candidates_course(listing->roof, &listing->kit->flashing, course);
}

static void list_by_courses(struct listing *listing) {
    const size_t courses = listing->roof->course_count > 2 ? listing->roof->course_count - 2 : 0;
    const double whole[2] = {listing->row_y[0], listing->row_y[1]}, lowest = listing->lowest;
    size_t first = 1, last = courses;
    while (first <= last && line_on(listing, first).hi < listing->row_y[0] + 2 * lowest)
        first++;
    while (last >= first && line_on(listing, last).lo > listing->row_y[1] - 2 * lowest)
        last--;
    const bool joints = roof_has_joints(listing->roof);
    const size_t share = joints ? 1 : (last - first + STRETCHES_MOST) / STRETCHES_MOST;
    for (size_t k = first; k <= last && goes_on(listing); k += share) {
        const size_t end = k + share - 1 < last ? k + share - 1 : last;
        listing->row_y[0] = length_greater(whole[0], line_on(listing, k).lo);
        listing->row_y[1] = length_lesser(whole[1], line_on(listing, end).hi);
        listing->course = joints ? k : 0;
        list_leaning(listing);
    }
    listing->face = stands_face(listing->roof);
    listing->course = 0;
}

static void list_row(struct listing *listing, chooser *choose) {
    if (upright(listing->roof) && !roof_has_joints(listing->roof))
        list_stretch(listing);
    else
        list_by_courses(listing);
    rack_put(listing);
    if (choose && goes_on(listing))
        cut_row(listing, choose);
}

/* Those that are chosen; NULL: all. */
static void list_holds(struct listing *listing, chooser *choose) {
    listing->face = stands_face(listing->roof);
    bound_corner(listing);
    for (int row = ROW_TOP; row < ROW_COUNT && !listing->failed; row++) {
        listing->row = (enum row)row;
        listing->hold_room = 0;
        bound_row(listing);
        if (!rack_take(listing, choose))
            list_row(listing, choose);
    }
}

/* False without memory; stands_free either way. */
static bool begin(const struct stands_ask *ask, double least, double lowest,
                  struct listing *listing) {
    const struct limits *limits = ask->limits;
    struct stands *made = calloc(1, sizeof *made);
    if (!made)
        return false;
    *made = (struct stands){.roof = ask->roof,
                            .bracket = ask->bracket,
                            .least = lowest,
                            .holders = 1,
                            .arms = ask->arms};
    *listing = (struct listing){.ask = ask,
                                .roof = ask->roof,
                                .kit = roof_kit(ask->roof, ask->bracket),
                                .bracket = ask->bracket,
                                .least = least,
                                .lowest = lowest,
                                .limits = limits,
                                .work_most = LISTING_WORK_MOST,
                                .stands_most = ask->most > 0 ? ask->most : STANDS_MOST,
                                .stands = made};
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        listing->least_lags[row] =
            limits && limits->least_lags ? limits->least_lags[ask->bracket][row] : 2;
    return true;
}

/* Lists are kept for long: the room that they have left is given back. */
static void fit(struct stands *stands) {
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        struct hold *holds =
            realloc(stands->holds[row], (stands->hold_counts[row] + 1) * sizeof *holds);
        stands->holds[row] = holds ? holds : stands->holds[row];
    }
    struct stand *list = realloc(stands->list, (stands->count + 1) * sizeof *list);
    stands->list = list ? list : stands->list;
}

static enum outcome hand_over(struct listing *listing, struct stands **stands) {
    if (listing->failed) {
        stands_free(listing->stands);
        return OUTCOME_FAULT;
    }
    fit(listing->stands);
    *stands = listing->stands;
    return OUTCOME_DONE;
}

/* All ways at a level, or those of chosen holds. */
static enum outcome list_ways(const struct stands_ask *ask, double level, chooser *choose,
                              struct stands **stands) {
    struct listing listing;
    if (!begin(ask, level, level, &listing))
        return OUTCOME_FAULT;
    /* A set of plies that is ruled out tells holds apart that reach alike. */
    list_holds(&listing, ask->limits && ask->limits->count > 0 ? NULL : choose);
    if (goes_on(&listing))
        list_pairs(&listing);
    return hand_over(&listing, stands);
}

enum outcome stands_find(const struct stands_ask *ask, double least, struct stands **stands) {
    return list_ways(ask, least, NULL, stands);
}

enum outcome stands_cut(const struct stands_ask *ask, double level, struct stands **stands) {
    return list_ways(ask, level, cover_row, stands);
}

enum outcome stands_lacking(const struct stands_ask *ask, double level, struct stands **stands) {
    return list_ways(ask, level, lacking_row, stands);
}

/* Figures of the best level that miss it by no more than this are still listed: more than whoever
 * looks for places at that level allows for rounding. */
#define BEST_SLACK 1e-5

/* Where every rule holds the cheapest is all that matters, so that bettered holds make no pairs;
 * but the places that are ruled out for some lags are not those of others. */
static void list_best(struct listing *listing, double level) {
    const bool all = level < 0 || (listing->limits && listing->limits->count > 0);
    for (int row = ROW_TOP; row < ROW_COUNT && !all; row++) {
        listing->left_out[row] = bettered_holds(listing->stands, (enum row)row, level);
        listing->failed = listing->failed || !listing->left_out[row];
    }
    if (!listing->failed)
        list_pairs(listing);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        free(listing->left_out[row]);
}

enum outcome stands_find_best(const struct stands_ask *ask, double least, double lowest,
                              struct stands **stands, double *best) {
    struct listing listing;
    double level = -INFINITY;
    const double floor_level = length_greater(least, lowest - BEST_SLACK);
    if (!begin(ask, least, floor_level, &listing))
        return OUTCOME_FAULT;
    if (ask->roof->bracket_count == 1)
        listing.work_most = LISTING_WORK_ALONE * stands_patience(ask->roof);
    list_holds(&listing, NULL);
    if (goes_on(&listing))
        level = seek_best(&listing);
    if (level < lowest - BAND_TOUCH || !goes_on(&listing))
        level = -INFINITY;
    if (level > -INFINITY && goes_on(&listing)) {
        listing.lowest = listing.stands->least = length_greater(floor_level, level - BEST_SLACK);
        list_best(&listing, level);
    }
    const enum outcome outcome = hand_over(&listing, stands);
    if (outcome == OUTCOME_DONE)
        *best = level;
    return outcome;
}

size_t stands_patience(const struct roof *roof) {
    const size_t count = roof->ply_count;
    return count <= PLIES_SOON ? 1 : count * count * count * count / PLIES_SOON_4;
}

struct stands *stands_share(struct stands *stands) {
    stands->holders++;
    return stands;
}

void stands_free(struct stands *stands) {
    if (!stands || --stands->holders > 0)
        return;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        holds_free(stands->holds[row], stands->hold_counts[row]);
    }
    free(stands->list);
    free(stands);
}
