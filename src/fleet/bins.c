/* How much room to miss, in steps that a tape shows. */
#include "fleet.h"

/* Each bin reaches from its edge up to the next one's; in inches. */
static const struct {
    double from;
    const char *text;
} bins[FLEET_BINS] = {
    {-1e9, "over 2 in short"},
    {-2.0, "1/2 to 2 in short"},
    {-0.5, "1/8 to 1/2 in short"},
    {-0.125, "1/16 to 1/8 in short"},
    {-0.0625, "up to 1/16 in short"},
    {-LENGTH_TOLERANCE, "under 1/16 in: tight"},
    {0.0625 - LENGTH_TOLERANCE, "1/16 to 1/8 in"},
    {0.125 - LENGTH_TOLERANCE, "1/8 to 3/16 in"},
    {0.1875 - LENGTH_TOLERANCE, "3/16 to 1/4 in"},
    {0.25 - LENGTH_TOLERANCE, "1/4 in and more"},
};

size_t fleet_bin(double inches) {
    size_t bin = FLEET_BINS - 1;
    while (bin > 0 && !(inches >= bins[bin].from)) {
        bin--;
    }
    return bin;
}

const char *fleet_bin_text(size_t bin) {
    return bins[bin].text;
}

bool fleet_bin_works(size_t bin) {
    return bins[bin].from >= -LENGTH_TOLERANCE;
}
