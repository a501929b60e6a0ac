/* Pipe holes of a layout file: named, or found by the ports that they are near to. */
#include "held.h"

#include <float.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { HOLES_MOST = 8, TEXT_MOST = 32 };

/* One bracket at (0, 0) and pipe holes, as the file would have been read; every text its own. */
struct written {
    struct survey_layout layout;
    struct survey_layout_bracket bracket;
    struct survey_layout_mark marks[HOLES_MOST];
    char path[TEXT_MOST], name[TEXT_MOST], zero[TEXT_MOST], row[TEXT_MOST];
    char numbers[HOLES_MOST][2][TEXT_MOST], pipes[HOLES_MOST][TEXT_MOST];
};

static void begin(struct written *written) {
    *written = (struct written){.path = "holes.yaml", .name = "A", .zero = "0", .row = "pipe"};
    written->layout.path = written->path;
    written->layout.brackets = &written->bracket;
    written->layout.brackets_count = 1;
    written->layout.marks = written->marks;
    written->bracket = (struct survey_layout_bracket){
        .name = written->name, .x = written->zero, .y = written->zero};
}

static void add_hole(struct written *written, double x, double y, const char *pipe) {
    unsigned i = written->layout.marks_count++;
    snprintf(written->numbers[i][0], TEXT_MOST, "%.4f", x);
    snprintf(written->numbers[i][1], TEXT_MOST, "%.4f", y);
    written->marks[i] = (struct survey_layout_mark){.bracket = written->name,
                                                    .row = written->row,
                                                    .x = written->numbers[i][0],
                                                    .y = written->numbers[i][1]};
    if (pipe != NULL) {
        snprintf(written->pipes[i], TEXT_MOST, "%s", pipe);
        written->marks[i].pipe = written->pipes[i];
    }
}

static struct marks *read_well(const struct roof *roof, const struct written *written) {
    struct marks *marks = NULL;
    struct problems problems = {0};
    assert_int_equal(marks_from_survey(roof, &written->layout, &marks, &problems), OUTCOME_DONE);
    assert_int_equal(problems.total, 0);
    return marks;
}

static void expect_refused(const struct roof *roof, const struct written *written, const char *key,
                           const char *found) {
    struct marks *marks = NULL;
    struct problems problems = {0};
    assert_int_equal(marks_from_survey(roof, &written->layout, &marks, &problems),
                     OUTCOME_BAD_INPUT);
    assert_null(marks);
    assert_int_equal(problems.total, 1);
    assert_string_equal(problems.list[0].key, key);
    assert_string_equal(problems.list[0].found, found);
    assert_true(problems.list[0].wanted[0] != '\0');
    problems_free(&problems);
}

/* Sorted marks come by pipe, so that each pipe's x can be told in turn. */
static void expect_x(const struct marks *marks, const double *wanted, const size_t *pipes,
                     size_t count) {
    assert_int_equal(marks->count, count);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(marks->list[i].row, ROW_PIPE);
        assert_int_equal(marks->list[i].pipe, pipes[i]);
        expect_inches(marks->list[i].x, wanted[i]);
    }
}

/* Ports at (24 1/2, 44) and (48 1/2, 44): the holes are written the other way round. */
static void hole_belongs_to_the_port_it_is_near_to(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 50, 44, NULL);
    add_hole(&written, 22, 44, NULL);
    struct marks *marks = read_well(trial->roof, &written);
    expect_x(marks, (const double[]){22, 50}, (const size_t[]){0, 1}, 2);
    marks_free(marks);
}

/* Both holes are nearest to cold's port, at 46 and 52 of 48 1/2.  21 1/2 + 3 1/2 = 25 in all is
 * less than 27 1/2 + 2 1/2 = 30. */
static void sum_of_distances_decides_between_two_near_one_port(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 52, 44, NULL);
    add_hole(&written, 46, 44, NULL);
    struct marks *marks = read_well(trial->roof, &written);
    expect_x(marks, (const double[]){46, 52}, (const size_t[]){0, 1}, 2);
    marks_free(marks);
}

