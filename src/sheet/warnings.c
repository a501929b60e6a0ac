#include "warnings.h"

#include <math.h>
#include <stdio.h>

/* True if a rafter runs under a frame somewhere between the frame's lower and upper edge. */
static bool runs_under(const struct rafter *rafter, const struct standing *standing,
                       const struct kit *kit) {
    double low = standing->y;
    double high = standing->y + kit->height;
    double from = fmin(roof_rafter_face_x(rafter, SIDE_NEAR, low),
                       roof_rafter_face_x(rafter, SIDE_NEAR, high));
    double to =
        fmax(roof_rafter_face_x(rafter, SIDE_FAR, low), roof_rafter_face_x(rafter, SIDE_FAR, high));
    return to > standing->x && from < standing->x + kit->width;
}

void warnings_tell(const struct roof *roof, const struct marks *marks, warnings_take *take,
                   void *taker) {
    for (size_t i = 0; i < roof->warning_count; i++) {
        take(taker, roof->warnings[i].text);
    }
    for (size_t i = 0; marks != NULL && i < roof->bracket_count; i++) {
        for (size_t j = 0; j < roof->rafter_count; j++) {
            char text[ROOF_NAME_MOST + 160];
            if (roof->rafters[j].sound ||
                !runs_under(&roof->rafters[j], &marks->brackets[i], roof_kit(roof, i))) {
                continue;
            }
            snprintf(text, sizeof text,
                     "Rafter %zu is not sound and lies under frame %s: ask a licensed engineer "
                     "before the frame goes up.",
                     j + 1, roof->brackets[i].name);
            take(taker, text);
        }
    }
}
