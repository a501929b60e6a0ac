/* Lengths, numbers and pitches: what is good lies in its range, and what a tape shows of it reads
 * back as the same. */
#include "fuzz.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a sheet writes is a length again, the same to within its tape. */
static void insist_on_text(double inches, double tick, enum measure measure) {
    char text[LENGTH_TEXT];
    double again = NAN;
    fuzz_insist(length_text(text, inches, tick, measure) == text, "the buffer comes back");
    fuzz_insist(strlen(text) < LENGTH_TEXT, "a length fits");
    if (fabs(inches) <= LENGTH_MOST - 1) {
        fuzz_insist(length_read(text, measure, &again) == LENGTH_GOOD, "it is a length again");
        fuzz_insist(fabs(again - length_to_tape(inches, tick)) <= LENGTH_TOLERANCE,
                    "it is the same length");
    }
    fuzz_insist(length_reading(text, inches, tick, measure) == text, "the buffer comes back");
}

static void read_length(const char *text, enum measure measure) {
    double inches = NAN;
    const enum length_fault fault = length_read(text, measure, &inches);
    fuzz_insist((fault == LENGTH_GOOD) == !isnan(inches), "written only where it is good");
    fuzz_insist(length_fault_text(fault)[0] != '\0' || fault == LENGTH_GOOD, "faults have words");
    if (fault == LENGTH_GOOD) {
        fuzz_insist(fabs(inches) <= LENGTH_MOST, "no length is beyond the longest");
        insist_on_text(inches, 1.0 / 16, MEASURE_IN);
        insist_on_text(inches, 1 / LENGTH_MM_PER_INCH, MEASURE_MM);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size);
    double number = NAN, radians = NAN;
    read_length(text, MEASURE_IN);
    read_length(text, MEASURE_MM);
    const bool is_number = length_read_number(text, &number) == LENGTH_GOOD;
    fuzz_insist(is_number == (isfinite(number) != 0), "a number is finite");
    const bool is_pitch = length_read_pitch(text, &radians) == LENGTH_GOOD;
    fuzz_insist(is_pitch == (radians > 0 && radians < 80 * (3.1415926535897932 / 180) + 1e-12),
                "a pitch lies between 0 and 80 degrees");
    free(text);
    return 0;
}
