/* The chance that every lag finds its wood, if each rafter errs as the survey says. */
#include "compare.h"

#include <math.h>
#include <stdint.h>

/* The tolerance of a rafter is taken for so many standard deviations. */
#define DEVIATIONS 2

/* The part of a normal distribution below z; by erfc, so that small parts keep their digits. */
static double below(double z) {
    return 0.5 * erfc(-z / sqrt(2));
}

/* Between which errors of a rafter's place all its lags hit. */
struct errors {
    double lo, hi;
};

static struct errors errors_that_hit(const struct roof *roof, const struct marks *marks,
                                     const struct verdict *verdict, size_t rafter) {
    struct errors errors = {-INFINITY, INFINITY};
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *mark = &marks->list[i];
        const size_t seat = verdict->seats[i].ply;
        if (mark->row == ROW_PIPE || seat == SIZE_MAX || roof->plies[seat].rafter != rafter)
            continue;
        const struct ply *ply = &roof->plies[seat];
        const double off = mark->x - roof_ply_x(ply, mark->y);
        const double room = ply->half - roof_kit(roof, mark->bracket)->lag_edge;
        errors.lo = fmax(errors.lo, off - room);
        errors.hi = fmin(errors.hi, off + room);
    }
    return errors;
}

static double chance_of(const struct errors *errors, double tolerance) {
    const double deviation = tolerance / DEVIATIONS;
    if (!(errors->lo <= errors->hi))
        return 0;
    if (!(deviation > 0))
        return errors->lo <= 0 && errors->hi >= 0 ? 1 : 0;
    return below(errors->hi / deviation) - below(errors->lo / deviation);
}

double compare_chance(const struct roof *roof, const struct marks *marks,
                      const struct verdict *verdict) {
    double chance = 1;
    for (size_t i = 0; i < marks->count; i++)
        if (marks->list[i].row != ROW_PIPE && verdict->seats[i].ply == SIZE_MAX)
            return 0; /* no wood to hit */
    for (size_t r = 0; r < roof->rafter_count; r++) {
        const struct errors errors = errors_that_hit(roof, marks, verdict, r);
        chance *= chance_of(&errors, roof->rafters[r].tolerance);
    }
    return chance;
}
