#include "round_sample.h"

#include "plain_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

static void build_rafters(struct sample *sample, double spacing) {
    struct roof *roof = &sample->roof;
    for (double at = 16; at < roof->width - 16; at += spacing) {
        const size_t i = roof->rafter_count++;
        sample->plies[i] = (struct ply){.rafter = i,
                                        .at = at,
                                        .half = 0.75,
                                        .tolerance = 0.125,
                                        .reach = {-ROOF_ENDLESS, ROOF_ENDLESS}};
        sample->rafters[i] = (struct rafter){.at = at,
                                             .from = at - 0.75,
                                             .to = at + 0.75,
                                             .sound = true,
                                             .tolerance = 0.125,
                                             .plies = 1,
                                             .first_ply = i,
                                             .ply_count = 1};
    }
    roof->ply_count = roof->rafter_count;
}

void sample_build(struct sample *sample, double spacing, size_t bracket_count) {
    memset(sample, 0, sizeof *sample);
    sample->kit = plain_kit();
    sample->roof = (struct roof){
        .width = 360,
        .slope = 196,
        .pitch_rad = atan2(5, 12),
        .edges = sample->edges,
        .edge_count = 4,
        .courses = sample->courses,
        .course_tolerance = 0.125,
        .rafters = sample->rafters,
        .plies = sample->plies,
        .vents = sample->vents,
        .kits = &sample->kit,
        .kit_count = 1,
        .brackets = sample->brackets,
        .bracket_count = bracket_count,
        .apart = 12,
        .tape = 0.0625,
        .enough = 0.125,
        .hole_worth = 12,
    };
    struct roof *roof = &sample->roof;
    sample->edges[0] = (struct edge){EDGE_EAVE, 0, 1, 0, 12};
    sample->edges[1] = (struct edge){EDGE_RIDGE, 0, -1, -roof->slope, 12};
    sample->edges[2] = (struct edge){EDGE_NEAR, 1, 0, 0, 12};
    sample->edges[3] = (struct edge){EDGE_FAR, -1, 0, -roof->width, 12};
    for (double edge = 6; edge < roof->slope; edge += 5.625)
        sample->courses[roof->course_count++] = edge;
    build_rafters(sample, spacing);
    for (size_t b = 0; b < bracket_count; b++)
        for (size_t row = 0; row < ROW_COUNT; row++)
            sample->brackets[b].hardware[row] = HARDWARE_FEET;
}

double sample_middle(const struct sample *sample, size_t course) {
    return sample->courses[course - 1] + 3.75;
}

void sample_mark(struct marks *marks, size_t bracket, enum row row, double x, double y) {
    marks->list[marks->count++] = (struct mark){.bracket = bracket, .row = row, .x = x, .y = y};
}

static uint64_t roll(struct dice *dice) {
    dice->state ^= dice->state << 13;
    dice->state ^= dice->state >> 7;
    dice->state ^= dice->state << 17;
    return dice->state;
}

double dice_between(struct dice *dice, double lo, double hi) {
    return lo + (hi - lo) * (double)(roll(dice) >> 11) / 9007199254740992.0; /* 2^53 */
}

size_t dice_below(struct dice *dice, size_t count) {
    return (size_t)(roll(dice) % count);
}

/* What every random roof has. */
static void vary_roof(struct sample *sample, struct dice *dice, size_t bracket_count) {
    static const double spacings[] = {16, 19.2, 24};
    static const double tapes[] = {1.0 / 8, 1.0 / 16, 1.0 / 32, 1 / LENGTH_MM_PER_INCH};
    static const double most[] = {0.125, 0.02, 0.4};
    sample_build(sample, spacings[dice_below(dice, 3)], bracket_count);
    struct roof *roof = &sample->roof;
    roof->tape = tapes[dice_below(dice, 4)];
    roof->enough = most[dice_below(dice, 3)];
    if (dice_below(dice, 2) == 0) { /* so that readings from the far rake fall between ticks */
        roof->width += dice_between(dice, 0, 1);
        sample->edges[3].offset = -roof->width;
    }
    for (size_t i = 0; i < roof->ply_count; i++)
        sample->plies[i].at += dice_between(dice, -0.2, 0.2);
}

