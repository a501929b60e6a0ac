/* A roof file: read, built, looked through for doubts, and laid out where that is quick. */
#include "fuzz.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size);
    struct roof *roof = fuzz_build(text, fuzz_kit);
    if (roof != NULL) {
        fuzz_lay_out(roof, data, size);
    }
    roof_free(roof);
    free(text);
    return 0;
}
