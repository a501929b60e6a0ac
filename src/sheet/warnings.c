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

static void tell_unsound(const struct roof *roof, const struct marks *marks, warnings_take *take,
                         void *taker) {
    for (size_t i = 0; i < roof->bracket_count; i++) {
        for (size_t j = 0; j < roof->rafter_count; j++) {
            char text[ROOF_NAME_MOST + 160];
            if (roof->rafters[j].sound ||
                !runs_under(&roof->rafters[j], &marks->brackets[i], roof_kit(roof, i))) {
                continue;
            }
            snprintf(text, sizeof text, "Rafter %zu %s and lies under frame %s: %s.", j + 1,
                     roof->rafters[j].awaits_probe ? "is not known well enough to take a lag"
                                                   : "is not sound",
                     roof->brackets[i].name,
                     roof->rafters[j].awaits_probe
                         ? "probe it, and lay out again"
                         : "ask a licensed engineer before the frame goes up");
            take(taker, text);
        }
    }
}

static void tell_overloaded(const struct strength *strength, warnings_take *take, void *taker) {
    for (size_t i = 0; i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        char text[240];
        if (item->kind != STRENGTH_RAFTER || !(item->ratio > 1)) {
            continue;
        }
        snprintf(text, sizeof text,
                 "Rafter %d comes to %.2f times the bending it may bear (%.2f before the frame), "
                 "under %s: ask a licensed engineer before anything is lifted.",
                 item->rafter + 1, item->ratio, item->before,
                 loads_combination(item->combination)->text);
        take(taker, text);
    }
}

void warnings_tell(const struct roof *roof, const struct marks *marks,
                   const struct strength *strength, warnings_take *take, void *taker) {
    for (size_t i = 0; i < roof->warning_count; i++) {
        take(taker, roof->warnings[i].text);
    }
    if (marks != NULL) {
        tell_unsound(roof, marks, take, taker);
    }
    if (strength != NULL) {
        tell_overloaded(strength, take, taker);
    }
}
