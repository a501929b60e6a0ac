/* Holds of a row that another one betters at one level: it takes no more lags, and leaves the
 * bracket and the line all that they leave.  On sistered rafters that is nearly all of them. */
#include "listing.h"

#include <stdlib.h>

/* The holds of a row that are there at the level, as spots of X and of the row's line. */
static size_t list_rooms(const struct stands *stands, enum row row, double level,
                         struct spot *rooms) {
    size_t count = 0;
    for (size_t i = 0; i < stands->hold_counts[row]; i++) {
        const struct hold *hold = &stands->holds[row][i];
        const struct spot room = {.x = band_at(&hold->x, level),
                                  .y = {hold->y[0] + level, hold->y[1] - level},
                                  .stand = i,
                                  .holes = hold->count};
        if (hold->cap >= level - BAND_TOUCH && interval_there(room.x) && interval_there(room.y))
            rooms[count++] = room;
    }
    return count;
}

bool *bettered_holds(const struct stands *stands, enum row row, double level) {
    const size_t holds = stands->hold_counts[row];
    bool *left_out = calloc(holds + 1, sizeof *left_out);
    struct spot *rooms = calloc(holds + 1, sizeof *rooms);
    if (!left_out || !rooms) {
        free(left_out);
        free(rooms);
        return NULL;
    }
    const size_t count = list_rooms(stands, row, level, rooms);
    for (size_t i = 0; i < count; i++)
        left_out[rooms[i].stand] = true;
    const size_t kept = spots_drop_bettered(NULL, level, rooms, count);
    for (size_t i = 0; i < kept; i++)
        left_out[rooms[i].stand] = false;
    free(rooms);
    return left_out;
}