static double random_y(const struct sample *sample, struct dice *dice, size_t course) {
    return sample_middle(sample, course) + dice_between(dice, -0.5, 0.5);
}

/* Stands a bracket so that its row at `y` meets it somewhere near its window. */
static void stand(struct sample *sample, struct marks *marks, size_t bracket, enum row row,
                  double x, double y, struct dice *dice) {
    const double *window = sample->kit.window[row];
    struct standing *at = &marks->brackets[bracket];
    at->x = x;
    at->y = y - dice_between(dice, window[0] - 0.05, window[0] + 4);
    sample->brackets[bracket].want_x = x + dice_between(dice, -3, 3);
    sample->brackets[bracket].want_y = at->y + dice_between(dice, -3, 3);
    memcpy(at->hardware, sample->brackets[bracket].hardware, sizeof at->hardware);
}

static double lag_in(const struct sample *sample, struct dice *dice, size_t ply) {
    return sample->plies[ply].at + dice_between(dice, -0.2, 0.2);
}

/* Two feet; legs are put where the feet reach them with a slip of up to 7/8 (slot: 3/4). */
static void add_feet(struct sample *sample, struct marks *marks, struct dice *dice) {
    const size_t first = 2 + dice_below(dice, 6), second = first + 1 + dice_below(dice, 2);
    const double y = random_y(sample, dice, 5 + dice_below(dice, 5));
    const double x[] = {lag_in(sample, dice, first), lag_in(sample, dice, second)};
    const double corner = x[0] - dice_between(dice, 8, 14);
    for (size_t i = 0; i < 2; i++) {
        const double side = dice_below(dice, 2) == 0 ? -1.5 : 1.5;
        sample->kit.legs[i] = x[i] - corner - side - dice_between(dice, -0.875, 0.875);
        sample_mark(marks, 0, ROW_BOTTOM, x[i], y);
    }
    stand(sample, marks, 0, ROW_BOTTOM, corner, y, dice);
}

/* A strut whose clamps, span and stock leave next to nothing. */
static void add_strut(struct sample *sample, struct marks *marks, struct dice *dice) {
    struct kit *kit = &sample->kit;
    const size_t first = 2 + dice_below(dice, 6);
    const double y = random_y(sample, dice, 20 + dice_below(dice, 5));
    const double x[] = {lag_in(sample, dice, first), lag_in(sample, dice, first + 1)};
    const double corner = x[0] - dice_between(dice, 8, 14);
    sample->brackets[0].hardware[ROW_TOP] = HARDWARE_STRUT;
    kit->lag_clear = dice_between(dice, 0.8, 2);
    kit->leg_count = 1 + dice_below(dice, 2);
    const double out = dice_between(dice, -0.05, 0.15) + kit->lag_clear - kit->grip;
    kit->legs[0] = x[0] - corner + (dice_below(dice, 2) == 0 ? out : -out);
    kit->legs[1] = x[1] - corner + dice_between(dice, -5, 5);
    kit->overhang = dice_below(dice, 2) == 0 ? 6 : kit->lag_clear + dice_between(dice, 0, 0.3);
    kit->span = x[1] - x[0] + (dice_below(dice, 2) == 0 ? 8 : dice_between(dice, -0.05, 0.2));
    kit->stock_count = 1;
    kit->stock[0] =
        x[1] - x[0] + 2 + (dice_below(dice, 2) == 0 ? 20 : dice_between(dice, -0.05, 4));
    for (size_t i = 0; i < 2; i++)
        sample_mark(marks, 0, ROW_TOP, x[i], y);
    stand(sample, marks, 0, ROW_TOP, corner, y, dice);
}

static void add_foot(struct sample *sample, struct marks *marks, size_t bracket, enum row row,
                     double x, double y, double slip) {
    const double leg = sample->kit.legs[0] + sample->kit.foot_reach;
    marks->brackets[bracket].x = x - leg - slip;
    sample_mark(marks, bracket, row, x, y);
}

