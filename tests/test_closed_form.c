/* Roofs small enough to solve by hand: the forgiveness is a formula, written above each test. */
#include "closed_form.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

/* Feet.  Turned the same way, two legs g apart want lags g apart; turned away from each other or
 * towards each other, g + 2 reach or g - 2 reach.  Rafters offer multiples of their spacing.  Let d
 * be the least difference between what is wanted and what is offered.  It is made up by four plays,
 * each less the forgiveness S: two lags in their plies (play p) and two feet in their slots (s), so
 * d <= 2 (p - S) + 2 (s - S).  No play may be overdrawn alone either, nor that of the courses, c:
 *
 *     S = min(p, s, c, (2 p + 2 s - d) / 4)
 */
static double feet_forgive(const struct roof *roof, double spacing) {
    const struct kit *kit = &roof->kits[0];
    double d = INFINITY;
    for (int turned = -1; turned <= 1; turned++) {
        double wanted = kit->legs[1] - kit->legs[0] + 2 * turned * kit->foot_reach;
        d = fmin(d, fabs(wanted - spacing * round(wanted / spacing)));
    }
    return fmin(fmin(fmin(PLAIN_PLAY, PLAIN_COURSE_PLAY), kit->foot_slot),
                (2 * PLAIN_PLAY + 2 * kit->foot_slot - d) / 4);
}

static void feet_apart(double between, double slot, double wanted) {
    struct roof *roof = uncapped_roof(plain_knobs(), HARDWARE_FEET);
    roof->kits[0].legs[1] = roof->kits[0].legs[0] + between;
    roof->kits[0].foot_slot = slot;
    if (!(fabs(feet_forgive(roof, 24) - wanted) <= 1e-12))
        fail_msg("the formula gives %g", feet_forgive(roof, 24));
    expect_forgiveness(roof, "legs apart", between, wanted);
    roof_free(roof);
}

/* d = 0: the ply binds, p = 5/32. */
static void legs_at_a_multiple_of_the_spacing(void **state) {
    (void)state;
    feet_apart(48, 0.75, 0.15625);
}

/* d = 3/8, half of the slot: (5/16 + 1 1/2 - 3/8) / 4 = 0.359375, so the ply still binds. */
static void legs_off_by_half_a_slot(void **state) {
    (void)state;
    feet_apart(48.375, 0.75, 0.15625);
}

/* The same with a slot of 3/8 and d = 3/8: (5/16 + 3/4 - 3/8) / 4 = 0.171875; the ply binds.
 * d = 5/8: (5/16 + 3/4 - 5/8) / 4 = 0.109375: all four plays are drawn on alike. */
static void legs_off_by_more_than_a_short_slot(void **state) {
    (void)state;
    feet_apart(48.375, 0.375, 0.15625);
    feet_apart(48.625, 0.375, 0.109375);
}

/* d = 1 1/16 = 2 (5/32) + 2 (3/8): every play is used up, and nothing is left. */
static void legs_off_by_every_play_there_is(void **state) {
    (void)state;
    feet_apart(49.0625, 0.375, 0);
}

/* Wanted 58, 55 or 61, offered 48 or 72: d = 7.  (5/16 + 1 1/2 - 7) / 4 = -1.296875. */
static void legs_off_by_too_much(void **state) {
    (void)state;
    feet_apart(58, 0.75, -1.296875);
}

static void legs_anywhere_follow_the_formula(void **state) {
    (void)state;
    for (int i = 0; i <= 24; i++) {
        struct roof *roof = uncapped_roof(plain_knobs(), HARDWARE_FEET);
        roof->kits[0].legs[1] = roof->kits[0].legs[0] + 36 + i;
        roof->kits[0].foot_slot = 0.25;
        expect_forgiveness(roof, "legs apart", 36 + i, feet_forgive(roof, 24));
        roof_free(roof);
    }
}

/* Struts.  A lag lies in the middle of its ply and a clamp anywhere clear of lags: only the ply and
 * the course bind, wherever the legs are.  S = min(p, c) = p. */
