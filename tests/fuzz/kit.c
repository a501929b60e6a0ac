/* A kit file: read, built, and a small roof laid out with it. */
#include "fuzz.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size);
    struct roof *roof = fuzz_build(fuzz_roof, text);
    if (roof != NULL) {
        fuzz_lay_out(roof, data, size);
    }
    roof_free(roof);
    free(text);
    return 0;
}