/* One leg, one rafter: both feet turned far, slips of up to 7/8. */
static void add_one_leg(struct sample *sample, struct marks *marks, struct dice *dice) {
    sample->kit.leg_count = 1;
    const size_t ply = 3 + dice_below(dice, 4), course = 5 + dice_below(dice, 3);
    const double top = random_y(sample, dice, course + 12), low = random_y(sample, dice, course);
    const double x = lag_in(sample, dice, ply);
    add_foot(sample, marks, 0, ROW_TOP, x, top, dice_between(dice, -0.875, 0.875));
    add_foot(sample, marks, 0, ROW_BOTTOM, lag_in(sample, dice, ply), low,
             dice_between(dice, -0.875, 0.875));
    stand(sample, marks, 0, ROW_BOTTOM, marks->brackets[0].x, low, dice);
    /* The top row's window is put where it meets the bracket. */
    const double up = top - marks->brackets[0].y;
    sample->kit.window[ROW_TOP][0] = up - dice_between(dice, 0.05, 2);
    sample->kit.window[ROW_TOP][1] = up + dice_between(dice, 0.05, 2);
}

/* Two brackets side by side, as far apart as `apart` asks for or a little less or more. */
static void add_neighbours(struct sample *sample, struct marks *marks, struct dice *dice) {
    const double y = random_y(sample, dice, 5);
    sample->kit.leg_count = 1;
    add_foot(sample, marks, 0, ROW_BOTTOM, lag_in(sample, dice, 3), y,
             dice_between(dice, -0.8, 0.8));
    stand(sample, marks, 0, ROW_BOTTOM, marks->brackets[0].x, y, dice);
    const double gap = sample->roof.apart + dice_between(dice, -0.1, 0.6);
    stand(sample, marks, 1, ROW_BOTTOM, marks->brackets[0].x + sample->kit.width + gap,
          marks->brackets[0].y + dice_between(dice, 4, 6), dice);
}

/* A vent just above the first mark's flashing, or just beside the bracket. */
static void add_vent(struct sample *sample, const struct marks *marks, struct dice *dice) {
    const struct mark *mark = &marks->list[0];
    const struct standing *at = &marks->brackets[0];
    struct vent vent = {.kind = VENT_PLUMBING, .tall = 12, .keep_flashing = 3, .keep_bracket = 6};
    const double spare = dice_between(dice, -0.05, 0.3);
    if (dice_below(dice, 2) == 0) {
        const double x1 = at->x - vent.keep_bracket - spare;
        vent.flange = (struct box){x1 - 4, mark->y, x1, mark->y + 4};
    } else {
        vent.kind = VENT_BLANK; /* low enough to lie under the bracket */
        vent.tall = 1;
        const double y0 = mark->y + 8.75 + vent.keep_flashing + spare;
        vent.flange = (struct box){mark->x - 2, y0, mark->x + 2, y0 + 4};
    }
    sample->vents[0] = vent;
    sample->roof.vent_count = 1;
}

struct marks *sample_random(struct sample *sample, enum sample_kind kind, struct dice *dice) {
    const size_t brackets = kind == SAMPLE_NEIGHBOURS ? 2 : 1;
    const size_t lags = kind == SAMPLE_NEIGHBOURS ? 1 : 2;
    struct marks *marks = NULL;
    vary_roof(sample, dice, brackets);
    assert_int_equal(marks_new(brackets, lags, &marks), OUTCOME_DONE);
    marks->count = 0;
    if (kind == SAMPLE_FEET)
        add_feet(sample, marks, dice);
    else if (kind == SAMPLE_STRUT)
        add_strut(sample, marks, dice);
    else if (kind == SAMPLE_ONE_LEG)
        add_one_leg(sample, marks, dice);
    else
        add_neighbours(sample, marks, dice);
    assert_int_equal(marks->count, lags);
    if (dice_below(dice, 3) == 0)
        add_vent(sample, marks, dice);
    return marks;
}
