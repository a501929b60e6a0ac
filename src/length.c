#include "length.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Powers of ten that a double holds exactly. */
static const double ten_to[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
enum {
    PLACES_MOST = 22,      /* digits behind the point that count; further ones are dropped */
    MANTISSA_DIGITS = 18,  /* likewise, from the first that is not 0 */
    WHOLE_MOST = 999999999 /* for the parts of a fraction: exact in a double when multiplied */
};

/* A decimal as written: mantissa / 10^places. */
struct decimal {
    uint64_t mantissa;
    int places;
    bool has_point;
    bool huge; /* too many digits before the point to hold */
};

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

static bool is_blank(char c) {
    return c == ' ' || c == '\t';
}

static void skip_blanks(const char **at) {
    while (is_blank(**at)) {
        (*at)++;
    }
}

/* Steps over `word` if the text goes on with it. */
static bool take(const char **at, const char *word) {
    const size_t length = strlen(word);
    if (strncmp(*at, word, length) != 0) {
        return false;
    }
    *at += length;
    return true;
}

/* Adds one digit; false when it no longer fits. */
static bool push_digit(uint64_t *mantissa, char digit) {
    static const uint64_t most = UINT64_C(100000000000000000); /* 10^(MANTISSA_DIGITS - 1) */
    if (*mantissa >= most) {
        return false;
    }
    *mantissa = *mantissa * 10 + (uint64_t)(digit - '0');
    return true;
}

/* Reads `14`, `14.625` or `.5`; false if there is none.  `5.` is none: half of it is missing. */
static bool take_decimal(const char **at, struct decimal *decimal) {
    struct decimal read = {0};
    const char *c = *at;
    if (!is_digit(*c) && !(*c == '.' && is_digit(c[1]))) {
        return false;
    }
    for (; is_digit(*c); c++) {
        read.huge = !push_digit(&read.mantissa, *c) || read.huge;
    }
    if (*c == '.') {
        if (!is_digit(c[1])) {
            return false;
        }
        read.has_point = true;
        size_t digits = strspn(++c, "0123456789");
        const char *end = c + digits;
        while (digits > 0 && c[digits - 1] == '0') {
            digits--; /* 1.50 is 1.5, however many zeros follow */
        }
        for (size_t i = 0; i < digits && read.places < PLACES_MOST; i++) {
            if (!push_digit(&read.mantissa, c[i])) {
                break;
            }
            read.places++;
        }
        c = end;
    }
    *decimal = read;
    *at = c;
    return true;
}

static double decimal_value(const struct decimal *decimal) {
    return (double)decimal->mantissa / ten_to[decimal->places];
}

/* Reads digits alone, as the parts of a fraction are; *huge is set, never cleared. */
static bool take_whole(const char **at, uint64_t *whole, bool *huge) {
    struct decimal decimal;
    const char *c = *at;
    if (!take_decimal(&c, &decimal) || decimal.has_point) {
        return false;
    }
    *whole = decimal.mantissa;
    *huge = *huge || decimal.huge || decimal.mantissa > WHOLE_MOST;
    *at = c;
    return true;
}

/* Reads a whole `5/8`; leaves *at alone where the text is none. */
static enum length_fault take_fraction(const char **at, double *numerator, double *denominator) {
    const char *c = *at;
    uint64_t over = 0;
    uint64_t under = 0;
    bool huge_over = false;
    bool huge_under = false;
    if (!take_whole(&c, &over, &huge_over) || !take(&c, "/") ||
        !take_whole(&c, &under, &huge_under) || huge_under) {
        return LENGTH_MALFORMED;
    }
    if (under == 0) {
        return LENGTH_DENOMINATOR;
    }
    if (huge_over) {
        return LENGTH_TOO_FAR;
    }
    *numerator = (double)over;
    *denominator = (double)under;
    *at = c;
    return LENGTH_GOOD;
}

/* A length as written, before its unit is known. */
struct reading {
    struct decimal decimal;
    bool fraction;                 /* then whole + numerator / denominator */
    double numerator, denominator; /* whole numbers */
};

/* Reads `14 5/8`, `14-5/8`, `5/8`, `14.625` or `14`. */
static enum length_fault take_reading(const char **at, struct reading *reading) {
    *reading = (struct reading){.denominator = 1};
    const char *c = *at;
    if (is_digit(*c) && c[strspn(c, "0123456789")] == '/') {
        reading->fraction = true;
        return take_fraction(at, &reading->numerator, &reading->denominator);
    }
    if (!take_decimal(&c, &reading->decimal)) {
        return LENGTH_MALFORMED;
    }
    *at = c;
    if (*c == '-') {
        c++;
    } else {
        skip_blanks(&c);
    }
    if (c == *at || !is_digit(*c)) {
        return LENGTH_GOOD;
    }
    if (reading->decimal.has_point) {
        return LENGTH_MALFORMED;
    }
    reading->fraction = true;
    *at = c;
    return take_fraction(at, &reading->numerator, &reading->denominator);
}

/* The inches of a reading with feet before it.  One division of whole numbers, so that every
 * fraction of a tape comes out exact. */
static enum length_fault reading_inches(const struct reading *reading, uint64_t feet,
                                        double *inches) {
    const struct decimal *decimal = &reading->decimal;
    if (decimal->huge) {
        return LENGTH_TOO_FAR;
    }
    if (reading->fraction) {
        if (decimal->mantissa > (uint64_t)LENGTH_MOST) {
            return LENGTH_TOO_FAR;
        }
        const double whole = (double)(feet * 12 + decimal->mantissa);
        *inches = (whole * reading->denominator + reading->numerator) / reading->denominator;
    } else {
        *inches = (double)(feet * 12) + decimal_value(decimal);
    }
    return LENGTH_GOOD;
}

/* Millimetres (times `factor`) in inches: one division where the figures are short enough, because
 * 25.4 is 127/5. */
static enum length_fault metric_inches(const struct decimal *decimal, double factor,
                                       double *inches) {
    if (decimal->huge) {
        return LENGTH_TOO_FAR;
    }
    *inches = (double)decimal->mantissa * factor * 5 / (127 * ten_to[decimal->places]);
    return LENGTH_GOOD;
}

/* What follows `6'`: nothing, or inches. */
static enum length_fault take_inches_after_feet(const char **at, const struct decimal *feet,
                                                double *inches) {
    struct reading rest;
    if (feet->huge || decimal_value(feet) > LENGTH_MOST / 12) {
        return LENGTH_TOO_FAR;
    }
    skip_blanks(at);
    if (**at == '\0') {
        *inches = (double)(feet->mantissa * 12) / ten_to[feet->places];
        return LENGTH_GOOD;
    }
    if (feet->has_point) {
        return LENGTH_MALFORMED;
    }
    if ((*at)[-1] == '\'' && **at == '-') { /* 6'-2" */
        (*at)++;
    }
    const enum length_fault fault = take_reading(at, &rest);
    if (fault != LENGTH_GOOD) {
        return fault;
    }
    take(at, "\"");
    return reading_inches(&rest, feet->mantissa, inches);
}

/* A length without its sign, up to trailing blanks. */
static enum length_fault take_length(const char **at, enum measure bare, double *inches) {
    struct reading reading;
    const enum length_fault fault = take_reading(at, &reading);
    if (fault != LENGTH_GOOD) {
        return fault;
    }
    if (take(at, "\"")) {
        return reading_inches(&reading, 0, inches);
    }
    if (reading.fraction) { /* inches in any file */
        return reading_inches(&reading, 0, inches);
    }
    if (take(at, "'")) {
        return take_inches_after_feet(at, &reading.decimal, inches);
    }
    skip_blanks(at);
    if (take(at, "mm")) {
        return metric_inches(&reading.decimal, 1, inches);
    }
    if (take(at, "m")) {
        return metric_inches(&reading.decimal, 1000, inches);
    }
    return bare == MEASURE_MM ? metric_inches(&reading.decimal, 1, inches)
                              : reading_inches(&reading, 0, inches);
}

/* True where a comma stands between two digits. */
static bool has_comma(const char *text) {
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == ',' && c > text && is_digit(c[-1]) && is_digit(c[1])) {
            return true;
        }
    }
    return false;
}

