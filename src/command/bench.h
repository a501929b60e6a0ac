/* How a fleet's worker lays out one roof: the craft of `ruddle fleet`. */
#ifndef RUDDLE_BENCH_H
#define RUDDLE_BENCH_H

#include "command.h"
#include "fleet.h"

/* Its order is a struct options; what does not change a row is not looked at. */
struct fleet_craft bench_craft(const struct options *options);

/* The options that every row depends on, as text: what shards of one fleet must have in common. */
enum { BENCH_SETTINGS = 256 };
void bench_settings(const struct options *options, char text[BENCH_SETTINGS]);

#endif
