#include "compare.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How many of each part a layout takes. */
static void count_parts(struct compared *choice) {
    const struct carried *carried = &choice->carried;
    for (size_t b = 0; b < choice->roof.bracket_count; b++) {
        const struct kit *kit = roof_kit(&choice->roof, b);
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            const struct row_seat *seat = &carried->verdict->rows[b][row];
            if (choice->hardware[row] == HARDWARE_FEET) {
                choice->feet += kit->leg_count;
                continue;
            }
            choice->struts++;
            choice->clamps += kit->leg_count;
            choice->strut_in += seat->to - seat->from;
        }
    }
    for (size_t i = 0; i < carried->marks->count; i++) {
        if (carried->marks->list[i].row == ROW_PIPE)
            choice->pipe_holes++;
        else
            choice->lags++;
    }
}

static bool has_prices(const struct roof *roof) {
    for (size_t b = 0; b < roof->bracket_count; b++)
        if (!roof_kit(roof, b)->has_prices)
            return false;
    return true;
}

/* Everything that is counted above, at the prices of its frame's kit. */
static double cost_of(const struct compared *choice) {
    const struct carried *carried = &choice->carried;
    double cost = 0;
    for (size_t b = 0; b < choice->roof.bracket_count; b++) {
        const struct kit *kit = roof_kit(&choice->roof, b);
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            const struct row_seat *seat = &carried->verdict->rows[b][row];
            const double legs = (double)kit->leg_count;
            cost += choice->hardware[row] == HARDWARE_FEET
                        ? legs * kit->price_foot
                        : legs * kit->price_clamp + (seat->to - seat->from) * kit->price_strut_in;
        }
    }
    for (size_t i = 0; i < carried->marks->count; i++) {
        const struct mark *mark = &carried->marks->list[i];
        const struct kit *kit = roof_kit(&choice->roof, mark->bracket);
        cost += mark->row == ROW_PIPE ? 0 : kit->price_lag + kit->price_flashing;
    }
    return cost;
}

static enum outcome lay_out(const struct roof *roof, const struct layout_options *options,
                            enum side from, struct compared *choice, struct problems *problems) {
    choice->brackets = calloc(roof->bracket_count, sizeof *choice->brackets);
    if (!choice->brackets)
        return OUTCOME_FAULT;
    memcpy(choice->brackets, roof->brackets, roof->bracket_count * sizeof *choice->brackets);
    for (size_t b = 0; b < roof->bracket_count; b++)
        memcpy(choice->brackets[b].hardware, choice->hardware, sizeof choice->hardware);
    choice->roof = *roof;
    choice->roof.brackets = choice->brackets;
    choice->chance = NAN;
    choice->cost = NAN;
    const enum outcome outcome =
        carry_find(&choice->roof, options, from, &choice->carried, problems);
    if (outcome != OUTCOME_DONE || !choice->carried.marks)
        return outcome;
    const struct carried *carried = &choice->carried;
    choice->works = carried->verdict->holds && (!carried->strength || carried->strength->carries);
    choice->chance = compare_chance(&choice->roof, carried->marks, carried->verdict);
    count_parts(choice);
    if (has_prices(roof))
        choice->cost = cost_of(choice);
    return OUTCOME_DONE;
}

void compare_free(struct comparison *comparison) {
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        carried_free(&comparison->choices[i].carried);
        free(comparison->choices[i].brackets);
        comparison->choices[i].brackets = NULL;
    }
}

enum outcome compare_find(const struct roof *roof, double limit_s, enum side from,
                          struct comparison *comparison, struct problems *problems) {
    static const enum hardware hardware[COMPARE_CHOICES][ROW_COUNT] = {
        {HARDWARE_STRUT, HARDWARE_FEET},
        {HARDWARE_STRUT, HARDWARE_STRUT},
        {HARDWARE_FEET, HARDWARE_FEET},
        {HARDWARE_FEET, HARDWARE_STRUT}};
    const struct layout_options options = {.limit_s = limit_s / COMPARE_CHOICES};
    struct comparison made = {.limit_s = options.limit_s};
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < COMPARE_CHOICES && outcome == OUTCOME_DONE; i++) {
        memcpy(made.choices[i].hardware, hardware[i], sizeof hardware[i]);
        outcome = lay_out(roof, &options, from, &made.choices[i], problems);
    }
    if (outcome == OUTCOME_DONE)
        *comparison = made;
    else
        compare_free(&made);
    return outcome;
}
