/* Struts cut from bars: checked for sense, and for least waste against every way of cutting. */
#include "../src/sheet/cutlist.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>

static const double tolerance = 1e-6; /* inches */

/* ------------------------------------------------------------------ what every list must obey */

static double bought(const struct cutlist *list) {
    double total = 0;
    for (size_t i = 0; i < list->bar_count; i++) {
        total += list->bars[i].stock;
    }
    return total;
}

/* Each bar is a length that is sold, holds its pieces with a kerf between them, holds at least one;
 * what is left over is what the saw leaves. */
static void assert_can_be_cut(const struct cut_order *order, const struct cutlist *list) {
    assert_int_equal(list->count, order->count);
    for (size_t bar = 0; bar < list->bar_count; bar++) {
        double used = 0;
        size_t pieces = 0;
        for (size_t i = 0; i < list->count; i++) {
            if (list->bar_of[i] == bar) {
                used += order->pieces[i];
                pieces++;
            }
        }
        assert_true(pieces > 0);
        double needed = used + order->kerf * (double)(pieces - 1);
        assert_true(needed <= list->bars[bar].stock + tolerance);
        double left = fmax(0, list->bars[bar].stock - used - order->kerf * (double)pieces);
        assert_true(fabs(left - list->bars[bar].left_over) <= tolerance);
        bool sold = false;
        for (size_t i = 0; i < order->stock_count; i++) {
            sold = sold || fabs(order->stock[i] - list->bars[bar].stock) <= tolerance;
        }
        assert_true(sold);
    }
}

static struct cutlist *cut(const struct cut_order *order) {
    struct cutlist *list = NULL;
    assert_int_equal(cutlist_make(order, &list), OUTCOME_DONE);
    assert_can_be_cut(order, list);
    return list;
}

/* --------------------------------------------------------------------------- solved by hand */

/* Two of 59 15/16 with a 1/8 cut between them need 120 exactly; of 60 they need 120 1/8. */
static void saw_cut_between_two_halves_decides_the_bar(void **state) {
    (void)state;
    const double stock[] = {120, 240};
    const double fits[] = {59.9375, 59.9375};
    const double too_long[] = {60, 60};
    struct cut_order order = {fits, 2, stock, 2, 0.125};
    struct cutlist *list = cut(&order);
    assert_int_equal(list->bar_count, 1);
    assert_true(fabs(bought(list) - 120) <= tolerance);
    cutlist_free(list);
    order.pieces = too_long; /* 240 either way: the fewer bars win */
    list = cut(&order);
    assert_int_equal(list->bar_count, 1);
    assert_true(fabs(bought(list) - 240) <= tolerance);
    assert_true(list->exact);
    cutlist_free(list);
}

/* A strut as long as the bar is the bar: no cut, nothing left. */
static void strut_of_a_whole_bar_needs_no_cut(void **state) {
    (void)state;
    const double stock[] = {120};
    const double pieces[] = {120};
    struct cut_order order = {pieces, 1, stock, 1, 0.125};
    struct cutlist *list = cut(&order);
    assert_int_equal(list->bar_count, 1);
    assert_true(fabs(list->bars[0].left_over) <= tolerance);
    cutlist_free(list);
}

/* Without kerf: 70 + 60 + 50 + 40 + 20 is 240, two full bars, and only 70 + 50 and 60 + 40 + 20
 * fill them both. */
static void full_bars_are_found(void **state) {
    (void)state;
    const double stock[] = {120};
    const double pieces[] = {70, 60, 50, 40, 20};
    struct cut_order order = {pieces, 5, stock, 1, 0};
    struct cutlist *list = cut(&order);
    assert_int_equal(list->bar_count, 2);
    assert_int_equal(list->bar_of[0], list->bar_of[2]);
    assert_int_equal(list->bar_of[1], list->bar_of[3]);
    assert_int_equal(list->bar_of[1], list->bar_of[4]);
    cutlist_free(list);
}

static void piece_longer_than_any_bar_has_none(void **state) {
    (void)state;
    const double stock[] = {120};
    const double pieces[] = {121, 50};
    struct cut_order order = {pieces, 2, stock, 1, 0.125};
    struct cutlist *list = cut(&order);
    assert_true(list->bar_of[0] == SIZE_MAX);
    assert_int_equal(list->bar_of[1], 0);
    assert_int_equal(list->bar_count, 1);
    cutlist_free(list);
}

