#include "sheet_answer.h"

#include "plain_roof.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static void make_rafters(struct sheet_answer *made) {
    size_t ply = 0;
    for (size_t i = 0; i < ANSWER_RAFTERS; i++) {
        double at = 16 + 24 * (double)i;
        size_t plies = i == 1 ? 2 : 1;
        made->rafters[i] = (struct rafter){.at = at,
                                           .from = at - 0.75,
                                           .to = at + 1.5 * (double)plies - 0.75,
                                           .sound = true,
                                           .tolerance = 0.125,
                                           .plies = plies,
                                           .first_ply = ply,
                                           .ply_count = plies};
        for (size_t j = 0; j < plies; j++) {
            made->plies[ply++] = (struct ply){.rafter = i,
                                              .at = at + 1.5 * (double)j,
                                              .half = 0.75,
                                              .tolerance = 0.125,
                                              .reach = {-ROOF_ENDLESS, ROOF_ENDLESS}};
        }
    }
    for (size_t i = 0; i < ANSWER_COURSES; i++) {
        made->courses[i] = 6 + 5.625 * (double)i;
    }
}

static void make_roof(struct sheet_answer *made, size_t bracket_count) {
    made->edges[0] = (struct edge){EDGE_EAVE, 0, 1, 0, 12};
    made->edges[1] = (struct edge){EDGE_RIDGE, 0, -1, -196, 18};
    made->edges[2] = (struct edge){EDGE_NEAR, 1, 0, 0, 12};
    made->edges[3] = (struct edge){EDGE_FAR, -1, 0, -360, 12};
    made->vents[0] = (struct vent){"soil stack", VENT_PLUMBING, {194, 113, 206, 127}, 12, 3, 6};
    for (size_t i = 0; i < ANSWER_BRACKETS; i++) {
        made->brackets[i] = (struct bracket){"", 0, 60, 40, {HARDWARE_STRUT, HARDWARE_FEET}};
        snprintf(made->brackets[i].name, sizeof made->brackets[i].name, "%c", "AB"[i]);
    }
    made->roof = (struct roof){.name = "Alder Row 7, south face",
                               .zero = "outer face of the rake metal; drip edge",
                               .measure = MEASURE_IN,
                               .corner = CORNER_LEFT,
                               .width = 360,
                               .slope = 196,
                               .pitch_rad = 0.39,
                               .edges = made->edges,
                               .edge_count = 4,
                               .courses = made->courses,
                               .course_count = ANSWER_COURSES,
                               .course_tolerance = 0.125,
                               .rafters = made->rafters,
                               .rafter_count = ANSWER_RAFTERS,
                               .plies = made->plies,
                               .ply_count = ANSWER_PLIES,
                               .vents = made->vents,
                               .vent_count = 1,
                               .kits = made->kits,
                               .kit_count = 1,
                               .brackets = made->brackets,
                               .bracket_count = bracket_count,
                               .apart = 12,
                               .tape = 0.0625,
                               .enough = 0.125,
                               .hole_worth = 12,
                               .warnings = made->warnings,
                               .warning_count = 1};
    snprintf(made->warnings[0].text, sizeof made->warnings[0].text,
             "bracket A: no setback given; its marks may reach the near rake");
}

static void find(struct sheet_answer *made, struct finding finding) {
    made->findings[made->verdict.count++] = finding;
}

static void add_mark(struct sheet_answer *made, size_t bracket, enum row row, double x, double y,
                     size_t leg) {
    size_t mark = made->marks.count++;
    double leg_x = made->standings[bracket].x + (leg == SIZE_MAX ? 0 : made->kits[0].legs[leg]);
    size_t rafter = (size_t)((x - 16) / 24 + 0.5);
    made->list[mark] = (struct mark){.bracket = bracket, .row = row, .x = x, .y = y};
    made->seats[mark] = (struct seat){.ply = made->rafters[rafter].first_ply,
                                      .leg = leg,
                                      .side = SIDE_NEAR,
                                      .slip = leg == SIZE_MAX ? 0 : x - leg_x + 1.5};
    int b = (int)bracket;
    find(made, (struct finding){RULE_WOOD, b, (int)row, (int)mark, -1, -1, -1, -1, 0.15625});
    if (leg != SIZE_MAX) {
        find(made,
             (struct finding){RULE_FOOT_REACH, b, (int)row, (int)mark, -1, -1, -1, -1, 0.125});
    }
}

/* X is 54 1/8 for A, so that legs stand at 66 1/8 and 114 1/8: 2 1/8 in beyond the rafters at 64
 * and 112.  A foot's lag at 64 lies 1 1/2 in before the leg less s = -5/8; slot 3/4 leaves 1/8. */
static void make_frame(struct sheet_answer *made, size_t bracket) {
    double shift = 144 * (double)bracket;
    made->standings[bracket] =
        (struct standing){54.125 + shift, 40, {HARDWARE_STRUT, HARDWARE_FEET}};
    size_t first = made->marks.count;
    for (size_t i = 0; i < 3; i++) {
        add_mark(made, bracket, ROW_TOP, 64 + 24 * (double)i + shift, 110.75, SIZE_MAX);
    }
    for (size_t i = 0; i < 2; i++) {
        add_mark(made, bracket, ROW_BOTTOM, 64 + 48 * (double)i + shift, 54.5, i);
    }
    made->rows[bracket][ROW_TOP] = (struct row_seat){
        19, 110.75, first, 3, 63 + shift, 116.375 + shift, {67.375 + shift, 115.375 + shift}};
    made->rows[bracket][ROW_BOTTOM] = (struct row_seat){9, 54.5, first + 3, 2, 0, 0, {0}};
    find(made, (struct finding){RULE_SETBACK, (int)bracket, -1, -1, -1, -1, -1, -1, 28});
    made->forgiveness[bracket] = 0.125;
}

