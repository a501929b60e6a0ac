/* From a roof to all that is said of it. */
#include "fuzz.h"

#include "carry.h"
#include "digest.h"
#include "drawing.h"
#include "json.h"
#include "pocket.h"
#include "sheet.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { RAFTERS_FEW = 16, COURSES_FEW = 60, BRACKETS_FEW = 2, PIPES_FEW = 2, EDGES_FEW = 8 };

#define LIMIT_S 0.02 /* in steps of the solver: a hundred */

static bool is_small(const struct roof *roof) {
    return roof->rafter_count <= RAFTERS_FEW && roof->course_count <= COURSES_FEW &&
           roof->bracket_count <= BRACKETS_FEW && roof->pipe_count <= PIPES_FEW &&
           roof->edge_count <= EDGES_FEW;
}

static enum status status_of(const struct carried *carried) {
    const bool holds = carried->verdict != NULL && carried->verdict->holds;
    const bool carries = carried->strength == NULL || carried->strength->carries;
    if (carried->layout->state == LAYOUT_UNDECIDED) {
        return STATUS_UNDECIDED;
    }
    return holds && carries ? STATUS_OK : STATUS_BLOCKED;
}

/* JSON that a reader of its own takes, with a mark for each of ours. */
static void insist_on_json(const struct answer *answer) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    fuzz_insist(stream != NULL && json_write(answer, stream) == OUTCOME_DONE, "JSON is written");
    fclose(stream);
    json_error_t error;
    json_t *read = json_loadb(text, size, JSON_REJECT_DUPLICATES, &error);
    fuzz_insist(read != NULL, "JSON is read");
    const size_t marks = answer->marks != NULL ? answer->marks->count : 0;
    fuzz_insist(json_array_size(json_object_get(read, "marks")) == marks, "a mark is a mark");
    json_decref(read);
    free(text);
}

static void draw(const struct answer *answer, FILE *nowhere) {
    struct problems problems = {0};
    struct drawing *drawing = NULL;
    enum outcome outcome =
        drawing_make(answer, drawing_usual_paper(answer->roof), &drawing, &problems);
    fuzz_settle(outcome, &problems);
    const struct pocket pocket = {.answer = answer, .drawing = drawing};
    outcome = pocket_write(&pocket, nowhere);
    fuzz_insist(outcome == OUTCOME_DONE, "the page is written");
    fuzz_insist(drawing_write_dxf(drawing, nowhere) == OUTCOME_DONE, "the DXF is written");
    drawing_free(drawing);
}

static void tell(const struct answer *answer, bool drawn) {
    FILE *nowhere = fopen("/dev/null", "w");
    fuzz_insist(nowhere != NULL, "there is a /dev/null");
    fuzz_insist(sheet_write(answer, nowhere) == OUTCOME_DONE, "the sheet is written");
    if (answer->marks != NULL) {
        fuzz_insist(sheet_write_csv(answer, nowhere) == OUTCOME_DONE, "the table is written");
    }
    insist_on_json(answer);
    if (drawn) {
        draw(answer, nowhere);
    }
    fclose(nowhere);
}

void fuzz_lay_out(const struct roof *roof, const uint8_t *data, size_t size) {
    uint64_t steps = 0;
    const struct layout_options how = {.limit_s = LIMIT_S, .steps = &steps};
    struct problems problems = {0};
    struct carried carried = {0};
    if (!is_small(roof)) {
        return;
    }
    const enum outcome outcome = carry_find(roof, &how, SIDE_NEAR, &carried, &problems);
    fuzz_settle(outcome, &problems);
    if (outcome == OUTCOME_DONE) {
        const struct answer answer = {.roof = roof,
                                      .layout = carried.layout,
                                      .marks = carried.marks,
                                      .verdict = carried.verdict,
                                      .strength = carried.strength,
                                      .none_carry = carried.none_carry,
                                      .status = status_of(&carried),
                                      .from = SIDE_NEAR,
                                      .fingerprint = "00000000",
                                      .limit_s = LIMIT_S};
        tell(&answer, digest_bytes(DIGEST_START, data, size) % 16 == 0);
    }
    carried_free(&carried);
}
