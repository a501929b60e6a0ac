/* Fleets for tests: seeded, of any size, a few kits shared by all. */
#ifndef RUDDLE_MADE_FLEET_H
#define RUDDLE_MADE_FLEET_H

#include "random_roof.h"

struct made_fleet {
    uint64_t seed;
    size_t count;
    int narrow; /* in a hundred: roofs whose windows seldom fit, so that they are mostly blocked */
    int faulty; /* in a hundred: surveys with something wrong */
    bool small; /* faces just large enough for a frame */
};

enum { MADE_FLEET_KITS = 6, MADE_FLEET_FOLDER = 100 /* roofs of one crew */ };

/* Writes FOLDER/kits/1.yaml and FOLDER/crew-0001/000001.yaml and so on; FOLDER must be there.
 * False if a file could not be written. */
bool made_fleet_write(const struct made_fleet *fleet, const char *folder);

#endif