static void no_struts_need_no_bars(void **state) {
    (void)state;
    const double stock[] = {120};
    struct cut_order order = {NULL, 0, stock, 1, 0.125};
    struct cutlist *list = cut(&order);
    assert_int_equal(list->bar_count, 0);
    cutlist_free(list);
    cutlist_free(NULL);
}

/* 17 pieces of 50, two to a bar of 120: 9 bars, the last one shortened to 60. */
static void many_struts_fall_back_and_say_so(void **state) {
    (void)state;
    const double stock[] = {60, 120};
    double pieces[CUTLIST_EXACT_MOST + 1];
    for (size_t i = 0; i <= CUTLIST_EXACT_MOST; i++) {
        pieces[i] = 50;
    }
    struct cut_order order = {pieces, CUTLIST_EXACT_MOST + 1, stock, 2, 0.125};
    struct cutlist *list = cut(&order);
    assert_false(list->exact);
    assert_int_equal(list->bar_count, 9);
    assert_true(fabs(bought(list) - (8 * 120 + 60)) <= tolerance);
    cutlist_free(list);
}

/* ------------------------------------------------------------------------- every way of cutting */

enum { BRUTE_MOST = 7 };

struct search {
    const struct cut_order *order;
    double used[BRUTE_MOST]; /* on each bar, kerfs between pieces included */
    double least;            /* total stock */
    size_t least_bars;
};

static void weigh(struct search *search, size_t bars) {
    double total = 0;
    for (size_t i = 0; i < bars; i++) {
        double stock = INFINITY;
        for (size_t j = 0; j < search->order->stock_count; j++) {
            if (search->order->stock[j] >= search->used[i] - tolerance) {
                stock = fmin(stock, search->order->stock[j]);
            }
        }
        total += stock;
    }
    if (total < search->least - tolerance ||
        (total <= search->least + tolerance && bars < search->least_bars)) {
        search->least = total;
        search->least_bars = bars;
    }
}

/* Each piece onto each bar begun so far, or onto a new one. */
static void try_all(struct search *search, size_t piece, size_t bars) {
    if (piece == search->order->count) {
        weigh(search, bars);
        return;
    }
    double length = search->order->pieces[piece];
    for (size_t bar = 0; bar <= bars; bar++) {
        double before = bar == bars ? 0 : search->used[bar];
        search->used[bar] = bar == bars ? length : before + search->order->kerf + length;
        try_all(search, piece + 1, bar == bars ? bars + 1 : bars);
        search->used[bar] = before;
    }
}

/* A generator of its own, so that a seed means the same everywhere. */
static uint32_t next_number(uint32_t *seed) {
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 8;
}

static void no_way_of_cutting_wastes_less(void **state) {
    (void)state;
    const double stock[] = {96, 120, 164, 240};
    uint32_t seed = 20;
    for (int round = 0; round < 300; round++) {
        double pieces[BRUTE_MOST];
        size_t count = 1 + next_number(&seed) % BRUTE_MOST;
        for (size_t i = 0; i < count; i++) {
            pieces[i] = 20 + (double)(next_number(&seed) % 1200) / 16;
        }
        size_t first = next_number(&seed) % 4;
        struct cut_order order = {pieces, count, stock + first, 4 - first, 0.125};
        struct search search = {.order = &order, .least = INFINITY};
        try_all(&search, 0, 0);
        struct cutlist *list = cut(&order);
        assert_true(list->exact);
        assert_true(fabs(bought(list) - search.least) <= tolerance);
        assert_int_equal(list->bar_count, search.least_bars);
        cutlist_free(list);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(saw_cut_between_two_halves_decides_the_bar),
        cmocka_unit_test(strut_of_a_whole_bar_needs_no_cut),
        cmocka_unit_test(full_bars_are_found),
        cmocka_unit_test(piece_longer_than_any_bar_has_none),
        cmocka_unit_test(no_struts_need_no_bars),
        cmocka_unit_test(many_struts_fall_back_and_say_so),
        cmocka_unit_test(no_way_of_cutting_wastes_less),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
