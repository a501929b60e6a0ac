/* The program: sums, bounds, rows that switch off, ways out; and the solver behind it. */
#include "../src/layout/solve.h"
#include "program.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <unistd.h>

#include <cmocka.h>

#define TOLERANCE 1e-9

static void assert_close(double found, double wanted) {
    if (!(fabs(found - wanted) <= TOLERANCE))
        fail_msg("found %.12g, wanted %.12g", found, wanted);
}

static void sum_bounds_take_the_right_end_of_each_column(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, -1, 2, false, "a");
    size_t b = program_column(&program, 3, 5, false, "b");
    struct linear sum = linear_plus(linear_plus(linear_of(10), a, 2), b, -1);
    assert_close(program_least(&program, &sum), 10 - 2 - 5);
    assert_close(program_most(&program, &sum), 10 + 4 - 3);
    program_free(&program);
}

static void doubled_column_of_a_sum_is_added_up(void **state) {
    (void)state;
    struct linear sum = linear_plus(linear_plus(linear_of(0), 7, 2), 7, 3);
    assert_int_equal(sum.count, 1);
    assert_close(sum.terms[0].factor, 5);
}

static void requirement_that_bounds_already_keep_makes_no_row(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, 1, 2, false, "a");
    program_require(&program, linear_plus(linear_of(-1), a, 1));
    assert_int_equal(program.row_count, 0);
    program_require(&program, linear_plus(linear_of(-1.5), a, 1));
    assert_int_equal(program.row_count, 1);
    program_free(&program);
}

static void ways_out_that_bounds_decide_need_no_binary(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, 1, 2, false, "a");
    assert_true(program_choice(&program, linear_plus(linear_of(-1), a, 1), "w") == CHOICE_ALWAYS);
    assert_true(program_choice(&program, linear_plus(linear_of(-3), a, 1), "w") == CHOICE_NEVER);
    size_t first = program_choice(&program, linear_plus(linear_of(-1.5), a, 1), "w");
    size_t again = program_choice(&program, linear_plus(linear_of(-1.5), a, 1), "w");
    assert_int_equal(first, again);
    assert_true(program.columns[first].binary);
    program_free(&program);
}

/* Sums that differ in one thing only, a constant, a factor or a column, each asked for again from
 * the last to the first. */
static void every_sum_has_one_binary_of_its_own(void **state) {
    (void)state;
    enum { CONSTANTS = 40, FACTORS = 10, ALL = CONSTANTS * FACTORS * 3 };
    struct program program = {0};
    size_t columns[3], made[ALL];
    for (size_t c = 0; c < 3; c++)
        columns[c] = program_column(&program, 0, 100, false, "c%zu", c);
    for (size_t i = 0; i < 2 * ALL; i++) {
        const size_t k = i < ALL ? i : 2 * ALL - 1 - i;
        const struct linear constant = linear_of(-1 - 0.25 * (double)(k % CONSTANTS));
        const double factor = 1 + 0.5 * (double)(k / CONSTANTS % FACTORS);
        const size_t column = columns[k / CONSTANTS / FACTORS];
        const size_t way = program_choice(&program, linear_plus(constant, column, factor), "w");
        if (i >= ALL)
            assert_int_equal(way, made[k]);
        made[k] = way;
    }
    assert_int_equal(program.column_count, 3 + ALL);
    program_free(&program);
}

/* Two boxes of width 2 on a line from 0 to 5, the first as far right as can be: minimise -x0 with
 * |x0 - x1| >= 2.  By hand: x0 = 5 - 2 = 3 with x1 <= 1. */
static void solver_finds_the_best_of_two_ways_out(void **state) {
    (void)state;
    struct program program = {0};
    size_t x0 = program_column(&program, 0, 3, false, "x0");
    size_t x1 = program_column(&program, 0, 3, false, "x1");
    program.columns[x0].cost = -1;
    struct linear right = linear_plus(linear_plus(linear_of(-2), x0, 1), x1, -1);
    struct linear left = linear_plus(linear_plus(linear_of(-2), x0, -1), x1, 1);
    size_t ways[2] = {program_choice(&program, right, "right"),
                      program_choice(&program, left, "left")};
    program_one_of(&program, ways, 2, NULL, 0);
    struct solution solution;
    assert_int_equal(solve_program(&program, 10, NULL, &solution), SOLVE_OPTIMAL);
    assert_close(solution.values[x0], 3);
    assert_close(solution.cost, -3);
    assert_close(solution.bound, -3);
    assert_true(solution.values[x1] <= 1 + TOLERANCE);
    solution_free(&solution);
    program_free(&program);
}

