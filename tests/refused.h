/* Files that must be refused, and the faults that are wanted of them. */
#ifndef RUDDLE_TESTS_REFUSED_H
#define RUDDLE_TESTS_REFUSED_H

#include "problem.h"

#include <stddef.h>

/* One fault that is wanted; texts are as in struct problem, `wanted` any part of it. */
struct fault {
    int line;
    const char *key, *found, *wanted;
};

/* This problem is that fault. */
void expect_fault(const struct problem *problem, const struct fault *fault);

/* Reads a roof, or a layout where its name says so (survey_layout_...): it must be refused, and
 * nothing handed on. */
void read_refused(const char *path, struct problems *problems);

/* The same, with exactly these faults. */
void expect_faults(const char *path, const struct fault *faults, size_t count);

#endif
