#include "places.h"

#include "check.h"
#include "length.h"
#include "read_back.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static double moved_of(const struct roof *roof, size_t bracket, const struct placed *placed) {
    return fabs(placed->x - roof->brackets[bracket].want_x) +
           fabs(placed->y - roof->brackets[bracket].want_y);
}

static double cost_of(const struct roof *roof, size_t bracket, const struct placed *placed) {
    return moved_of(roof, bracket, placed) + roof->hole_worth * (double)placed->spot.holes;
}

/* The marks of a bracket on its place. */
static bool read_place(const struct roof *roof, size_t b, const struct stands *stands, double level,
                       const struct placed *placed, struct layout *layout, size_t *next) {
    const struct stand *stand = &stands->list[placed->spot.stand];
    struct stood stood;
    double *x = calloc(stand->holes + 1, sizeof *x);
    if (!x)
        return false;
    stands_stand(stands, &placed->spot, level, (double[]){placed->x, placed->y}, &placed->rather,
                 &stood, x);
    struct standing *standing = &layout->marks->brackets[b];
    *standing = (struct standing){.x = placed->x, .y = placed->y};
    memcpy(standing->hardware, roof->brackets[b].hardware, sizeof standing->hardware);
    size_t at = 0;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *hold = &stands->holds[row][stand->holds[row]];
        layout->courses[b][row] = stood.course[row];
        for (size_t i = 0; i < hold->count; i++, (*next)++) {
            layout->marks->list[*next] = (struct mark){
                .bracket = b, .row = (enum row)row, .x = x[at++], .y = stood.line[row]};
            layout->plies[*next] = hold->lags[i].ply;
            layout->legs[*next] = roof->brackets[b].hardware[row] == HARDWARE_FEET ? i : SIZE_MAX;
        }
    }
    free(x);
    layout->bracket_forgiveness[b] = level;
    layout->moved += moved_of(roof, b, placed);
    return true;
}

/* A layout of all brackets on their places. */
bool places_read(const struct roof *roof, struct stands *const *stands, const double *levels,
                 const struct placed *placed, struct layout **layout) {
    struct layout *made = calloc(1, sizeof *made);
    size_t holes = 0, next = 0;
    for (size_t b = 0; b < roof->bracket_count; b++)
        holes += placed[b].spot.holes;
    bool good = made && room_for_answer(roof, made, holes);
    if (good)
        made->forgiveness = made->bound_forgiveness = INFINITY;
    for (size_t b = 0; b < roof->bracket_count && good; b++) {
        good = read_place(roof, b, stands[b], levels[b], &placed[b], made, &next);
        made->forgiveness = made->bound_forgiveness = fmin(made->forgiveness, levels[b]);
        made->bound_cost += cost_of(roof, b, &placed[b]);
    }
    if (!good) {
        layout_free(made);
        return false;
    }
    made->holes = holes;
    made->state = LAYOUT_PROVED;
    *layout = made;
    return true;
}

/* How much further apart two brackets had to be for a rule between them to leave both their levels;
 * rules between two lags or struts halve what they miss, so twice that. */
static void widen(const struct roof *roof, const struct layout *layout,
                  const struct finding *finding, places_room *before, places_room *wider) {
    const size_t a = (size_t)finding->bracket, b = (size_t)finding->other_bracket;
    const size_t low = a < b ? a : b, high = a < b ? b : a;
    const struct standing *one = &layout->marks->brackets[low];
    const struct standing *other = &layout->marks->brackets[high];
    const struct kit *kit = roof_kit(roof, low), *other_kit = roof_kit(roof, high);
    const double level = fmax(layout->bracket_forgiveness[low], layout->bracket_forgiveness[high]);
    const double along = fmax(other->x - one->x - kit->width, one->x - other->x - other_kit->width);
    const double up = fmax(other->y - one->y - kit->height, one->y - other->y - other_kit->height);
    double *room = &wider[along > up ? 0 : 1][low][high];
    if (!length_holds(finding->margin - level))
        *room = fmax(*room, before[along > up ? 0 : 1][low][high] + 2 * (level - finding->margin));
}

/* The pairs that a rule between them costs their levels; false without memory. */
static bool widen_all(const struct roof *roof, const struct layout *layout,
                      const struct verdict *verdict, places_room *wider) {
    places_room *before = malloc(2 * sizeof *before);
    if (!before)
        return false;
    memcpy(before, wider, 2 * sizeof *before);
    for (size_t i = 0; i < verdict->count; i++)
        if (verdict->findings[i].other_bracket != CHECK_NONE &&
            verdict->findings[i].other_bracket != verdict->findings[i].bracket)
            widen(roof, layout, &verdict->findings[i], before, wider);
    free(before);
    return true;
}

bool places_lower(const struct roof *roof, const struct verdict *verdict, struct layout *layout) {
    bool holds = true;
    for (size_t b = 0; b < roof->bracket_count; b++) {
        if (length_holds(verdict->forgiveness[b] - layout->bracket_forgiveness[b]))
            continue;
        holds = false;
        layout->bracket_forgiveness[b] = verdict->forgiveness[b];
        layout->forgiveness = fmin(layout->forgiveness, verdict->forgiveness[b]);
    }
    return holds;
}

enum outcome places_hold(const struct roof *roof, struct layout **layout, places_room *wider,
                         bool *holds) {
    struct verdict *verdict = NULL;
    const enum outcome outcome = check_marks(roof, (*layout)->marks, &verdict);
    if (outcome != OUTCOME_DONE)
        return outcome;
    if (wider && !widen_all(roof, *layout, verdict, wider)) {
        verdict_free(verdict);
        return OUTCOME_FAULT;
    }
    *holds = places_lower(roof, verdict, *layout);
    (*layout)->shortfall = verdict->shortfall;
    if (!length_holds(verdict->hard_least)) {
        *holds = false;
        layout_free(*layout);
        *layout = NULL;
    }
    verdict_free(verdict);
    return OUTCOME_DONE;
}
