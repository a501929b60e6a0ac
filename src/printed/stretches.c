#include "stretches.h"

#include "grow.h"

#include <stdlib.h>

#define FEW_WORDS 70.0 /* points: of a step that hardly has more than its words */

static bool make_room(struct stretches *stretches) {
    struct stretch *list =
        grow_list(stretches->list, &stretches->room, stretches->count, sizeof *stretches->list);
    stretches->list = list != NULL ? list : stretches->list;
    return list != NULL;
}

enum outcome stretches_begin(struct stretches *stretches, bool step, double y) {
    const bool joined = stretches->open;
    stretches_end(stretches, y);
    if (!make_room(stretches)) {
        return OUTCOME_FAULT;
    }
    if (joined) {
        stretches->list[stretches->count - 1].joined = true;
    }
    stretches->list[stretches->count++] = (struct stretch){.step = step};
    stretches->open = true;
    stretches->top = y;
    return OUTCOME_DONE;
}

void stretches_end(struct stretches *stretches, double y) {
    if (stretches->open) {
        stretches->list[stretches->count - 1].height = y - stretches->top;
        stretches->open = false;
    }
}

double stretches_height(const struct stretches *stretches, size_t at) {
    if (at >= stretches->count) {
        return 0;
    }
    const struct stretch *first = &stretches->list[at];
    const bool with_next =
        first->step && first->joined && !first[1].step && first->height <= FEW_WORDS;
    return first->height + (with_next ? first[1].height : 0);
}

void stretches_free(struct stretches *stretches) {
    free(stretches->list);
    *stretches = (struct stretches){0};
}
