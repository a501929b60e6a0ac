/* Lumber tables; each with its source in lumber.h. */
#include "lumber.h"

#include <stdio.h>
#include <string.h>

/* Bending values are of grade no2.  Those of douglas-fir-larch, hem-fir, spruce-pine-fir and
 * southern pine from 2x6 up were read in transcriptions of the Supplement; the north and south
 * species and the southern pine 2x4 are from memory. */
static const struct {
    const char *word;
    double gravity;
    double bending_psi[LUMBER_SIZE_COUNT];
    bool sized; /* the bending value holds the size factor already */
} woods[SPECIES_COUNT] = {
    [SPECIES_DOUGLAS_FIR_LARCH] = {"douglas-fir-larch", 0.50, {900, 900, 900, 900, 900}, false},
    [SPECIES_DOUGLAS_FIR_LARCH_NORTH] = {"douglas-fir-larch-north",
                                         0.49,
                                         {850, 850, 850, 850, 850},
                                         false},
    [SPECIES_DOUGLAS_FIR_SOUTH] = {"douglas-fir-south", 0.46, {850, 850, 850, 850, 850}, false},
    [SPECIES_HEM_FIR] = {"hem-fir", 0.43, {850, 850, 850, 850, 850}, false},
    [SPECIES_SOUTHERN_PINE] = {"southern-pine", 0.55, {1100, 1000, 925, 800, 750}, true},
    [SPECIES_SPRUCE_PINE_FIR] = {"spruce-pine-fir", 0.42, {875, 875, 875, 875, 875}, false},
    [SPECIES_SPRUCE_PINE_FIR_SOUTH] = {"spruce-pine-fir-south",
                                       0.36,
                                       {775, 775, 775, 775, 775},
                                       false},
};

static const struct {
    const char *word;
    double depth_in, size_factor;
} sizes[LUMBER_SIZE_COUNT] = {[LUMBER_2X4] = {"2x4", 3.5, 1.5},
                              [LUMBER_2X6] = {"2x6", 5.5, 1.3},
                              [LUMBER_2X8] = {"2x8", 7.25, 1.2},
                              [LUMBER_2X10] = {"2x10", 9.25, 1.1},
                              [LUMBER_2X12] = {"2x12", 11.25, 1.0}};

const char *lumber_species_word(enum species species) {
    return woods[species].word;
}

const char *lumber_size_word(enum lumber_size size) {
    return sizes[size].word;
}

bool lumber_read_species(const char *word, enum species *species) {
    for (int i = 0; i < SPECIES_COUNT; i++) {
        if (strcmp(word, woods[i].word) == 0) {
            *species = (enum species)i;
            return true;
        }
    }
    return false;
}

bool lumber_read_size(const char *word, enum lumber_size *size) {
    for (int i = 0; i < LUMBER_SIZE_COUNT; i++) {
        if (strcmp(word, sizes[i].word) == 0) {
            *size = (enum lumber_size)i;
            return true;
        }
    }
    return false;
}

bool lumber_knows_grade(const char *word) {
    return strcmp(word, "no2") == 0;
}

/* Adds ", word" (or the first word alone) as far as it fits. */
static void add_word(char *text, size_t room, const char *word) {
    size_t used = strlen(text);
    if (used + 1 < room)
        (void)snprintf(text + used, room - used, "%s%s", used > 0 ? ", " : "", word);
}

const char *lumber_species_words(char *text, size_t room) {
    if (room > 0)
        text[0] = '\0';
    for (int i = 0; i < SPECIES_COUNT; i++)
        add_word(text, room, woods[i].word);
    return text;
}

const char *lumber_size_words(char *text, size_t room) {
    if (room > 0)
        text[0] = '\0';
    for (int i = 0; i < LUMBER_SIZE_COUNT; i++)
        add_word(text, room, sizes[i].word);
    return text;
}

double lumber_gravity(enum species species) {
    return woods[species].gravity;
}

double lumber_thickness_in(enum lumber_size size) {
    (void)size; /* every nominal 2 in is dressed to 1-1/2 */
    return 1.5;
}

double lumber_depth_in(enum lumber_size size) {
    return sizes[size].depth_in;
}

struct section lumber_section(double thickness_in, double depth_in) {
    return (struct section){
        .area_in2 = thickness_in * depth_in,
        .modulus_in3 = thickness_in * depth_in * depth_in / 6,
        .inertia_in4 = thickness_in * depth_in * depth_in * depth_in / 12,
    };
}

double lumber_bending_psi(enum species species, enum lumber_size size) {
    return woods[species].bending_psi[size];
}

double lumber_size_factor(enum species species, enum lumber_size size) {
    return woods[species].sized ? 1.0 : sizes[size].size_factor;
}

double lumber_duration_factor(enum duration duration) {
    static const double factors[DURATION_COUNT] = {
        [DURATION_PERMANENT] = 0.9,   [DURATION_TEN_YEARS] = 1.0, [DURATION_SNOW] = 1.15,
        [DURATION_SEVEN_DAYS] = 1.25, [DURATION_WIND] = 1.6,
    };
    return factors[duration];
}

double lumber_adjusted_bending_psi(enum species species, enum lumber_size size,
                                   enum duration duration, bool repetitive) {
    return lumber_bending_psi(species, size) * lumber_duration_factor(duration) *
           lumber_size_factor(species, size) * (repetitive ? LUMBER_REPETITIVE : 1.0);
}
