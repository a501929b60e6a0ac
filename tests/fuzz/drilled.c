/* Holes that a crew has drilled: read, and a small roof laid out again round them. */
#include "fuzz.h"

#include "revise.h"
#include "revised.h"

#include <stdio.h>
#include <unistd.h>

#define LIMIT_S 0.05 /* in steps of the solver: 250 */

static void tell(const struct revised *revised) {
    FILE *nowhere = fopen("/dev/null", "w");
    fuzz_insist(nowhere != NULL, "there is a /dev/null");
    const struct revised_answer answer = {.revised = revised,
                                          .answer = {.roof = &revised->roof,
                                                     .layout = revised->carried.layout,
                                                     .marks = revised->carried.marks,
                                                     .verdict = revised->carried.verdict,
                                                     .strength = revised->carried.strength,
                                                     .status = STATUS_BLOCKED,
                                                     .from = SIDE_NEAR,
                                                     .fingerprint = "00000000",
                                                     .limit_s = LIMIT_S,
                                                     .done = revised->done,
                                                     .patches = revised->patches,
                                                     .dead_holes = revised->dead_count}};
    fuzz_insist(revised_write_sheet(&answer, nowhere) == OUTCOME_DONE, "the sheet is written");
    fuzz_insist(revised_write_json(&answer, nowhere) == OUTCOME_DONE, "JSON is written");
    fuzz_insist(revised_write_asbuilt(&answer, nowhere) == OUTCOME_DONE, "the record is written");
    fclose(nowhere);
}

static void lay_out_again(const struct roof *roof, const struct survey_drilled *drilled) {
    uint64_t steps = 0;
    const struct layout_options how = {.limit_s = LIMIT_S, .steps = &steps};
    struct problems problems = {0};
    struct revised revised = {0};
    const enum outcome outcome = revise_find(roof, drilled, &how, SIDE_NEAR, &revised, &problems);
    fuzz_settle(outcome, &problems);
    if (outcome == OUTCOME_DONE) {
        tell(&revised);
    }
    revised_free(&revised);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char path[FUZZ_PATH];
    struct problems problems = {0};
    struct survey_drilled *drilled = NULL;
    const int file = fuzz_file(data, size, path);
    fuzz_settle(survey_read_drilled(path, &drilled, &problems), &problems);
    if (drilled != NULL) {
        struct roof *roof = fuzz_build(fuzz_roof, fuzz_kit);
        lay_out_again(roof, drilled);
        roof_free(roof);
    }
    survey_drilled_free(drilled);
    close(file);
    return 0;
}
