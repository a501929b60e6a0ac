/* A few rules at one place, for a search over readings: no allocation, nothing remembered. */
#include "rules.h"

#include <math.h>

static const struct least nothing = {.counted = INFINITY, .hard = INFINITY, .shortfall = 0};

static void count_in(struct least *least, double found) {
    double margin = check_finite(found);
    least->counted = check_lesser(least->counted, margin);
    least->shortfall += check_greater(0, -margin);
}

/* wood and foot-reach. */
static void count_lag(struct least *least, const struct roof *roof, const struct standing *standing,
                      const struct mark *mark, size_t leg) {
    const struct kit *kit = roof_kit(roof, mark->bracket);
    count_in(least, check_wood(roof, mark, check_best_ply(roof, mark)));
    if (standing->hardware[mark->row] == HARDWARE_FEET && leg < kit->leg_count) {
        enum side side;
        double slip = check_slip(kit, leg, mark->x - standing->x, &side);
        count_in(least, kit->foot_slot - fabs(slip));
    }
}

struct least check_one_mark(const struct roof *roof, const struct standing *standing,
                            const struct mark *mark, size_t leg) {
    const struct flashing *flashing = check_mark_flashing(roof, mark);
    struct box box = check_flashing_box(roof, mark);
    const struct on_course alone = {.list = mark, .count = 1, .flashing = flashing};
    size_t course = check_best_course(roof, &alone);
    struct course_margins margins = check_course(roof, flashing, course, mark->y);
    struct least least = nothing;
    count_in(&least, margins.edge);
    count_in(&least, margins.block);
    count_in(&least, margins.lap);
    count_in(&least, check_joints(roof, flashing, course, mark->x));
    for (size_t i = 0; i < roof->vent_count; i++)
        count_in(&least, check_vent_flashing(&roof->vents[i], &box));
    count_in(&least, check_inside(roof, &box, false));
    if (mark->row == ROW_PIPE) {
        count_in(&least, check_bay(roof, mark));
        count_in(&least, check_pipe_reach(&roof->pipes[mark->pipe], standing, mark));
    } else {
        count_lag(&least, roof, standing, mark, leg);
    }
    return least;
}

struct least check_one_bracket(const struct roof *roof, size_t bracket,
                               const struct standing *standing) {
    const struct kit *kit = roof_kit(roof, bracket);
    struct box box = check_bracket_box(roof, bracket, standing);
    struct least least = nothing;
    count_in(&least, check_inside(roof, &box, true));
    for (size_t i = 0; i < roof->vent_count; i++)
        if (check_vent_minds(&roof->vents[i], kit))
            count_in(&least, check_vent_bracket(&roof->vents[i], &box));
    return least;
}

struct least check_one_row(const struct roof *roof, size_t bracket, const struct standing *standing,
                           enum row row, double y) {
    const struct kit *kit = roof_kit(roof, bracket);
    double up = y - standing->y;
    struct least least = nothing;
    count_in(&least, check_row(kit, row, up));
    if (row == ROW_BOTTOM)
        count_in(&least, check_clearance(kit, standing->hardware[row], up));
    return least;
}