static void name_in_the_file_goes_before_distance(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 50, 44, "hot");
    add_hole(&written, 22, 44, "cold");
    struct marks *marks = read_well(trial->roof, &written);
    expect_x(marks, (const double[]){50, 22}, (const size_t[]){0, 1}, 2);
    marks_free(marks);
}

/* One is named cold; the other, near cold's port too, has hot left. */
static void hole_without_a_name_gets_a_pipe_that_none_names(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 48.5, 44, NULL);
    add_hole(&written, 49, 44, "cold");
    struct marks *marks = read_well(trial->roof, &written);
    expect_x(marks, (const double[]){48.5, 49}, (const size_t[]){0, 1}, 2);
    marks_free(marks);
}

static void fewer_holes_than_pipes_leave_the_far_one_out(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 40, 44, NULL);
    struct marks *marks = read_well(trial->roof, &written);
    expect_x(marks, (const double[]){40}, (const size_t[]){1}, 1);
    marks_free(marks);
}

/* Three for two: each pipe has the hole at its port, the third is hot's as well. */
static void more_holes_than_pipes_go_to_the_nearest_port(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 30, 44, NULL);
    add_hole(&written, 48.5, 44, NULL);
    add_hole(&written, 24.5, 44, NULL);
    struct marks *marks = read_well(trial->roof, &written);
    expect_x(marks, (const double[]){24.5, 30, 48.5}, (const size_t[]){0, 0, 1}, 3);
    marks_free(marks);
}

static void names_that_the_bracket_does_not_have_are_refused(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 22, 44, NULL);
    add_hole(&written, 22, 44, "warm");
    expect_refused(trial->roof, &written, "marks[2].pipe", "warm");
    written.layout.marks_count = 1;
    written.marks[0].row = written.pipes[7];
    snprintf(written.pipes[7], TEXT_MOST, "top");
    written.marks[0].pipe = written.pipes[1];
    expect_refused(trial->roof, &written, "marks[1].pipe", "warm");
}

static void pipe_hole_of_a_bracket_without_pipes_is_refused(void **state) {
    struct trial *trial = *state;
    struct written written;
    trial->roof->pipe_count = 0;
    begin(&written);
    add_hole(&written, 22, 44, NULL);
    expect_refused(trial->roof, &written, "marks[1].row", "pipe");
}

/* A small generator of its own, the same on every machine: the multiplier is Knuth's for 64 bits
 * (from memory). */
static unsigned draw(uint64_t *seed, unsigned below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (unsigned)(*seed >> 33) % below;
}

static double off_port(const struct pipe *pipe, const struct mark *mark) {
    return hypot(mark->x - pipe->port_x, mark->y - pipe->port_y);
}

/* Least sum over every way to give the holes from `next` on a pipe each: a pipe that is taken gets
 * another only while more holes are left than pipes without one. */
static double least_sum(const struct roof *roof, const struct marks *marks, size_t next,
                        unsigned taken) {
    size_t pipes_left = 0;
    double least = next == marks->count ? 0 : DBL_MAX;
    for (size_t p = 0; p < roof->pipe_count; p++) {
        pipes_left += !(taken >> p & 1u);
    }
    for (size_t p = 0; p < roof->pipe_count && next < marks->count; p++) {
        bool again = taken >> p & 1u;
        if (again && marks->count - next <= pipes_left) {
            continue;
        }
        double rest = least_sum(roof, marks, next + 1, taken | 1u << p);
        least = fmin(least, rest + off_port(&roof->pipes[p], &marks->list[next]));
    }
    return least;
}

