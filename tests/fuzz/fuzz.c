#define _GNU_SOURCE /* memfd_create */
#include "fuzz.h"

#include "survey.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

const char fuzz_kit[] =
    "kit: frame\n"
    "bracket:\n"
    "  width: 72\n"
    "  height: 84\n"
    "  legs: [12, 60]\n"
    "  top: [70, 76]\n"
    "  bottom: [4, 20]\n"
    "  bottom_bracket: {gap: [1, 1 1/2], depth: 2, wrench: 1/2}\n"
    "  standoff: 4\n"
    "foot: {reach: 1 1/2, slot: 3/4, half: 1}\n"
    "strut: {half: 7/8, grip: 1 1/4, lag_clear: 1 1/2, end: 1, overhang: 6, span: 50,\n"
    "  stock: [120, 240]}\n"
    "flashing: {width: 9, height: 12, hole_up: 3 1/4, block: 1, edge: [0, 1], clear: 1/4,\n"
    "  lap: 1/2}\n"
    "lag: {diameter: 5/16, length: 4, through: 1/2}\n"
    "weight: {dry: 190, fill: 80, centre: [36, 66, 12]}\n";

/* Upright, and simple enough to be laid out without a solver's search. */
#define FACE                                                                                       \
    "roof: small face\n"                                                                           \
    "plane: {width: 15', slope: 12', pitch: 5/12}\n"                                               \
    "setback: {eave: 12, ridge: 18, near: 12, far: 12}\n"                                          \
    "courses: {first: 6, exposure: 5 5/8}\n"                                                       \
    "rafters:\n"                                                                                   \
    "  list:\n"                                                                                    \
    "    - {at: 16 1/4}\n"                                                                         \
    "    - {at: 40 1/8, plies: 2, sister: away}\n"                                                 \
    "    - {at: 64}\n"                                                                             \
    "    - {at: 88}\n"                                                                             \
    "    - {at: 112, sound: no}\n"                                                                 \
    "    - {at: 136}\n"                                                                            \
    "    - {at: 160}\n"                                                                            \
    "vents: [{name: stack, at: [150, 120], size: [12, 14]}]\n"                                     \
    "place: [{name: A, kit: k, want: [30, 20]}]\n"

const char fuzz_roof[] = FACE;
const char fuzz_roof_piped[] =
    FACE "pipes: [{name: hot, bracket: A, port: [66, 68], reach: 18, bore: 1 3/8, flashing:\n"
         "  {width: 9, height: 12, hole_up: 3 1/2, block: 7/8, edge: [0, 1], clear: 1/4,\n"
         "  lap: 1/2}}]\n";

void fuzz_insist(bool holds, const char *what) {
    if (!holds) {
        fprintf(stderr, "does not hold: %s\n", what);
        abort();
    }
}

char *fuzz_text(const uint8_t *data, size_t size) {
    char *text = malloc(size + 1);
    fuzz_insist(text != NULL, "there is memory for a text");
    memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

int fuzz_file(const uint8_t *data, size_t size, char path[FUZZ_PATH]) {
    const int file = memfd_create("fuzz", MFD_CLOEXEC);
    fuzz_insist(file >= 0 && write(file, data, size) == (ssize_t)size, "a file in memory");
    snprintf(path, FUZZ_PATH, "/proc/self/fd/%d", file);
    return file;
}

void fuzz_settle(enum outcome outcome, struct problems *problems) {
    FILE *nowhere = fopen("/dev/null", "w");
    fuzz_insist(outcome != OUTCOME_FAULT, "no fault");
    fuzz_insist((outcome == OUTCOME_BAD_INPUT) == (problems->total > 0),
                "refused with a reason, and only then");
    if (nowhere != NULL) {
        problems_print(problems, nowhere);
        fclose(nowhere);
    }
    problems_free(problems);
}

struct roof *fuzz_build(const char *roof, const char *kit) {
    const struct survey_stand_in texts = {.roof = roof, .kit_path = "k", .kit = kit};
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *built = NULL;
    enum outcome outcome = survey_read_text("roof.yaml", &texts, &survey, &problems);
    if (outcome == OUTCOME_DONE) {
        outcome = roof_build(survey, NULL, &built, &problems);
    }
    fuzz_settle(outcome, &problems);
    survey_free(survey);
    return built;
}
