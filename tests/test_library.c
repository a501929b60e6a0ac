/* The library as another program uses it: through its public header alone, from several threads at
 * once, under another locale, beside another use of the solver. */
#include "ruddle.h"
#include "run_program.h"

#include <glpk.h>
#include <locale.h>
#include <math.h>
#include <pthread.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define EASY RUDDLE_ROOT "/roofs/easy.yaml"
#define SISTERED RUDDLE_ROOT "/roofs/sistered.yaml"
#define FITS_NOT RUDDLE_ROOT "/roofs/nothing-fits.yaml"

static struct ruddle_roof *roof_of(const char *path) {
    struct ruddle_roof *roof = NULL;
    assert_int_equal(ruddle_read(path, NULL, &roof, NULL), RUDDLE_DONE);
    assert_non_null(roof);
    return roof;
}

static struct ruddle_answer *laid_out(const struct ruddle_roof *roof, enum ruddle_outcome wanted) {
    struct ruddle_answer *answer = NULL;
    assert_int_equal(ruddle_lay_out(roof, NULL, &answer, NULL), wanted);
    assert_non_null(answer);
    return answer;
}

static void layout_is_the_programs_to_the_byte(void **state) {
    (void)state;
    struct ruddle_roof *roof = roof_of(EASY);
    struct ruddle_answer *answer = laid_out(roof, RUDDLE_DONE);
    struct run printed = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--json"), NULL);
    assert_string_equal(ruddle_answer_json(answer), printed.out);
    assert_string_equal(ruddle_roof_name(roof), "Pellowmere, Ferry Lane 4, south face");
    run_free(&printed);
    ruddle_answer_free(answer);
    ruddle_roof_free(roof);
}

static void holes_are_told_without_reading_json(void **state) {
    (void)state;
    struct ruddle_roof *roof = roof_of(EASY);
    struct ruddle_answer *answer = laid_out(roof, RUDDLE_DONE);
    ruddle_roof_free(roof); /* an answer needs it no longer */
    assert_int_equal(ruddle_answer_marks(answer), 5);
    assert_null(ruddle_answer_mark(answer, 5));
    for (size_t i = 0; i < 5; i++) {
        const struct ruddle_mark *mark = ruddle_answer_mark(answer, i);
        char id[32];
        snprintf(id, sizeof id, "A-%s-%zu", i < 3 ? "top" : "bottom", i < 3 ? i + 1 : i - 2);
        assert_string_equal(mark->id, id);
        assert_string_equal(mark->bracket, "A");
        assert_string_equal(mark->row, i < 3 ? "top" : "bottom");
        assert_true(mark->rafter > 0 && mark->course > 0);
        /* Rafter k of that roof stands within 1/4 in of 24 k, and is 1 1/2 in thick. */
        assert_true(fabs(mark->x - 24.0 * (double)mark->rafter) <= 0.25 + 0.75);
    }
    assert_true(ruddle_answer_forgiveness(answer) >= 0.125 - 1e-6);
    ruddle_answer_free(answer);
}

static void blocked_roof_has_an_answer_all_the_same(void **state) {
    (void)state;
    struct ruddle_roof *roof = roof_of(FITS_NOT);
    struct ruddle_answer *answer = laid_out(roof, RUDDLE_BLOCKED);
    /* The play of a lag in a ply found to 1/2 in: 3/4 - 15/32 - 1/2. */
    assert_true(fabs(ruddle_answer_forgiveness(answer) + 0.21875) <= 1e-6);
    assert_int_equal(ruddle_answer_marks(answer), 5);
    ruddle_answer_free(answer);
    ruddle_roof_free(roof);
}

/* ---- Bad input ------------------------------------------------------------------------------- */

static void fault_is_a_line_and_leaves_the_roof_alone(void **state) {
    (void)state;
    struct ruddle_messages *messages = ruddle_messages_new();
    struct ruddle_roof *roof = NULL;
    char *text = run_file_read(EASY);
    char *pitch = strstr(text, "pitch:");
    memcpy(pitch, "pitsh:", 6);
    assert_int_equal(ruddle_read(EASY, text, &roof, messages), RUDDLE_BAD_INPUT);
    assert_null(roof);
    assert_true(ruddle_messages_count(messages) >= 1);
    const char *line = ruddle_messages_line(messages, 0);
    assert_non_null(strstr(line, EASY ":"));
    assert_non_null(strstr(line, "pitsh"));
    assert_null(strchr(line, '\n'));
    assert_null(ruddle_messages_line(messages, ruddle_messages_count(messages)));

    memcpy(pitch, "pitch:", 6); /* mended, the same object forgets what it said */
    assert_int_equal(ruddle_read(EASY, text, &roof, messages), RUDDLE_DONE);
    assert_int_equal(ruddle_messages_count(messages), 0);
    ruddle_roof_free(roof);
    ruddle_messages_free(messages);
    free(text);
}

