#include "in_spot.h"

#include "check.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

struct marks *marks_in_spot(const struct stands *stands, const struct spot *spot, double level,
                            const double at[2], const struct rather *rather) {
    const struct stand *stand = &stands->list[spot->stand];
    struct marks *marks = NULL;
    struct stood stood;
    double *lags = calloc(spot->holes, sizeof *lags);
    assert_non_null(lags);
    assert_int_equal(marks_new(1, spot->holes, &marks), OUTCOME_DONE);
    stands_stand(stands, spot, level, at, rather, &stood, lags);
    marks->brackets[0] = (struct standing){.x = at[0], .y = at[1]};
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        marks->brackets[0].hardware[row] = stands->roof->brackets[0].hardware[row];
    const size_t tops = stands->holds[ROW_TOP][stand->holds[ROW_TOP]].count;
    for (size_t i = 0; i < spot->holes; i++) {
        const enum row row = i < tops ? ROW_TOP : ROW_BOTTOM;
        marks->list[i] = (struct mark){.row = row, .x = lags[i], .y = stood.line[row]};
    }
    free(lags);
    return marks;
}

#define SAME 1e-6 /* inches */

/* All four corners of a spot. */
static void hold_corners(const struct stands *stands, const struct spot *spot, double level,
                         uint64_t seed) {
    for (int corner = 0; corner < 4; corner++) {
        struct verdict *verdict = NULL;
        const double at[2] = {corner % 2 == 0 ? spot->x.lo : spot->x.hi,
                              corner / 2 == 0 ? spot->y.lo : spot->y.hi};
        struct marks *marks = marks_in_spot(stands, spot, level, at, NULL);
        assert_int_equal(check_marks(stands->roof, marks, &verdict), OUTCOME_DONE);
        if (!(verdict->forgiveness[0] >= level - SAME) || !(verdict->hard_least >= -SAME))
            fail_msg("seed %llu: %g at a corner of a spot of level %g, hard rules %g",
                     (unsigned long long)seed, verdict->forgiveness[0], level, verdict->hard_least);
        verdict_free(verdict);
        marks_free(marks);
    }
}

size_t hold_spots(const struct stands *stands, double level, uint64_t seed) {
    struct spot *spots = NULL;
    size_t count = 0;
    assert_int_equal(stands_at(stands, level, true, &spots, &count), OUTCOME_DONE);
    const size_t step = 1 + count / 40; /* enough of them */
    for (size_t i = 0; i < count; i += step)
        hold_corners(stands, &spots[i], level, seed);
    free(spots);
    return count;
}
