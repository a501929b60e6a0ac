/* What the fuzz targets share.  Each target is one function that takes any bytes; libFuzzer makes
 * those up (run.sh), and replay.c feeds it the kept ones.
 */
#ifndef RUDDLE_TESTS_FUZZ_H
#define RUDDLE_TESTS_FUZZ_H

#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The target; its name is libFuzzer's.  Returns 0. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ends the process, saying what did not hold, where it does not: libFuzzer keeps the input. */
void fuzz_insist(bool holds, const char *what);

/* The bytes as a text that ends in a NUL; owned by the caller. */
char *fuzz_text(const uint8_t *data, size_t size);

/* The bytes as a file without a name.  Its path is written into `path`; close the descriptor that
 * comes back. */
enum { FUZZ_PATH = 32 };
int fuzz_file(const uint8_t *data, size_t size, char path[FUZZ_PATH]);

/* Whatever outcome a step had, it has said so: problems where, and only where, input was refused;
 * memory never ran out.  Prints the problems to nowhere and frees them. */
void fuzz_settle(enum outcome outcome, struct problems *problems);

/* The kit and the roofs of the targets that need one; the roofs name it `k`. */
extern const char fuzz_kit[];
extern const char fuzz_roof[];
extern const char fuzz_roof_piped[];

/* Builds a roof from texts; NULL where it was refused. */
struct roof *fuzz_build(const char *roof, const char *kit);

/* Lays out a small roof within a few steps of the solver, holds what comes of it against every rule
 * and tells it: sheet, table and JSON, which has to read back as the same marks.  Every sixteenth,
 * by its bytes, is drawn as well. */
void fuzz_lay_out(const struct roof *roof, const uint8_t *data, size_t size);

#endif
