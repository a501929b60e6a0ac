/* A roof file: read, built, looked through for doubts, and laid out where that is quick. */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    if (memchr(data, 0, size) != NULL) {
        return 0; /* such a file is refused before it comes this far */
    }
    char *text = fuzz_text(data, size);
    struct roof *roof = fuzz_build(text, fuzz_kit);
    if (roof != NULL) {
        fuzz_lay_out(roof, data, size);
    }
    roof_free(roof);
    free(text);
    return 0;
}