static void legs_under_struts_can_be_anywhere(void **state) {
    (void)state;
    for (int i = 0; i <= 6; i++) {
        struct roof *roof = uncapped_roof(plain_knobs(), HARDWARE_STRUT);
        roof->kits[0].legs[1] = roof->kits[0].legs[0] + 42 + 2 * i;
        expect_forgiveness(roof, "legs apart", 42 + 2 * i, PLAIN_PLAY);
        roof_free(roof);
    }
}

/* Rows.  The rows lie a multiple of the exposure apart, give or take two plays of a course (c); the
 * windows of the legs want the distance D between their middles, give or take half a window each
 * (w).  With q the difference between D and the nearest multiple:
 *
 *     S = min(p, c, w, (2 c + 2 w - q) / 4)
 */
static void windows_and_courses_follow_the_formula(void **state) {
    (void)state;
    const double w = 0.25;
    for (int i = 0; i < 12; i++) {
        struct roof *roof = uncapped_roof(plain_knobs(), HARDWARE_FEET);
        double top = 70 + 0.5 * i, bottom = 10;
        struct kit *kit = &roof->kits[0];
        kit->window[ROW_TOP][0] = top - w;
        kit->window[ROW_TOP][1] = top + w;
        kit->window[ROW_BOTTOM][0] = bottom - w;
        kit->window[ROW_BOTTOM][1] = bottom + w;
        double q = fabs(top - bottom - 5.625 * round((top - bottom) / 5.625));
        double wanted = fmin(PLAIN_PLAY, (2 * PLAIN_COURSE_PLAY + 2 * w - q) / 4);
        expect_forgiveness(roof, "middle of the top window", top, wanted);
        roof_free(roof);
    }
}

/* Setbacks.  A face that is wider than the bracket and its setbacks by u leaves u / 2 on either
 * side: S = min(p, u / 2), also where u is negative.  (Legs at about 24 and 72, lags at 16, 40, 64
 * and 88: no clamp comes near a lag.) */
static void a_narrow_face_follows_the_formula(void **state) {
    (void)state;
    static const double room[] = {1, 0.25, 0.125, 0, -0.5, -2};
    for (size_t i = 0; i < sizeof room / sizeof *room; i++) {
        struct plain_knobs knobs = plain_knobs();
        knobs.width = 12 + 72 + 12 + room[i];
        knobs.rafter_count = 4;
        struct roof *roof = uncapped_roof(knobs, HARDWARE_STRUT);
        expect_forgiveness(roof, "room across", room[i], fmin(PLAIN_PLAY, room[i] / 2));
        roof_free(roof);
    }
}

/* Two brackets side by side on a face that is wider than both, their setbacks and `apart` by u: u
 * is shared between two setbacks and the gap, which takes twice the forgiveness (half of it for
 * either bracket): S = u / 4.  u = 1/2 gives 1/8, u = -1 gives -1/4.  Slots of 9 in and no feet's
 * play elsewhere: every other rule allows 5/32. */
static void two_brackets_share_the_room(void **state) {
    (void)state;
    static const double room[] = {0.5, 0.25, 0, -1};
    for (size_t i = 0; i < sizeof room / sizeof *room; i++) {
        struct plain_knobs knobs = plain_knobs();
        knobs.bracket_count = 2;
        knobs.width = 12 + 72 + 12 + 72 + 12 + room[i];
        knobs.slope = 120; /* room for one above the other: none */
        knobs.rafter_count = 8;
        knobs.hardware[ROW_TOP] = knobs.hardware[ROW_BOTTOM] = HARDWARE_FEET;
        struct roof *roof = uncapped_roof(knobs, HARDWARE_FEET);
        roof->kits[0].foot_slot = 9;
        expect_forgiveness(roof, "room across", room[i], room[i] / 4);
        roof_free(roof);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(legs_at_a_multiple_of_the_spacing),
        cmocka_unit_test(legs_off_by_half_a_slot),
        cmocka_unit_test(legs_off_by_more_than_a_short_slot),
        cmocka_unit_test(legs_off_by_every_play_there_is),
        cmocka_unit_test(legs_off_by_too_much),
        cmocka_unit_test(legs_anywhere_follow_the_formula),
        cmocka_unit_test(legs_under_struts_can_be_anywhere),
        cmocka_unit_test(windows_and_courses_follow_the_formula),
        cmocka_unit_test(a_narrow_face_follows_the_formula),
        cmocka_unit_test(two_brackets_share_the_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
