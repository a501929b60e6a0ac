/* Fit: which brackets of a roof can stand on its face together, every counted rule held. */
#ifndef RUDDLE_FIT_H
#define RUDDLE_FIT_H

#include "layout.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* Brackets that cannot stand together though any of them left out the rest can; a single one cannot
 * stand there at all. */
struct fit_clash {
    bool with[ROOF_BRACKETS_MOST];
    size_t count;
};

enum { FIT_CLASHES_MOST = 8 };

struct fit {
    size_t bracket_count;
    char names[ROOF_BRACKETS_MOST][ROOF_NAME_MOST + 1];
    bool kept[ROOF_BRACKETS_MOST]; /* as many as can stand together; of several such sets the one
                                      that keeps the earlier brackets of the file */
    size_t count;                  /* of those kept */
    bool proved;                   /* that no more can, nor as many with earlier ones */
    struct fit_clash clashes[FIT_CLASHES_MOST]; /* the smallest sets; of a bracket that is left off,
                                                   one with those kept at the least */
    size_t clash_count;
    struct layout *layout; /* owned: one of those kept, as if they were all of the roof's, that
                              obeys every rule; NULL: none is at hand */
};

/* Finds it.  options: the limit, and steps; what strength forbids is not looked at.  FAULT: as
 * layout_find.  Freed with fit_free, which may be called again. */
enum outcome fit_find(const struct roof *roof, const struct layout_options *options,
                      struct fit *fit, struct problems *problems);

void fit_free(struct fit *fit);

#endif