static void files_that_are_not_there_and_endless_texts_are_refused(void **state) {
    (void)state;
    struct ruddle_roof *roof = NULL;
    assert_int_equal(ruddle_read("/no/such/roof.yaml", NULL, &roof, NULL), RUDDLE_BAD_INPUT);
    char *endless = malloc((2u << 20) + 1);
    assert_non_null(endless);
    memset(endless, '#', 2u << 20);
    endless[2u << 20] = '\0';
    assert_int_equal(ruddle_read("roof.yaml", endless, &roof, NULL), RUDDLE_BAD_INPUT);
    assert_null(roof);
    free(endless);
    ruddle_roof_free(NULL);
    ruddle_answer_free(NULL);
    ruddle_messages_free(NULL);
}

/* ---- Checking -------------------------------------------------------------------------------- */

static void own_layout_passes_and_a_moved_hole_does_not(void **state) {
    (void)state;
    struct ruddle_roof *roof = roof_of(EASY);
    struct ruddle_answer *laid = laid_out(roof, RUDDLE_DONE);
    struct ruddle_answer *held = NULL;
    const char *json = ruddle_answer_json(laid);
    assert_int_equal(ruddle_check(roof, "layout.json", json, &held, NULL), RUDDLE_DONE);
    assert_int_equal(ruddle_answer_marks(held), 5);
    assert_true(fabs(ruddle_answer_forgiveness(held) - ruddle_answer_forgiveness(laid)) <= 1e-9);
    ruddle_answer_free(held);

    /* One hole moved by 5 in or more: out of any rafter, or out of its foot's slot. */
    held = NULL;
    char *moved = strdup(json);
    char *mark = strstr(moved, "\"marks\": [");
    assert_non_null(mark);
    char *x = strstr(mark, "\"x\": ");
    assert_non_null(x);
    x[6] = x[6] == '9' ? '4' : (char)(x[6] + 1); /* the second figure of a length like 64.0 */
    char folder[RUN_PATH], path[RUN_PATH];
    run_folder_make(folder);
    run_file_write(run_path(path, folder, "moved.json"), moved);
    assert_int_equal(ruddle_check(roof, path, NULL, &held, NULL), RUDDLE_BLOCKED);
    struct run printed = run_program(RUDDLE_PROGRAM, WORDS("check", EASY, path, "--json"), NULL);
    assert_string_equal(ruddle_answer_json(held), printed.out);
    run_free(&printed);
    run_folder_remove(folder);
    free(moved);
    ruddle_answer_free(held);
    ruddle_answer_free(laid);
    ruddle_roof_free(roof);
}

/* ---- Threads, locale, solver ----------------------------------------------------------------- */

enum { ROUNDS = 3 };

/* What a thread lays out again and again, and how often it came out otherwise. */
struct task {
    const struct ruddle_roof *roof;
    const char *wanted;
    size_t others;
};

static void *lay_out_again(void *argument) {
    struct task *task = argument;
    for (size_t i = 0; i < ROUNDS; i++) {
        struct ruddle_answer *answer = NULL;
        const enum ruddle_outcome outcome = ruddle_lay_out(task->roof, NULL, &answer, NULL);
        const bool same =
            outcome == RUDDLE_DONE && strcmp(ruddle_answer_json(answer), task->wanted) == 0;
        task->others += same ? 0 : 1;
        ruddle_answer_free(answer);
    }
    return NULL;
}