void answer_make(struct sheet_answer *made, size_t bracket_count) {
    memset(made, 0, sizeof *made);
    made->kits[0] = plain_kit();
    make_rafters(made);
    make_roof(made, bracket_count);
    made->marks.brackets = made->standings;
    made->marks.bracket_count = bracket_count;
    made->marks.list = made->list;
    for (size_t i = 0; i < bracket_count; i++) {
        make_frame(made, i);
    }
    made->verdict.findings = made->findings;
    made->verdict.seats = made->seats;
    made->verdict.rows = made->rows;
    made->verdict.forgiveness = made->forgiveness;
    made->verdict.least = 0.125;
    made->verdict.hard_least = 1;
    made->verdict.holds = true;
    made->verdict.holes = made->marks.count;
    made->layout = (struct layout){.state = LAYOUT_PROVED,
                                   .marks = &made->marks,
                                   .forgiveness = 0.125,
                                   .moved = 5.875,
                                   .holes = made->marks.count,
                                   .bound_forgiveness = 0.125,
                                   .bound_cost = -INFINITY,
                                   .reasons = made->reasons};
    made->answer = (struct answer){.roof = &made->roof,
                                   .layout = &made->layout,
                                   .marks = &made->marks,
                                   .verdict = &made->verdict,
                                   .status = STATUS_OK,
                                   .from = SIDE_NEAR,
                                   .fingerprint = "1a2b3c4d",
                                   .limit_s = 60};
}

static void add_pipe(struct sheet_answer *made, const char *name, struct mark hole,
                     struct point port) {
    struct pipe *pipe = &made->pipes[made->roof.pipe_count];
    *pipe = (struct pipe){.port_x = port.x,
                          .port_y = port.y,
                          .reach = 6,
                          .bore = 1.375,
                          .keep_rafter = 0.75,
                          .flashing = {9, 12, 3.5, 0.875, {0, 1}, 0.25, 0.5}};
    snprintf(pipe->name, sizeof pipe->name, "%s", name);
    hole.row = ROW_PIPE;
    hole.pipe = made->roof.pipe_count++;
    int mark = (int)made->marks.count++;
    made->list[mark] = hole;
    made->seats[mark] = (struct seat){.ply = SIZE_MAX, .leg = SIZE_MAX, .course = 14};
    find(made, (struct finding){RULE_PIPE_BAY, 0, ROW_PIPE, mark, -1, -1, -1, -1, 7.6875});
    find(made, (struct finding){RULE_PIPE_REACH, 0, ROW_PIPE, mark, -1, -1, -1, -1, 1.75});
    made->verdict.holes = made->layout.holes = made->marks.count;
}

void answer_add_pipes(struct sheet_answer *made) {
    made->roof.pipes = made->pipes;
    add_pipe(made, "hot", (struct mark){.x = 77, .y = 83.125}, (struct point){18.625, 45.125});
    add_pipe(made, "cold", (struct mark){.x = 102, .y = 83.125}, (struct point){48.25, 43.125});
}

/* 9-40-41 is a right triangle: the rake climbs 40 for each 41 along it. */
void answer_lean(struct sheet_answer *made, bool both) {
    made->edges[2] = (struct edge){EDGE_NEAR, 40.0 / 41, 9.0 / 41, 0, 12};
    made->roof.rake_rad[SIDE_NEAR] = atan2(40, -9);
    made->roof.rake_rad[SIDE_FAR] = atan2(1, 0);
    if (both) {
        made->edges[3] = (struct edge){EDGE_FAR, -40.0 / 41, -9.0 / 41, -360 * 40.0 / 41, 12};
        made->roof.rake_rad[SIDE_FAR] = made->roof.rake_rad[SIDE_NEAR];
    }
    made->roof.triangles[SIDE_NEAR] = (struct triangle){40, 41, 63.25};
    made->roof.square_checked = true;
}

/* 5-12-13. */
void answer_outline(struct sheet_answer *made) {
    made->edges[2] = (struct edge){EDGE_NEAR, 12.0 / 13, -5.0 / 13, 0, 12};
    made->edges[3] = (struct edge){EDGE_FAR, -12.0 / 13, -5.0 / 13, -360 * 12.0 / 13, 12};
    made->roof.outlined = made->roof.square_checked = true;
}

void answer_break(struct sheet_answer *made) {
    made->findings[0].margin = -0.34375;
    made->verdict.least = -0.34375;
    made->verdict.shortfall = 0.34375;
    made->verdict.holds = false;
    made->layout.forgiveness = -0.34375;
    made->answer.status = STATUS_BLOCKED;
}

char *answer_sheet(const struct sheet_answer *made) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(sheet_write(&made->answer, stream), OUTCOME_DONE);
    assert_int_equal(fclose(stream), 0);
    assert_non_null(text);
    return text;
}

void assert_says(const char *sheet, const char *text) {
    if (strstr(sheet, text) == NULL) {
        fail_msg("not on the sheet: %s", text);
    }
}

void assert_silent_on(const char *sheet, const char *text) {
    if (strstr(sheet, text) != NULL) {
        fail_msg("on the sheet, and must not be: %s", text);
    }
}

size_t count_of(const char *sheet, const char *text) {
    size_t count = 0;
    for (const char *at = sheet; (at = strstr(at, text)) != NULL; at++) {
        count++;
    }
    return count;
}

void assert_in_order(const char *sheet, const char *const *texts, size_t count) {
    const char *at = sheet;
    for (size_t i = 0; i < count; i++) {
        at = strstr(at, texts[i]);
        if (at == NULL) {
            fail_msg("missing, or out of order: %s", texts[i]);
            return;
        }
        at += strlen(texts[i]);
    }
}
