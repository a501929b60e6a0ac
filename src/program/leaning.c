/* Rafters that do not run square to the eave, or not the whole way up, as rows.
 */
#include "parts.h"

#include <math.h>
#include <stdlib.h>

struct linear ply_x(const struct parts *parts, size_t ply, size_t y) {
    const struct ply *target = &parts->roof->plies[ply];
    struct linear x = linear_of(target->at);
    return target->lean < 0 || target->lean > 0 ? linear_plus(x, y, target->lean) : x;
}

size_t *share_height(struct parts *parts, const size_t *ways, const struct line *lines,
                     size_t count, size_t y) {
    struct program *program = parts->program;
    bool leans = false;
    for (size_t i = 0; i < count; i++)
        leans |= lines[i].lean < 0 || lines[i].lean > 0;
    if (!leans || program->failed)
        return NULL;
    size_t *shares = calloc(count, sizeof *shares);
    if (!shares) {
        program->failed = true;
        return NULL;
    }
    double lo = program->columns[y].lo, hi = program->columns[y].hi;
    for (size_t i = 0; i < count; i++) {
        shares[i] = program_column(program, fmin(0, lo), fmax(0, hi), false, "height_%zu",
                                   program->column_count);
        struct linear share = linear_plus(linear_of(0), shares[i], 1);
        program_require(program, linear_plus(share, ways[i], -lo));
        program_require(program, linear_sum(linear_plus(linear_of(0), ways[i], hi), share, -1));
    }
    program_row(program, 0, true);
    program_term(program, y, -1);
    for (size_t i = 0; i < count; i++)
        program_term(program, shares[i], 1);
    return shares;
}

void add_lines(struct parts *parts, const size_t *ways, const struct line *lines, size_t count,
               const size_t *shares, double factor) {
    for (size_t i = 0; i < count; i++) {
        program_term(parts->program, ways[i], factor * lines[i].at);
        if (shares && (lines[i].lean < 0 || lines[i].lean > 0))
            program_term(parts->program, shares[i], factor * lines[i].lean);
    }
}

bool limited_along(const struct parts *parts, size_t ply, size_t y) {
    const struct roof *roof = parts->roof;
    const struct column *height = &parts->program->columns[y];
    const double *reach = roof->plies[ply].reach;
    if (parts->program->failed)
        return false;
    double most = levels_most(parts);
    if (height->lo - reach[0] < most || reach[1] - height->hi < most)
        return true;
    for (size_t k = 0; k < roof->keepout_count; k++)
        if (roof->keepouts[k].rafter == roof->plies[ply].rafter)
            return true;
    return false;
}

void hold_along(struct parts *parts, size_t ply, size_t y, size_t level, size_t used) {
    struct program *program = parts->program;
    const struct roof *roof = parts->roof;
    const double *reach = roof->plies[ply].reach;
    struct linear up = linear_plus(linear_plus(linear_of(0), y, 1), level, -1);
    struct linear down = linear_plus(linear_plus(linear_of(0), y, -1), level, -1);
    if (reach[0] > -ROOF_ENDLESS)
        program_require_when(program, linear_sum(up, linear_of(reach[0]), -1), &used, 1);
    if (reach[1] < ROOF_ENDLESS)
        program_require_when(program, linear_sum(down, linear_of(reach[1]), 1), &used, 1);
    for (size_t k = 0; k < roof->keepout_count; k++) {
        const struct keepout *keepout = &roof->keepouts[k];
        if (keepout->rafter != roof->plies[ply].rafter)
            continue;
        size_t ways[2] = {
            program_choice(program, linear_sum(down, linear_of(keepout->y0), 1), "below"),
            program_choice(program, linear_sum(up, linear_of(keepout->y1), -1), "above")};
        program_one_of(program, ways, 2, &used, 1);
    }
}