static void contradiction_is_proved_infeasible(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, 0, 1, true, "a"),
           b = program_column(&program, 0, 1, true, "b");
    program_row(&program, 1, true); /* 2a + 2b = 1: only the integers forbid it */
    program_term(&program, a, 2);
    program_term(&program, b, 2);
    struct solution solution;
    assert_int_equal(solve_program(&program, 10, NULL, &solution), SOLVE_INFEASIBLE);
    assert_null(solution.values);
    solution_free(&solution);
    program_free(&program);
}

/* x >= 5 and x <= 1e7 * y with y a cheap binary: y must be 1.  A solver that lets y be 5e-7 and
 * calls it 0 would claim a cost of 0. */
static void answer_that_leaks_through_a_large_constant_is_not_believed(void **state) {
    (void)state;
    struct program program = {0};
    size_t x = program_column(&program, 5, 1e7, false, "x");
    size_t y = program_column(&program, 0, 1, true, "y");
    program.columns[y].cost = 1;
    program_row(&program, 0, false);
    program_term(&program, y, 1e7);
    program_term(&program, x, -1);
    struct solution solution;
    assert_int_equal(solve_program(&program, 10, NULL, &solution), SOLVE_OPTIMAL);
    assert_close(solution.values[y], 1);
    assert_close(solution.cost, 1);
    solution_free(&solution);
    program_free(&program);
}

/* A column twice in one row makes GLPK abort the process; here it is a fault, and the next program
 * is solved as ever. */
static void abort_of_the_solver_is_survived(void **state) {
    (void)state;
    struct program bad = {0};
    size_t a = program_column(&bad, 0, 1, false, "a");
    bad.columns[a].cost = 1;
    program_row(&bad, 1, false);
    program_term(&bad, a, 1);
    program_term(&bad, a, 1);
    struct solution solution;
    assert_int_equal(solve_program(&bad, 10, NULL, &solution), SOLVE_FAULT);
    solution_free(&solution);
    program_free(&bad);
    solver_finds_the_best_of_two_ways_out(NULL);
}

static void figure_that_is_no_number_is_a_fault_not_an_answer(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, 0, 1, false, "a");
    program.columns[a].cost = 1;
    program_row(&program, 0, false);
    program_term(&program, a, NAN);
    struct solution solution;
    assert_int_equal(solve_program(&program, 10, NULL, &solution), SOLVE_FAULT);
    solution_free(&solution);
    program_free(&program);
}

static void no_time_is_undecided(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, 0, 1, true, "a");
    program.columns[a].cost = 1;
    struct solution solution;
    assert_int_equal(solve_program(&program, 0, NULL, &solution), SOLVE_UNDECIDED);
    assert_null(solution.values);
    solution_free(&solution);
    program_free(&program);
}

static void model_that_cannot_be_written_leaves_nothing(void **state) {
    (void)state;
    struct program program = {0};
    size_t a = program_column(&program, 0, 1, false, "a");
    program.columns[a].cost = 1;
    assert_false(solve_write(&program, "/nowhere/at/all/model.lp"));
    assert_int_not_equal(access("/nowhere/at/all/model.lp.part", F_OK), 0);
    program_free(&program);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sum_bounds_take_the_right_end_of_each_column),
        cmocka_unit_test(doubled_column_of_a_sum_is_added_up),
        cmocka_unit_test(requirement_that_bounds_already_keep_makes_no_row),
        cmocka_unit_test(ways_out_that_bounds_decide_need_no_binary),
        cmocka_unit_test(every_sum_has_one_binary_of_its_own),
        cmocka_unit_test(solver_finds_the_best_of_two_ways_out),
        cmocka_unit_test(contradiction_is_proved_infeasible),
        cmocka_unit_test(answer_that_leaks_through_a_large_constant_is_not_believed),
        cmocka_unit_test(abort_of_the_solver_is_survived),
        cmocka_unit_test(figure_that_is_no_number_is_a_fault_not_an_answer),
        cmocka_unit_test(no_time_is_undecided),
        cmocka_unit_test(model_that_cannot_be_written_leaves_nothing),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    solve_close();
    return failed;
}
