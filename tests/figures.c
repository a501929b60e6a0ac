#include "figures.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

void expect_figure(const char *what, const char *source, double found, double wanted,
                   double tolerance) {
    if (!(fabs(found - wanted) <= tolerance))
        fail_msg("%s: found %.10g, wanted %.10g within %.3g (%s)", what, found, wanted, tolerance,
                 source);
}

void expect_share(const char *what, double found, double wanted, double scale, double share) {
    if (!(fabs(found - wanted) <= share * fmax(fabs(wanted), fabs(scale))))
        fail_msg("%s: found %.17g, wanted %.17g, within %.3g of %.6g", what, found, wanted, share,
                 fmax(fabs(wanted), fabs(scale)));
}

static uint64_t next(uint64_t *state) {
    uint64_t z = (*state += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

double figures_random(uint64_t *state, double lo, double hi) {
    return lo + (hi - lo) * (double)(next(state) >> 11) / 9007199254740992.0;
}

unsigned figures_random_below(uint64_t *state, unsigned count) {
    return (unsigned)(next(state) % count);
}
