/* Marks: made, copied, ordered, freed. */
#include "marks.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum outcome marks_new(size_t bracket_count, size_t count, struct marks **marks) {
    struct marks *made = NULL;
    if (bracket_count > SIZE_MAX / sizeof *made->brackets || count > SIZE_MAX / sizeof *made->list)
        return OUTCOME_FAULT;
    made = calloc(1, sizeof *made);
    if (made == NULL)
        return OUTCOME_FAULT;
    made->brackets = calloc(bracket_count > 0 ? bracket_count : 1, sizeof *made->brackets);
    made->list = calloc(count > 0 ? count : 1, sizeof *made->list);
    if (made->brackets == NULL || made->list == NULL) {
        marks_free(made);
        return OUTCOME_FAULT;
    }
    made->bracket_count = bracket_count;
    made->count = count;
    *marks = made;
    return OUTCOME_DONE;
}

enum outcome marks_copy(const struct marks *marks, struct marks **copy) {
    struct marks *made = NULL;
    enum outcome outcome = marks_new(marks->bracket_count, marks->count, &made);
    if (outcome != OUTCOME_DONE)
        return outcome;
    memcpy(made->brackets, marks->brackets, marks->bracket_count * sizeof *marks->brackets);
    memcpy(made->list, marks->list, marks->count * sizeof *marks->list);
    *copy = made;
    return OUTCOME_DONE;
}

/* By bracket, row, pipe, x; then by y, so that the same marks always end in the same order. */
static int compare_marks(const void *left, const void *right) {
    const struct mark *a = left, *b = right;
    if (a->bracket != b->bracket)
        return a->bracket < b->bracket ? -1 : 1;
    if (a->row != b->row)
        return a->row < b->row ? -1 : 1;
    if (a->row == ROW_PIPE && a->pipe != b->pipe)
        return a->pipe < b->pipe ? -1 : 1;
    if (a->x < b->x || a->x > b->x)
        return a->x < b->x ? -1 : 1;
    return a->y < b->y ? -1 : a->y > b->y;
}

void marks_sort(struct marks *marks) {
    if (marks->count > 1)
        qsort(marks->list, marks->count, sizeof *marks->list, compare_marks);
}

void marks_free(struct marks *marks) {
    if (marks == NULL)
        return;
    free(marks->brackets);
    free(marks->list);
    free(marks);
}
