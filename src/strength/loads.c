/* Statics of a frame; the model is told in loads.h. */
#include "loads.h"

#include <math.h>

static const double SQUARE_INCHES = 144; /* in one square foot */

const struct combination_factors *loads_combination(enum combination combination) {
    static const struct combination_factors table[COMBINATION_COUNT] = {
        [COMBINATION_DEAD] = {"D, filled", 1, 0, 0, true, DURATION_PERMANENT},
        [COMBINATION_SNOW] = {"D + S, filled", 1, 1, 0, true, DURATION_SNOW},
        [COMBINATION_WIND] = {"D + 0.6W, filled", 1, 0, 0.6, true, DURATION_WIND},
        [COMBINATION_SNOW_WIND] = {"D + 0.75S + 0.75(0.6W), filled", 1, 0.75, 0.75 * 0.6, true,
                                   DURATION_WIND},
        [COMBINATION_EMPTY] = {"0.6D + 0.6W, empty", 0.6, 0, 0.6, false, DURATION_WIND},
    };
    return &table[combination];
}

static struct load upright(double weight_lb, double x, double v, double height, double pitch_rad) {
    return (struct load){.x_in = x,
                         .v_in = v,
                         .height_in = height,
                         .normal_lb = weight_lb * cos(pitch_rad),
                         .down_lb = weight_lb * sin(pitch_rad)};
}

struct load loads_weight(double weight_lb, const double centre_in[3], double pitch_rad) {
    return upright(weight_lb, centre_in[0], centre_in[1], centre_in[2], pitch_rad);
}

struct load loads_snow(const struct kit *kit, double snow_psf, double pitch_rad) {
    const double area_ft2 = kit->width * kit->height * cos(pitch_rad) / SQUARE_INCHES;
    return upright(snow_psf * area_ft2, kit->width / 2, kit->height / 2, kit->centre[2], pitch_rad);
}

struct load loads_wind(const struct kit *kit, double uplift_psf) {
    return (struct load){.x_in = kit->width / 2,
                         .v_in = kit->height / 2,
                         .normal_lb = -uplift_psf * kit->width * kit->height / SQUARE_INCHES};
}

/* Adds a row's force, which acts at x, to its legs. */
static void share(const struct kit *kit, double normal_lb, double down_lb, double x,
                  struct leg_force legs[]) {
    const double count = (double)kit->leg_count;
    double mean = 0, spread = 0;
    for (size_t i = 0; i < kit->leg_count; i++)
        mean += kit->legs[i] / count;
    for (size_t i = 0; i < kit->leg_count; i++)
        spread += (kit->legs[i] - mean) * (kit->legs[i] - mean);
    for (size_t i = 0; i < kit->leg_count; i++) {
        legs[i].normal_lb += normal_lb / count;
        if (spread > 0)
            legs[i].normal_lb += normal_lb * (x - mean) * (kit->legs[i] - mean) / spread;
        legs[i].down_lb += down_lb / count;
    }
}

void loads_add_to_legs(const struct kit *kit, const double v_in[ROW_COUNT], const struct load *load,
                       double factor, struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST]) {
    const double apart = v_in[ROW_TOP] - v_in[ROW_BOTTOM];
    const double normal = factor * load->normal_lb, down = factor * load->down_lb;
    const double top = (normal * (load->v_in - v_in[ROW_BOTTOM]) - down * load->height_in) / apart;
    share(kit, top, down / 2, load->x_in, legs[ROW_TOP]);
    share(kit, normal - top, down / 2, load->x_in, legs[ROW_BOTTOM]);
}

void loads_on_legs(const struct kit *kit, const double v_in[ROW_COUNT],
                   const struct frame_loads *frame, const struct combination_factors *factors,
                   struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST]) {
    const struct load dead = loads_weight(frame->dead_lb, frame->dead_centre_in, frame->pitch_rad);
    const struct load snow = loads_snow(kit, frame->snow_psf, frame->pitch_rad);
    const struct load wind = loads_wind(kit, frame->wind_psf);
    for (size_t row = 0; row < ROW_COUNT; row++)
        for (size_t i = 0; i < kit->leg_count; i++)
            legs[row][i] = (struct leg_force){0, 0};
    loads_add_to_legs(kit, v_in, &dead, factors->dead, legs);
    loads_add_to_legs(kit, v_in, &snow, factors->snow, legs);
    loads_add_to_legs(kit, v_in, &wind, factors->wind, legs);
}

/* The lever rule: `down` at a clamp goes to its neighbours in proportion to nearness. */
static void pass_down(const struct strut_line *strut, double clamp, double down,
                      struct leg_force lag_forces[]) {
    const double *lags = strut->lags_in;
    size_t right = 0; /* the first lag that is not left of the clamp */
    while (right < strut->lag_count && lags[right] < clamp)
        right++;
    if (right == 0) {
        lag_forces[0].down_lb += down;
    } else if (right == strut->lag_count) {
        lag_forces[right - 1].down_lb += down;
    } else {
        const double part = (clamp - lags[right - 1]) / (lags[right] - lags[right - 1]);
        lag_forces[right].down_lb += down * part;
        lag_forces[right - 1].down_lb += down * (1 - part);
    }
}

bool loads_through_strut(const struct strut_line *strut, const struct leg_force *legs,
                         struct leg_force *lag_forces, struct beam_answer *beam) {
    struct beam_point points[ROOF_LEGS_MOST];
    struct beam_answer answer;
    if (strut->leg_count > ROOF_LEGS_MOST)
        return false;
    for (size_t i = 0; i < strut->leg_count; i++)
        points[i] = (struct beam_point){strut->clamps_in[i], legs[i].normal_lb};
    const struct beam line = {.supports_in = strut->lags_in,
                              .support_count = strut->lag_count,
                              .points = points,
                              .point_count = strut->leg_count};
    if (!beam_solve(&line, &answer))
        return false;
    for (size_t i = 0; i < strut->lag_count; i++)
        lag_forces[i] = (struct leg_force){answer.reaction_lb[i], 0};
    for (size_t i = 0; i < strut->leg_count; i++)
        pass_down(strut, strut->clamps_in[i], legs[i].down_lb, lag_forces);
    if (beam)
        *beam = answer;
    return true;
}

double loads_foot_pull_lb(double normal_lb, double lag_to_leg_in, double toe_in,
                          double lag_factor) {
    if (!(normal_lb < 0))
        return 0;
    const double factor = lag_factor > 0 ? lag_factor : (fabs(lag_to_leg_in) + toe_in) / toe_in;
    return -normal_lb * factor;
}