/* One to four pipes and one to six holes anywhere: every assignment is tried. */
static void random_holes_have_the_least_sum_of_distances(void **state) {
    struct trial *trial = *state;
    uint64_t seed = 11;
    struct pipe pipes[4], *own = trial->roof->pipes;
    for (int round = 0; round < 400; round++) {
        struct written written;
        begin(&written);
        for (size_t p = 0; p < 4; p++) {
            pipes[p] = (struct pipe){.port_x = draw(&seed, 72), .port_y = draw(&seed, 84)};
        }
        trial->roof->pipes = pipes;
        trial->roof->pipe_count = 1 + draw(&seed, 4);
        for (unsigned count = 1 + draw(&seed, 6); count > 0; count--) {
            add_hole(&written, draw(&seed, 100), draw(&seed, 100), NULL);
        }
        struct marks *marks = read_well(trial->roof, &written);
        double sum = 0;
        for (size_t i = 0; i < marks->count; i++) {
            sum += off_port(&pipes[marks->list[i].pipe], &marks->list[i]);
        }
        double wanted = least_sum(trial->roof, marks, 0, 0);
        marks_free(marks);
        trial->roof->pipes = own;
        expect_inches(sum, wanted);
    }
}

/* The most marks that a file may hold, all of one pipe: read without delay. */
static void very_many_holes_are_read(void **state) {
    struct trial *trial = *state;
    struct written written;
    begin(&written);
    add_hole(&written, 22, 44, NULL);
    struct survey_layout_mark *many = calloc(2048, sizeof *many);
    assert_non_null(many);
    for (size_t i = 0; i < 2048; i++) {
        many[i] = written.marks[0];
    }
    written.layout.marks = many;
    written.layout.marks_count = 2048;
    struct marks *marks = read_well(trial->roof, &written);
    assert_int_equal(marks->list[2046].pipe, 0);
    assert_int_equal(marks->list[2047].pipe, 1);
    marks_free(marks);
    free(many);
}

/* Through a real file, JSON as well as YAML. */
static void key_is_known_to_the_reader(void **state) {
    static const char file[] =
        "{\"brackets\": [{\"name\": \"A\", \"x\": 50.5, \"y\": 32.375}],\n"
        "\"marks\": [\n"
        "{\"bracket\": \"A\", \"row\": \"pipe\", \"pipe\": \"cold\", \"x\": 1, "
        "\"y\": 2},\n"
        "{\"bracket\": \"A\", \"row\": \"pipe\", \"x\": 3, \"y\": 4}]}\n";
    struct trial *trial = *state;
    char path[] = "/tmp/ruddle-pipes-XXXXXX";
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    FILE *stream = fdopen(descriptor, "w");
    assert_non_null(stream);
    assert_true(fputs(file, stream) >= 0 && fclose(stream) == 0);
    struct survey_layout *layout = NULL;
    struct marks *marks = NULL;
    struct problems problems = {0};
    enum outcome outcome = survey_read_layout(path, &layout, &problems);
    remove(path);
    assert_int_equal(outcome, OUTCOME_DONE);
    assert_int_equal(marks_from_survey(trial->roof, layout, &marks, &problems), OUTCOME_DONE);
    expect_x(marks, (const double[]){3, 1}, (const size_t[]){0, 1}, 2);
    marks_free(marks);
    survey_layout_free(layout);
}

int main(void) {
#define WITH_PIPES(test) cmocka_unit_test_setup_teardown(test, trial_set_up_pipes, trial_tear_down)
    const struct CMUnitTest tests[] = {
        WITH_PIPES(hole_belongs_to_the_port_it_is_near_to),
        WITH_PIPES(sum_of_distances_decides_between_two_near_one_port),
        WITH_PIPES(name_in_the_file_goes_before_distance),
        WITH_PIPES(hole_without_a_name_gets_a_pipe_that_none_names),
        WITH_PIPES(fewer_holes_than_pipes_leave_the_far_one_out),
        WITH_PIPES(more_holes_than_pipes_go_to_the_nearest_port),
        WITH_PIPES(names_that_the_bracket_does_not_have_are_refused),
        WITH_PIPES(pipe_hole_of_a_bracket_without_pipes_is_refused),
        WITH_PIPES(random_holes_have_the_least_sum_of_distances),
        WITH_PIPES(very_many_holes_are_read),
        WITH_PIPES(key_is_known_to_the_reader),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
