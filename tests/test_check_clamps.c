/* Which side of its leg each clamp of a strut is on: the check's choice against every combination,
 * tried one by one. */
#include "held.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* One combination of sides, worth this much. */
struct worth {
    bool holds;
    double counted, hard;
};

static double gap(struct box a, struct box b) {
    return fmax(fmax(b.x0 - a.x1, a.x0 - b.x1), fmax(b.y0 - a.y1, a.y0 - b.y1));
}

static struct box strut_box(const struct verdict *verdict, const struct kit *kit, size_t bracket,
                            int row, double y) {
    const struct row_seat *seat = &verdict->rows[bracket][row];
    return (struct box){seat->from, y - kit->strut_half, seat->to, y + kit->strut_half};
}

/* The counted rules of a strut from ... to: the face is a rectangle, all brackets of one kit. */
static double counted(const struct trial *trial, const struct verdict *verdict, size_t bracket,
                      int row, const double ends[2]) {
    const struct roof *roof = trial->roof;
    const struct kit *kit = &roof->kits[0];
    double y = verdict->rows[bracket][row].y, half = kit->strut_half;
    struct box own = {ends[0], y - half, ends[1], y + half};
    double least = fmin(fmin(own.x0, roof->width - own.x1), fmin(own.y0, roof->slope - own.y1));
    for (size_t i = 0; i < roof->vent_count; i++) {
        least = fmin(least, gap(own, roof->vents[i].flange) - roof->vents[i].keep_flashing);
    }
    for (size_t i = 0; i < roof->bracket_count; i++) {
        const struct standing *at = &trial->marks->brackets[i];
        for (int other = 0; other < ROW_COUNT; other++) {
            if ((i != bracket || other != row) && verdict->rows[i][other].count > 0 &&
                at->hardware[other] == HARDWARE_STRUT) {
                double other_y = verdict->rows[i][other].y;
                least = fmin(least, gap(own, strut_box(verdict, kit, i, other, other_y)) / 2);
            }
        }
        if (i != bracket) {
            struct box box = {at->x, at->y, at->x + kit->width, at->y + kit->height};
            least = fmin(least, gap(own, box));
        }
    }
    for (size_t i = 0; i < trial->marks->count; i++) {
        const struct mark *mark = &trial->marks->list[i];
        if (mark->row == ROW_PIPE) {
            const struct pipe *pipe = &roof->pipes[mark->pipe];
            double r = pipe->bore / 2;
            struct box bore = {mark->x - r, mark->y - r, mark->x + r, mark->y + r};
            least = fmin(least, gap(own, bore) - pipe->keep_rafter);
        }
    }
    return least;
}

/* One combination: clamps given, the other struts where the verdict has them. */
static struct worth weigh(const struct trial *trial, const struct verdict *verdict, size_t bracket,
                          int row, const double *clamps) {
    const struct kit *kit = &trial->roof->kits[0];
    const struct row_seat *seat = &verdict->rows[bracket][row];
    const struct mark *lags = &trial->marks->list[seat->first_mark];
    double first = lags[0].x, last = lags[seat->count - 1].x;
    double ends[2] = {first, last}, hard = INFINITY;
    for (size_t i = 0; i < kit->leg_count; i++) {
        double beyond = fmax(0, fmax(first - clamps[i], clamps[i] - last));
        for (size_t j = 0; j < seat->count; j++) {
            hard = fmin(hard, fabs(clamps[i] - lags[j].x) - kit->lag_clear);
        }
        hard = fmin(hard, kit->overhang - beyond);
        ends[0] = fmin(ends[0], clamps[i]);
        ends[1] = fmax(ends[1], clamps[i]);
    }
    ends[0] -= kit->strut_end;
    ends[1] += kit->strut_end;
    hard = fmin(hard, kit->stock[kit->stock_count - 1] - (ends[1] - ends[0]));
    return (struct worth){length_holds(hard), counted(trial, verdict, bracket, row, ends), hard};
}

static bool better(struct worth a, struct worth b) {
    if (a.holds != b.holds) {
        return a.holds;
    }
    if (fabs(a.counted - b.counted) > 1e-9) {
        return a.counted > b.counted;
    }
    return a.hard > b.hard + 1e-9;
}

/* No combination of sides of this strut is better than the one the check settled on. */
static void expect_best(const struct trial *trial, const struct verdict *verdict, size_t bracket,
                        int row) {
    const struct kit *kit = &trial->roof->kits[0];
    struct worth found = weigh(trial, verdict, bracket, row, verdict->rows[bracket][row].clamps);
    for (unsigned sides = 0; sides < 1u << kit->leg_count; sides++) {
        double clamps[ROOF_LEGS_MOST];
        for (size_t i = 0; i < kit->leg_count; i++) {
            double grip = sides >> i & 1u ? kit->grip : -kit->grip;
            clamps[i] = trial->marks->brackets[bracket].x + kit->legs[i] + grip;
        }
        struct worth other = weigh(trial, verdict, bracket, row, clamps);
        if (better(other, found)) {
            fail_msg("sides %#x: counted %g hard %g, found counted %g hard %g", sides,
                     other.counted, other.hard, found.counted, found.hard);
        }
    }
}

/* A small generator of its own, the same on every machine: the multiplier is Knuth's for 64 bits
 * (from memory). */
static unsigned draw(uint64_t *seed, unsigned below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (unsigned)(*seed >> 33) % below;
}