/* Three threads, two of them on one and the same roof. */
static void threads_at_once_find_what_one_after_the_other_does(void **state) {
    (void)state;
    struct ruddle_roof *easy = roof_of(EASY), *sistered = roof_of(SISTERED);
    struct ruddle_answer *of_easy = laid_out(easy, RUDDLE_DONE);
    struct ruddle_answer *of_sistered = laid_out(sistered, RUDDLE_DONE);
    struct task tasks[] = {{easy, ruddle_answer_json(of_easy), 0},
                           {sistered, ruddle_answer_json(of_sistered), 0},
                           {easy, ruddle_answer_json(of_easy), 0}};
    enum { TASKS = sizeof tasks / sizeof tasks[0] };
    pthread_t threads[TASKS];
    for (size_t i = 0; i < TASKS; i++) {
        assert_int_equal(pthread_create(&threads[i], NULL, lay_out_again, &tasks[i]), 0);
    }
    for (size_t i = 0; i < TASKS; i++) {
        assert_int_equal(pthread_join(threads[i], NULL), 0);
        assert_int_equal(tasks[i].others, 0);
    }
    assert_string_not_equal(tasks[0].wanted, tasks[1].wanted);
    ruddle_answer_free(of_easy);
    ruddle_answer_free(of_sistered);
    ruddle_roof_free(easy);
    ruddle_roof_free(sistered);
}

/* A locale with decimal commas, made here: not every machine has one. */
static void make_comma_locale(const char *folder) {
    char command[RUN_PATH + 256];
    snprintf(command, sizeof command,
             "cd %s && printf 'LC_NUMERIC\\ndecimal_point \",\"\\nthousands_sep \".\"\\n"
             "grouping 3;3\\nEND LC_NUMERIC\\n' >comma && "
             "localedef -c -i comma -f UTF-8 ./comma_XX >made 2>&1; test -d comma_XX",
             folder);
    assert_int_equal(system(command), 0);
}

static void decimal_commas_of_the_host_stay_out(void **state) {
    (void)state;
    char folder[RUN_PATH];
    run_folder_make(folder);
    make_comma_locale(folder);
    struct ruddle_roof *roof = roof_of(FITS_NOT);
    struct ruddle_answer *plain = laid_out(roof, RUDDLE_BLOCKED);
    /* A figure in words, which no writer of JSON looks after. */
    assert_non_null(strstr(ruddle_answer_json(plain), "is short by 0.21875 in"));
    setenv("LOCPATH", folder, 1);
    assert_non_null(setlocale(LC_NUMERIC, "comma_XX"));
    char figure[16];
    snprintf(figure, sizeof figure, "%.1f", 1.5);
    assert_string_equal(figure, "1,5"); /* or this test would show nothing */
    struct ruddle_answer *abroad = laid_out(roof, RUDDLE_BLOCKED);
    assert_string_equal(ruddle_answer_json(abroad), ruddle_answer_json(plain));
    snprintf(figure, sizeof figure, "%.1f", 1.5);
    assert_string_equal(figure, "1,5"); /* and the host keeps its own */
    setlocale(LC_NUMERIC, "C");
    unsetenv("LOCPATH");
    char command[RUN_PATH + 16];
    snprintf(command, sizeof command, "rm -r %s", folder);
    assert_int_equal(system(command), 0);
    ruddle_answer_free(abroad);
    ruddle_answer_free(plain);
    ruddle_roof_free(roof);
}

/* The host's own program, x at least 2 and as small as can be, outlives our use of the solver. */
static void solver_of_the_host_is_left_alone(void **state) {
    (void)state;
    glp_term_out(GLP_OFF);
    glp_prob *own = glp_create_prob();
    glp_add_cols(own, 1);
    glp_set_col_bnds(own, 1, GLP_LO, 2, 0);
    glp_set_obj_coef(own, 1, 1);
    struct ruddle_roof *roof = roof_of(EASY);
    ruddle_answer_free(laid_out(roof, RUDDLE_DONE));
    ruddle_roof_free(roof);
    assert_int_equal(glp_get_num_cols(own), 1);
    glp_std_basis(own);
    assert_int_equal(glp_simplex(own, NULL), 0);
    assert_true(fabs(glp_get_obj_val(own) - 2) <= 1e-9);
    glp_delete_prob(own);
    glp_free_env();
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(layout_is_the_programs_to_the_byte),
        cmocka_unit_test(holes_are_told_without_reading_json),
        cmocka_unit_test(blocked_roof_has_an_answer_all_the_same),
        cmocka_unit_test(fault_is_a_line_and_leaves_the_roof_alone),
        cmocka_unit_test(files_that_are_not_there_and_endless_texts_are_refused),
        cmocka_unit_test(own_layout_passes_and_a_moved_hole_does_not),
        cmocka_unit_test(threads_at_once_find_what_one_after_the_other_does),
        cmocka_unit_test(decimal_commas_of_the_host_stay_out),
        cmocka_unit_test(solver_of_the_host_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
