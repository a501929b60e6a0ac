#include "closed_form.h"

#include "brute_force.h"
#include "layout.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>

#include <cmocka.h>

#define SAME 1e-6 /* inches */

struct roof *uncapped_roof(struct plain_knobs knobs, enum hardware hardware) {
    knobs.hardware[ROW_TOP] = knobs.hardware[ROW_BOTTOM] = hardware;
    struct roof *roof = plain_roof(&knobs);
    roof->enough = 1;
    return roof;
}

/* Trying every choice is left to a run that is not asked to be quick. */
static void expect_by_trying(const struct roof *roof, const char *what, double parameter,
                             double wanted) {
    struct brute_answer best;
    if (getenv("RUDDLE_ROOFS") != NULL)
        return;
    if (!brute_force(roof, &best) || !best.possible)
        fail_msg("%s %g: cannot try every choice", what, parameter);
    if (!(fabs(best.forgiveness[0] - wanted) <= SAME))
        fail_msg("%s %g: by trying all %.9g, by hand %.9g", what, parameter, best.forgiveness[0],
                 wanted);
}

void expect_forgiveness(const struct roof *roof, const char *what, double parameter,
                        double wanted) {
    const struct layout_options options = {.limit_s = 60};
    struct problems problems = {0};
    struct layout *layout = NULL;
    if (layout_find(roof, &options, &layout, &problems) != OUTCOME_DONE)
        fail_msg("%s %g: fault", what, parameter);
    problems_free(&problems);
    if (layout->state != LAYOUT_PROVED)
        fail_msg("%s %g: not proved", what, parameter);
    if (!(fabs(layout->forgiveness - wanted) <= SAME))
        fail_msg("%s %g: forgiveness %.9g, by hand %.9g", what, parameter, layout->forgiveness,
                 wanted);
    expect_by_trying(roof, what, parameter, wanted);
    layout_free(layout);
}
