#include "in_spot.h"

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
