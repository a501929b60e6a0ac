/* Labels on a page of 200 by 200 points, what is named in its middle. */
#include "../src/drawing/placer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static const struct box page = {0, 0, 200, 200};

/* An outline of 100 by 100 about the middle, and one to its right that begins where it ends. */
static struct placer two_outlines(void) {
    struct placer placer = {.page = page};
    placer_outline(&placer, (struct box){50, 50, 150, 150});
    placer_outline(&placer, (struct box){150, 50, 200, 150});
    return placer;
}

static struct wish label(double width, enum bounds bounds) {
    return (struct wish){.at = {100, 100}, .width = width, .height = 10, .bounds = bounds};
}

/* What it would cover is no reason to leave: the outline's middle is taken, its upper half free. */
static void name_stays_in_its_own_outline(void **state) {
    (void)state;
    struct placer placer = two_outlines();
    const struct wish wish = label(90, BOUNDS_OWN);
    placer_keep_off(&placer, (struct box){50, 90, 150, 110});
    placer_avoid(&placer, (struct box){50, 50, 150, 150});
    const struct placed placed = placer_place(&placer, &wish);
    assert_true(placed.found);
    assert_true(placed.box.x0 > 50 && placed.box.x1 < 150);
    assert_true(placed.box.y0 > 50 && placed.box.y1 < 150);
    placer_free(&placer);
}

static void name_too_wide_for_its_outline_has_no_room_there(void **state) {
    (void)state;
    struct placer placer = two_outlines();
    const struct wish wish = label(101, BOUNDS_OWN);
    assert_false(placer_place(&placer, &wish).found);
    placer_free(&placer);
}

/* An outline that lies over half of its own is another's all the same: 50 points are left. */
static void name_keeps_off_what_overlaps_its_outline(void **state) {
    (void)state;
    struct placer placer = {.page = page};
    placer_outline(&placer, (struct box){50, 50, 150, 150});
    placer_outline(&placer, (struct box){100, 50, 200, 150});
    const struct wish wide = label(51, BOUNDS_OWN), narrow = label(40, BOUNDS_OWN);
    assert_false(placer_place(&placer, &wide).found);
    const struct placed placed = placer_place(&placer, &narrow);
    assert_true(placed.found);
    assert_true(placed.box.x0 > 50 && placed.box.x1 < 100);
    placer_free(&placer);
}

/* Left of both, above or below. */
static void name_outside_is_in_no_outline(void **state) {
    (void)state;
    struct placer placer = two_outlines();
    const struct wish wish = label(40, BOUNDS_OUTSIDE);
    const struct placed placed = placer_place(&placer, &wish);
    assert_true(placed.found);
    assert_true(placed.box.x1 < 50 || placed.box.y1 < 50 || placed.box.y0 > 150);
    placer_free(&placer);
}

/* No way out that strikes nothing: two labels lie above, where it had better go, one on each other
 * side.  One is struck through rather than two. */
static void crowded_label_is_led_through_as_few_as_can_be(void **state) {
    (void)state;
    struct placer placer = {.page = page};
    placer_keep_off(&placer, (struct box){80, 80, 120, 85});
    placer_keep_off(&placer, (struct box){70, 72, 130, 77});
    placer_keep_off(&placer, (struct box){80, 115, 120, 120});
    placer_keep_off(&placer, (struct box){80, 80, 85, 120});
    placer_keep_off(&placer, (struct box){115, 80, 120, 120});
    struct wish wish = label(40, BOUNDS_PAGE);
    wish.up = 1;
    const struct placed placed = placer_place(&placer, &wish);
    assert_true(placed.found);
    assert_true(placed.box.y1 > 72);
    placer_free(&placer);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(name_stays_in_its_own_outline),
        cmocka_unit_test(name_too_wide_for_its_outline_has_no_room_there),
        cmocka_unit_test(name_keeps_off_what_overlaps_its_outline),
        cmocka_unit_test(name_outside_is_in_no_outline),
        cmocka_unit_test(crowded_label_is_led_through_as_few_as_can_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
