/* A layout that somebody else made: read, held against a roof, told. */
#include "fuzz.h"

#include "check.h"
#include "json.h"
#include "sheet.h"

#include <stdio.h>
#include <unistd.h>

static void tell(const struct roof *roof, const struct marks *marks,
                 const struct verdict *verdict) {
    FILE *nowhere = fopen("/dev/null", "w");
    fuzz_insist(nowhere != NULL, "there is a /dev/null");
    const size_t broken = sheet_write_broken(roof, marks, verdict, nowhere);
    fuzz_insist((broken == 0) == verdict->holds, "what is broken is told");
    sheet_write_reasons(verdict, NULL, nowhere);
    fuzz_insist(json_write_check(roof, marks, verdict, NULL, nowhere) == OUTCOME_DONE,
                "JSON is written");
    fclose(nowhere);
}

static void hold(const struct roof *roof, const struct survey_layout *layout) {
    struct problems problems = {0};
    struct marks *marks = NULL;
    struct verdict *verdict = NULL;
    enum outcome outcome = marks_from_survey(roof, layout, &marks, &problems);
    if (outcome == OUTCOME_DONE) {
        outcome = check_marks(roof, marks, &verdict);
    }
    fuzz_settle(outcome, &problems);
    if (verdict != NULL) {
        tell(roof, marks, verdict);
    }
    verdict_free(verdict);
    marks_free(marks);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char path[FUZZ_PATH];
    struct problems problems = {0};
    struct survey_layout *layout = NULL;
    const int file = fuzz_file(data, size, path);
    fuzz_settle(survey_read_layout(path, &layout, &problems), &problems);
    if (layout != NULL) {
        struct roof *roof = fuzz_build(fuzz_roof_piped, fuzz_kit);
        hold(roof, layout);
        roof_free(roof);
    }
    survey_layout_free(layout);
    close(file);
    return 0;
}
