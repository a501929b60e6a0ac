/* Lengths rounded to the tape, and written for people. */
#include "length.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>

/* inches / tick to the nearest whole number, half to even.  A quotient that misses a half by
 * rounding alone (as 12.5 mm over a tick of 1 mm may, both kept in inches) counts as that half. */
static double whole_ticks(double inches, double tick) {
    assert(tick > 0);
    const double ticks = inches / tick;
    const double below = floor(ticks);
    const double over = ticks - below;
    if (fabs(over - 0.5) <= 1e-12 * fmax(1, fabs(ticks))) {
        return fmod(below, 2) == 0 ? below : below + 1;
    }
    return over < 0.5 ? below : below + 1;
}

double length_to_tape(double inches, double tick) {
    return whole_ticks(inches, tick) * tick;
}

/* A whole number of ticks, split for printing. */
struct printed {
    bool negative;
    bool binary;   /* the tick is 1/denominator: a fraction is printed */
    int64_t whole; /* inches */
    int64_t over;  /* numerator, 0 where whole is all */
    int64_t under; /* its reduced denominator */
    double size;   /* all of it, without its sign, in the unit printed */
    int places;    /* decimals that the tick needs */
};

/* Decimals that show every multiple of a tick; at most 6. */
static int places_for(double tick) {
    int places = 0;
    double scaled = tick;
    while (places < 6 && fabs(scaled - round(scaled)) > 1e-9) {
        scaled *= 10;
        places++;
    }
    return places;
}

/* The denominator of a tick such as 1/16; 0 if it is no such fraction of an inch. */
static int64_t binary_denominator(double tick) {
    int power = 0;
    if (frexp(tick, &power) != 0.5 || power > 1 || power < -9) {
        return 0;
    }
    return INT64_C(1) << (1 - power);
}

static struct printed split(double inches, double tick, enum measure measure) {
    const double ticks = whole_ticks(inches, tick);
    const double unit = measure == MEASURE_MM ? LENGTH_MM_PER_INCH : 1;
    struct printed printed = {
        .negative = ticks < 0,
        .size = fabs(ticks) * (tick * unit),
        .places = places_for(tick * unit),
        .under = measure == MEASURE_MM ? 0 : binary_denominator(tick),
    };
    printed.binary = printed.under != 0;
    if (printed.binary) {
        const int64_t count = (int64_t)fabs(ticks);
        printed.whole = count / printed.under;
        printed.over = count % printed.under;
        while (printed.over != 0 && printed.over % 2 == 0) {
            printed.over /= 2;
            printed.under /= 2;
        }
    }
    return printed;
}

/* Writes a decimal without zeros at its end. */
static void write_decimal(char *buffer, size_t room, double value, int places) {
    const int length = snprintf(buffer, room, "%.*f", places, value);
    if (places == 0 || length < 0 || (size_t)length >= room) {
        return;
    }
    size_t end = (size_t)length;
    while (buffer[end - 1] == '0') {
        end--;
    }
    if (buffer[end - 1] == '.') {
        end--;
    }
    buffer[end] = '\0';
}

/* Writes whole inches and a fraction: `64 5/8`, `5/8`, `64`.  With feet before it a zero stays:
 * `0 5/8`. */
static void write_fraction(char *buffer, size_t room, int64_t whole, const struct printed *printed,
                           bool after_feet) {
    if (printed->over == 0) {
        snprintf(buffer, room, "%" PRId64, whole);
    } else if (whole == 0 && !after_feet) {
        snprintf(buffer, room, "%" PRId64 "/%" PRId64, printed->over, printed->under);
    } else {
        snprintf(buffer, room, "%" PRId64 " %" PRId64 "/%" PRId64, whole, printed->over,
                 printed->under);
    }
}

/* False, and a question mark in the buffer, for what no tape can show. */
static bool printable(char buffer[LENGTH_TEXT], double inches, double tick) {
    if (fabs(inches) <= 10 * LENGTH_MOST && tick > 1e-6) {
        return true;
    }
    snprintf(buffer, LENGTH_TEXT, "?");
    return false;
}

const char *length_text(char buffer[LENGTH_TEXT], double inches, double tick,
                        enum measure measure) {
    char size[LENGTH_TEXT - 1];
    if (!printable(buffer, inches, tick)) {
        return buffer;
    }
    const struct printed printed = split(inches, tick, measure);
    if (printed.binary) {
        write_fraction(size, sizeof size, printed.whole, &printed, false);
    } else {
        write_decimal(size, sizeof size, printed.size, printed.places);
    }
    snprintf(buffer, LENGTH_TEXT, "%s%s", printed.negative ? "-" : "", size);
    return buffer;
}

/* Writes the feet and inches of a reading of a foot or more: `5' 4 5/8`. */
static void write_feet(char *buffer, size_t room, const struct printed *printed) {
    char rest[LENGTH_TEXT / 2];
    int64_t feet = printed->whole / 12;
    if (printed->binary) {
        write_fraction(rest, sizeof rest, printed->whole % 12, printed, true);
    } else {
        feet = (int64_t)(printed->size / 12 + 1e-9);
        write_decimal(rest, sizeof rest, fabs(printed->size - 12 * (double)feet), printed->places);
    }
    snprintf(buffer, room, "%" PRId64 "' %.12s", feet, rest);
}

const char *length_reading(char buffer[LENGTH_TEXT], double inches, double tick,
                           enum measure measure) {
    char both[LENGTH_TEXT];
    length_text(both, inches, tick, measure);
    if (!printable(buffer, inches, tick)) {
        return buffer;
    }
    if (measure == MEASURE_MM) {
        snprintf(buffer, LENGTH_TEXT, "%.30s mm", both);
        return buffer;
    }
    const struct printed printed = split(inches, tick, measure);
    if (printed.size < 12 - 1e-9) {
        snprintf(buffer, LENGTH_TEXT, "%.30s\"", both);
        return buffer;
    }
    char feet[LENGTH_TEXT / 2];
    write_feet(feet, sizeof feet, &printed);
    snprintf(buffer, LENGTH_TEXT, "%s%.19s\" (%.14s)", printed.negative ? "-" : "", feet, both);
    return buffer;
}
