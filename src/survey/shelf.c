#include "shelf.h"

#include "document.h"
#include "grow.h"

#include <stdlib.h>
#include <string.h>

/* Once that many kits are there, the next roof finds an empty shelf: memory does not grow with the
 * number of kits, and a fleet has few. */
enum { SHELF_FULL = 64 };

struct survey_shelf {
    struct survey_kit_file *list; /* owned */
    size_t count, room;
};

struct survey_shelf *survey_shelf_new(void) {
    return calloc(1, sizeof(struct survey_shelf));
}

static void clear(struct survey_shelf *shelf) {
    for (size_t i = 0; i < shelf->count; i++) {
        survey_kit_file_free(&shelf->list[i]);
    }
    shelf->count = 0;
}

void survey_shelf_free(struct survey_shelf *shelf) {
    if (shelf != NULL) {
        clear(shelf);
        free(shelf->list);
        free(shelf);
    }
}

void shelf_make_room(struct survey_shelf *shelf) {
    if (shelf != NULL && shelf->count >= SHELF_FULL) {
        clear(shelf);
    }
}

const struct survey_kit_file *shelf_find(const struct survey_shelf *shelf, const char *path) {
    for (size_t i = 0; shelf != NULL && i < shelf->count; i++) {
        if (strcmp(shelf->list[i].path, path) == 0) {
            return &shelf->list[i];
        }
    }
    return NULL;
}

bool shelf_put(struct survey_shelf *shelf, struct survey_kit_file *file) {
    struct survey_kit_file *list =
        grow_list(shelf->list, &shelf->room, shelf->count, sizeof *shelf->list);
    if (list == NULL) {
        return false;
    }
    shelf->list = list;
    shelf->list[shelf->count++] = *file;
    file->shelved = true;
    return true;
}
