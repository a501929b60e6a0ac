/* Pipes near a port of their bracket. */
#include "edited_roof.h"
#include "roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define FLASHING                                                                                   \
    "flashing: {width: 9, height: 12, hole_up: 3 1/2, block: 7/8, edge: [0, 1], clear: 1/4, "      \
    "lap: 1/2}"
#define HOT "{name: hot, bracket: A, port: [66, 68], reach: 18, bore: 1 3/8, " FLASHING "}"

static struct roof *roof_with(const struct edit *edits) {
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits});
}

static void pipe_has_its_figures_and_defaults(void **state) {
    (void)state;
    const struct edit edits[] = {{"vents:", "pipes: [" HOT "]\nvents:"}, {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->pipe_count, 1);
    const struct pipe *pipe = &roof->pipes[0];
    assert_string_equal(pipe->name, "hot");
    assert_int_equal(pipe->bracket, 0);
    assert_near(pipe->port_x, 66);
    assert_near(pipe->port_y, 68);
    assert_near(pipe->reach, 18);
    assert_near(pipe->bore, 1.375);
    assert_near(pipe->keep_rafter, 0.75);
    assert_near(pipe->flashing.hole_up, 3.5);
    assert_near(pipe->flashing.block, 0.875);
    assert_near(pipe->flashing.edge[1], 1);
    roof_free(roof);
}

/* The frame is 72 wide: 66 from its left side is 6 from its right one, where x counts from. */
static void port_counts_from_the_left_whatever_the_corner(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"corner: left", "corner: right"}, {"vents:", "pipes: [" HOT "]\nvents:"}, {0}};
    struct roof *roof = roof_with(edits);
    assert_near(roof->pipes[0].port_x, 6);
    assert_near(roof->pipes[0].port_y, 68);
    roof_free(roof);
}

/* Two pipes of one name belong to two frames; the second's frame comes second. */
static void pipes_find_their_bracket_by_its_name(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"vents:",
         "pipes:\n  - {name: hot, bracket: B, port: [-2, 30], reach: 0, bore: 1, keep_rafter: "
         "0, " FLASHING "}\n  - " HOT "\nvents:"},
        {"want: [60, 40]}", "want: [60, 40]}\n  - {name: B, kit: plain-kit.yaml, want: [160, 40]}"},
        {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->pipes[0].bracket, 1);
    assert_near(roof->pipes[0].port_x, -2);
    assert_near(roof->pipes[0].keep_rafter, 0);
    assert_int_equal(roof->pipes[1].bracket, 0);
    roof_free(roof);
}

/* In an mm file bare figures are millimetres; the default is 3/4 in all the same. */
static void pipe_reads_the_measure_of_its_file(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"vents:",
         "pipes: [{name: hot, bracket: A, port: [66\", 1524], reach: 254, bore: 38.1, "
         "flashing: {width: 228.6, height: 12\", hole_up: 3 1/2, block: 22, edge: [0, 25], "
         "clear: 6, lap: 13}}]\nvents:"},
        {"measure: in", "measure: mm"},
        {"    - {at: 40 1/8}\n    - {at: 64}\n    - {at: 88}\n    - {at: 112}\n    - {at: 136}\n"
         "    - {at: 160}\n    - {at: 184}\n    - {at: 208}\n    - {at: 232}\n    - {at: 256}\n"
         "    - {at: 280}\n    - {at: 304}\n    - {at: 328}\n",
         "    - {at: 1016}\n"},
        {0}};
    struct roof *roof = roof_with(edits);
    const struct pipe *pipe = &roof->pipes[0];
    assert_near(pipe->port_x, 66);
    assert_near(pipe->port_y, 60);
    assert_near(pipe->reach, 10);
    assert_near(pipe->bore, 1.5);
    assert_near(pipe->keep_rafter, 0.75);
    assert_near(pipe->flashing.width, 9);
    assert_near(pipe->flashing.hole_up, 3.5);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pipe_has_its_figures_and_defaults),
        cmocka_unit_test(port_counts_from_the_left_whatever_the_corner),
        cmocka_unit_test(pipes_find_their_bracket_by_its_name),
        cmocka_unit_test(pipe_reads_the_measure_of_its_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