/* Steps over leading blanks and a minus sign. */
static enum length_fault take_start(const char **at, bool *negative) {
    if (*at == NULL) {
        return LENGTH_EMPTY;
    }
    skip_blanks(at);
    if (**at == '\0') {
        return LENGTH_EMPTY;
    }
    *negative = take(at, "-");
    return LENGTH_GOOD;
}

/* The outcome of a reading that stopped at `at`: nothing but blanks may follow. */
static enum length_fault settle(const char *text, const char *at, enum length_fault fault) {
    skip_blanks(&at);
    if (fault == LENGTH_GOOD && *at != '\0') {
        fault = LENGTH_MALFORMED;
    }
    return fault == LENGTH_MALFORMED && has_comma(text) ? LENGTH_COMMA : fault;
}

enum length_fault length_read(const char *text, enum measure bare, double *inches) {
    const char *at = text;
    bool negative = false;
    double read = 0;
    enum length_fault fault = take_start(&at, &negative);
    if (fault == LENGTH_GOOD) {
        fault = take_length(&at, bare, &read);
        fault = settle(text, at, fault);
    }
    if (fault != LENGTH_GOOD) {
        return fault;
    }
    if (!(read <= LENGTH_MOST)) {
        return LENGTH_TOO_FAR;
    }
    *inches = negative && read > 0 ? -read : read;
    return LENGTH_GOOD;
}

