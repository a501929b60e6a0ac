/* How a fleet's worker lays out one roof: the craft of `ruddle fleet`. */
#ifndef RUDDLE_CRAFT_H
#define RUDDLE_CRAFT_H

#include "command.h"
#include "fleet.h"

/* Its order is a struct options; what does not change a row is not looked at. */
struct fleet_craft craft_of_fleet(const struct options *options);

/* The options that every row depends on, as text: what shards of one fleet must have in common. */
enum { CRAFT_SETTINGS = 256 };
void craft_settings(const struct options *options, char text[CRAFT_SETTINGS]);

#endif
