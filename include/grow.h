/* Lists that grow. */
#ifndef RUDDLE_GROW_H
#define RUDDLE_GROW_H

#include <stddef.h>

/* Sees to room for one more behind `count` entries of `size` bytes: a full list gets twice its
 * room. The list, mostly somewhere else then; NULL without memory, and the list is what it was. */
void *grow_list(void *list, size_t *room, size_t count, size_t size);

#endif
