/* Lengths as a tape shows them: read, rounded, printed; and the one tolerance of every rule.
 * All lengths inside the program are doubles in inches.
 */
#ifndef RUDDLE_LENGTH_H
#define RUDDLE_LENGTH_H

#include <stdbool.h>
#include <stddef.h>

enum measure { MEASURE_IN, MEASURE_MM }; /* what a bare number of a file counts in */

#define LENGTH_MM_PER_INCH 25.4      /* exact since 1959 */
#define LENGTH_TOLERANCE 1e-6        /* inches: a rule holds down to this much below zero */
#define LENGTH_MOST (10000.0 * 12.0) /* inches: nothing further away is a length */

/* Why a text is not a length (or a pitch, or a number). */
enum length_fault {
    LENGTH_GOOD,
    LENGTH_EMPTY,
    LENGTH_MALFORMED,   /* trailing words, nan, inf, hexadecimal, lone unit, two dots ... */
    LENGTH_COMMA,       /* a decimal comma */
    LENGTH_DENOMINATOR, /* a fraction over zero */
    LENGTH_TOO_FAR,     /* beyond 10 000 ft, or for a pitch outside its range */
    LENGTH_FAULT_COUNT
};

/* Reads a whole text as a length in inches: `14 5/8`, `14-5/8`, `6' 2-1/2"`, `6'2.5"`, `11/16`,
 * `7"`, `420 mm`, `0.42 m`, `-3 1/2`.  A bare number counts in `bare`; a fraction is inches in any
 * file.  Own digits only (no strtod): no locale, exponent or hexadecimal form can slip in.
 * *inches is written only when the result is LENGTH_GOOD.
 */
enum length_fault length_read(const char *text, enum measure bare, double *inches);

/* Reads a whole text as a plain decimal number (`190`, `0.5`, `-2`); same rules, no unit. */
enum length_fault length_read_number(const char *text, double *number);

/* Reads a pitch: `6/12` (rise over run), `26.57 deg`, or bare degrees; above 0, below 80 degrees.
 * *radians is written only when the result is LENGTH_GOOD.
 */
enum length_fault length_read_pitch(const char *text, double *radians);

/* The fault in words that finish "this is ..."; never NULL. */
const char *length_fault_text(enum length_fault fault);

/* True where a margin in inches keeps its rule: at least -LENGTH_TOLERANCE.  False for NaN. */
bool length_holds(double margin);

/* The very same figure. */
static inline bool length_same(double a, double b) {
    return !(a < b) && !(a > b);
}

/* The lesser and the greater of two figures, neither of them NaN.  fmin and fmax, which mind NaN,
 * are calls of the library; a search meets millions. */
static inline double length_lesser(double a, double b) {
    return a < b ? a : b;
}

static inline double length_greater(double a, double b) {
    return a > b ? a : b;
}

/* As results tell it: six decimals, and no minus before a zero.  1e9 and more, and what is no
 * number, stay as they are. */
double length_settled(double value);

/* The nearest whole number of ticks times the tick, half to even.  tick > 0. */
double length_to_tape(double inches, double tick);

/* Writes a length for people, rounded to the tape: inches as `64 5/8`, `0`, `-1/2`; with a tick
 * that is a whole number of millimetres in an mm file as `1626`.  Returns buffer.
 */
enum { LENGTH_TEXT = 40 };
const char *length_text(char buffer[LENGTH_TEXT], double inches, double tick, enum measure measure);

/* The same both ways, as a sheet shows a reading: `5' 4" (64)`, `9 1/2"`; mm: `1626 mm`. */
const char *length_reading(char buffer[LENGTH_TEXT], double inches, double tick,
                           enum measure measure);

#endif