/* Another kit and other places, everything in sixteenths. */
static void shuffle(struct trial *trial, uint64_t *seed, size_t leg_count, unsigned spacing) {
    struct kit *kit = &trial->roof->kits[0];
    kit->leg_count = leg_count;
    for (size_t i = 0; i < kit->leg_count; i++) {
        kit->legs[i] = 4 + spacing * (double)i + draw(seed, (spacing - 1) * 16) * TICK;
    }
    kit->grip = draw(seed, 6 * 16) * TICK;
    kit->lag_clear = draw(seed, 3 * 16) * TICK;
    kit->overhang = draw(seed, 20 * 16) * TICK;
    kit->stock[0] = 40;
    kit->stock[1] = 40 + draw(seed, 60);
    for (size_t i = 0; i < 2; i++) {
        struct standing *standing = &trial->marks->brackets[i];
        standing->x = PLAIN_X + PLAIN_PITCH * (double)i + draw(seed, 30 * 16) * TICK - 15;
        standing->y = PLAIN_Y + draw(seed, 100) - 50;
    }
    trial->roof->vent_count = draw(seed, 2);
    double x = draw(seed, 300), y = draw(seed, 150);
    trial->roof->vents[0] =
        (struct vent){.flange = {x, y, x + 12, y + 14}, .keep_flashing = 3, .keep_bracket = 6};
}

/* Both brackets on struts, top and bottom. */
static void try_rounds(struct trial *trial, int rounds, size_t legs_most, unsigned spacing) {
    uint64_t seed = 20;
    for (size_t i = 0; i < trial->marks->bracket_count; i++) {
        trial->marks->brackets[i].hardware[ROW_BOTTOM] = HARDWARE_STRUT;
    }
    for (int round = 0; round < rounds; round++) {
        shuffle(trial, &seed, 1 + (size_t)round % legs_most, spacing);
        struct verdict *verdict = held(trial->roof, trial->marks);
        for (size_t i = 0; i < 4; i++) {
            expect_best(trial, verdict, i / 2, (int)(i % 2));
        }
        verdict_free(verdict);
    }
}

static void every_combination_of_sides_on_few_legs(void **state) {
    try_rounds(*state, 2000, 5, 14);
}

static void every_combination_of_sides_on_the_most_legs(void **state) {
    try_rounds(*state, 3 * ROOF_LEGS_MOST, ROOF_LEGS_MOST, 6);
}

/* With bores strewn over the face, which decide more often than anything else. */
static void every_combination_of_sides_among_bores(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    uint64_t seed = 5;
    knobs.bracket_count = 2;
    knobs.pipe_count = 2;
    knobs.hardware[ROW_BOTTOM] = HARDWARE_STRUT;
    trial_rebuild(trial, &knobs);
    for (int round = 0; round < 40; round++) {
        for (size_t i = 0; i < trial->marks->count; i++) {
            struct mark *mark = &trial->marks->list[i];
            if (mark->row == ROW_PIPE) {
                mark->x = draw(&seed, 300 * 16) * TICK;
                mark->y = PLAIN_TOP_Y - 4 + draw(&seed, 8 * 16) * TICK;
            }
        }
        try_rounds(trial, 50, 5, 14);
    }
}

/* Legs at 76 1/2 and 98 1/2 lie between the lags at 64, 88, 112: with a grip of 2 1/2 the first has
 * its clamp at 74, 10 from a lag, not at 79, 9 from one; the second at 101 (11), not at 96 (8). */
static void clamps_between_lags_keep_farthest_from_them(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].legs[0] = 26;
    trial->roof->kits[0].legs[1] = 48;
    trial->roof->kits[0].grip = 2.5;
    trial->roof->kits[0].overhang = 20; /* or it would be the least of all four */
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(verdict->rows[0][ROW_TOP].clamps[0], 74);
    expect_inches(verdict->rows[0][ROW_TOP].clamps[1], 101);
    expect_inches(verdict->rows[0][ROW_TOP].from, 63);
    expect_inches(verdict->rows[0][ROW_TOP].to, 113);
    verdict_free(verdict);
}

/* A leg at 76, half way from 64 to 88: both sides are as good, and the one nearer to the corner is
 * taken. */
static void clamp_in_the_middle_is_put_nearer_to_the_corner(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].legs[0] = 25.5;
    trial->roof->kits[0].overhang = 20;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(verdict->rows[0][ROW_TOP].clamps[0], 76 - 1.25);
    verdict_free(verdict);
}

/* Legs at 61 1/2 and 114 1/2, clamps at 60 1/4 or 62 3/4 and 113 1/4 or 115 3/4.  The lags at 64
 * and 112 leave no room for 62 3/4 and 113 1/4 with 1 1/2 clear: 60 1/4 ... 115 3/4, and an inch to
 * either end. */
static void clamps_go_outward_where_the_lags_leave_no_room_inside(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].legs[0] = 11;
    trial->roof->kits[0].legs[1] = 64;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(verdict->rows[0][ROW_TOP].from, 59.25);
    expect_inches(verdict->rows[0][ROW_TOP].to, 116.75);
    verdict_free(verdict);
    expect_margin(trial->roof, trial->marks, about(RULE_STRUT_CLAMP, 0, ROW_TOP, CHECK_NONE), 2.25);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(every_combination_of_sides_on_few_legs, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(every_combination_of_sides_on_the_most_legs,
                                        trial_set_up_pair, trial_tear_down),
        cmocka_unit_test_setup_teardown(every_combination_of_sides_among_bores, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(clamps_between_lags_keep_farthest_from_them, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(clamp_in_the_middle_is_put_nearer_to_the_corner,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(clamps_go_outward_where_the_lags_leave_no_room_inside,
                                        trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
