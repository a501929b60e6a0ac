/* Lumber: species, dressed sizes and the bending stress that a rafter may carry.
 *
 * Sources: National Design Specification for Wood Construction (NDS), 2018 edition, and its
 * Supplement (reference design values); Product Standard PS 20 for dressed sizes.  These figures
 * screen a roof; they certify nothing, and another edition may be the law where the roof stands.
 */
#ifndef RUDDLE_LUMBER_H
#define RUDDLE_LUMBER_H

#include <stdbool.h>
#include <stddef.h>

enum species {
    SPECIES_DOUGLAS_FIR_LARCH,
    SPECIES_DOUGLAS_FIR_LARCH_NORTH,
    SPECIES_DOUGLAS_FIR_SOUTH,
    SPECIES_HEM_FIR,
    SPECIES_SOUTHERN_PINE,
    SPECIES_SPRUCE_PINE_FIR,
    SPECIES_SPRUCE_PINE_FIR_SOUTH,
    SPECIES_COUNT
};

enum lumber_size {
    LUMBER_2X4,
    LUMBER_2X6,
    LUMBER_2X8,
    LUMBER_2X10,
    LUMBER_2X12,
    LUMBER_SIZE_COUNT
};

/* The specific gravity to reckon with where nobody knows the wood: the lightest species here. */
#define LUMBER_UNKNOWN_GRAVITY 0.36

/* What counts as close enough to share load, centre to centre (NDS 4.3.9), and the factor. */
#define LUMBER_SHARING_IN 24.0
#define LUMBER_REPETITIVE 1.15

/* The words of a file: "douglas-fir-larch", "2x6"; never NULL for a value of the enum. */
const char *lumber_species_word(enum species species);
const char *lumber_size_word(enum lumber_size size);

/* Reads such a word.  false: unknown, and the result is untouched. */
bool lumber_read_species(const char *word, enum species *species);
bool lumber_read_size(const char *word, enum lumber_size *size);

/* The one grade whose values are held here, "no2".  A better grade is on the safe side of it. */
bool lumber_knows_grade(const char *word);

/* Every species word (or size word), parted by commas, for an error message: cut to fit, always
 * ended by NUL.  Returns text. */
const char *lumber_species_words(char *text, size_t room);
const char *lumber_size_words(char *text, size_t room);

/* Oven-dry specific gravity.  NDS 2018 Table 12.3.3A. */
double lumber_gravity(enum species species);

/* Dressed, dry.  PS 20 Table 3. */
double lumber_thickness_in(enum lumber_size size);
double lumber_depth_in(enum lumber_size size);

/* Of one ply on edge: area b d (in2), section modulus b d^2 / 6 (in3), second moment b d^3 / 12
 * (in4).  The ply's real thickness is the survey's. */
struct section {
    double area_in2, modulus_in3, inertia_in4;
};
struct section lumber_section(double thickness_in, double depth_in);

/* Reference bending value of grade no2, psi, dry.  NDS Supplement 2018, Table 4A; southern pine
 * Table 4B, where it depends on the size. */
double lumber_bending_psi(enum species species, enum lumber_size size);

/* C_F on bending.  NDS Supplement Table 4A; 1 for southern pine, whose table holds it already. */
double lumber_size_factor(enum species species, enum lumber_size size);

/* How long a load lasts: C_D of NDS 2018 Table 2.3.2; the shortest of a combination counts. */
enum duration {
    DURATION_PERMANENT,  /* 0.9 */
    DURATION_TEN_YEARS,  /* 1.0 */
    DURATION_SNOW,       /* 1.15, two months */
    DURATION_SEVEN_DAYS, /* 1.25 */
    DURATION_WIND,       /* 1.6, ten minutes; also earthquake */
    DURATION_COUNT
};
double lumber_duration_factor(enum duration duration);

/* Adjusted bending value F'b = Fb C_D C_F C_r, psi.  NDS 2018 Table 4.3.1; dry, normal heat, held
 * against turning over by its sheathing (C_M = C_t = C_L = 1). */
double lumber_adjusted_bending_psi(enum species species, enum lumber_size size,
                                   enum duration duration, bool repetitive);

#endif
