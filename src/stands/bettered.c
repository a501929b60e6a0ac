/* Holds of a row that another one betters at one level: it takes no more lags, and leaves the
 * bracket and the line all that they leave.  On sistered rafters that is nearly all of them. */
#include "listing.h"

#include <stdlib.h>

/* A hold as far as it matters at that level. */
struct room {
    struct interval x, y;
    size_t count, hold;
};

static int by_room(const void *a, const void *b) {
    const struct room *x = a, *y = b;
    const int along = interval_order(x->x, y->x), up = interval_order(x->y, y->y);
    if (along != 0 || up != 0)
        return along != 0 ? along : up;
    if (x->count != y->count)
        return x->count < y->count ? -1 : 1;
    return (x->hold > y->hold) - (x->hold < y->hold);
}

static bool betters(const struct room *one, const struct room *other) {
    return interval_holds(one->x, other->x) && interval_holds(one->y, other->y) &&
           one->count <= other->count;
}

/* The holds of a row that are there at the level, sorted so that what betters comes first. */
static size_t list_rooms(const struct stands *stands, enum row row, double level,
                         struct room *rooms) {
    size_t count = 0;
    for (size_t i = 0; i < stands->hold_counts[row]; i++) {
        const struct hold *hold = &stands->holds[row][i];
        const struct room room = {.x = band_at(&hold->x, level),
                                  .y = {hold->y[0] + level, hold->y[1] - level},
                                  .count = hold->count,
                                  .hold = i};
        if (hold->cap >= level - BAND_TOUCH && interval_there(room.x) && interval_there(room.y))
            rooms[count++] = room;
    }
    if (count > 0)
        qsort(rooms, count, sizeof *rooms, by_room);
    return count;
}

/* So many of the last that stayed are compared with: nearly all that is bettered is found. */
enum { LOOK_BACK = 64 };

bool *bettered_holds(const struct stands *stands, enum row row, double level) {
    const size_t holds = stands->hold_counts[row];
    bool *left_out = calloc(holds + 1, sizeof *left_out);
    struct room *rooms = calloc(holds + 1, sizeof *rooms);
    if (!left_out || !rooms) {
        free(left_out);
        free(rooms);
        return NULL;
    }
    const size_t count = list_rooms(stands, row, level, rooms);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        bool bettered = false;
        for (size_t back = 1; back <= LOOK_BACK && back <= kept && !bettered; back++)
            bettered = betters(&rooms[kept - back], &rooms[i]);
        left_out[rooms[i].hold] = bettered;
        if (!bettered)
            rooms[kept++] = rooms[i];
    }
    free(rooms);
    return left_out;
}
