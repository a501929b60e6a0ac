#include "grow.h"

#include <stdint.h>
#include <stdlib.h>

enum { ROOM_FIRST = 8 };

void *grow_list(void *list, size_t *room, size_t count, size_t size) {
    if (count < *room)
        return list;
    const size_t wanted = *room > 0 ? 2 * *room : ROOM_FIRST;
    void *larger = wanted > SIZE_MAX / size ? NULL : realloc(list, wanted * size);
    if (larger)
        *room = wanted;
    return larger;
}