enum length_fault length_read_number(const char *text, double *number) {
    const char *at = text;
    bool negative = false;
    struct decimal decimal = {0};
    enum length_fault fault = take_start(&at, &negative);
    if (fault == LENGTH_GOOD) {
        fault = take_decimal(&at, &decimal) ? LENGTH_GOOD : LENGTH_MALFORMED;
        fault = settle(text, at, fault);
    }
    if (fault != LENGTH_GOOD) {
        return fault;
    }
    if (decimal.huge) {
        return LENGTH_TOO_FAR;
    }
    const double read = decimal_value(&decimal);
    *number = negative && read > 0 ? -read : read;
    return LENGTH_GOOD;
}

/* A pitch without its sign, in radians. */
static enum length_fault take_pitch(const char **at, double *radians) {
    const double per_degree = acos(-1.0) / 180;
    struct decimal rise;
    struct decimal run;
    if (!take_decimal(at, &rise)) {
        return LENGTH_MALFORMED;
    }
    if (take(at, "/")) {
        if (!take_decimal(at, &run)) {
            return LENGTH_MALFORMED;
        }
        if (run.mantissa == 0) {
            return LENGTH_DENOMINATOR;
        }
        *radians = atan2(decimal_value(&rise), decimal_value(&run));
        return rise.huge || run.huge ? LENGTH_TOO_FAR : LENGTH_GOOD;
    }
    skip_blanks(at);
    take(at, "deg");
    *radians = decimal_value(&rise) * per_degree;
    return rise.huge ? LENGTH_TOO_FAR : LENGTH_GOOD;
}

enum length_fault length_read_pitch(const char *text, double *radians) {
    const double most = acos(-1.0) * (80.0 / 180);
    const char *at = text;
    bool negative = false;
    double read = 0;
    enum length_fault fault = take_start(&at, &negative);
    if (fault == LENGTH_GOOD) {
        fault = take_pitch(&at, &read);
        fault = settle(text, at, fault);
    }
    if (fault != LENGTH_GOOD) {
        return fault;
    }
    /* The hair on top lets no 80 degrees through for a last bit of the product. */
    if (negative || !(read > 0) || !(read < most - 1e-12)) {
        return LENGTH_TOO_FAR;
    }
    *radians = read;
    return LENGTH_GOOD;
}

const char *length_fault_text(enum length_fault fault) {
    static const char *const texts[LENGTH_FAULT_COUNT] = {
        [LENGTH_GOOD] = "a good value",
        [LENGTH_EMPTY] = "empty",
        [LENGTH_MALFORMED] = "not written as a tape is read",
        [LENGTH_COMMA] = "written with a comma; a decimal point is needed",
        [LENGTH_DENOMINATOR] = "a fraction over zero",
        [LENGTH_TOO_FAR] = "out of range",
    };
    if ((unsigned)fault >= LENGTH_FAULT_COUNT) {
        return "of no known kind";
    }
    return texts[fault];
}

double length_settled(double value) {
    const double rounded = fabs(value) < 1e9 ? round(value * 1e6) / 1e6 : value;
    return rounded == 0 ? 0.0 : rounded;
}

bool length_holds(double margin) {
    return margin >= -LENGTH_TOLERANCE; /* false for NaN */
}
