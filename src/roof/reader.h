/* Typed reading of survey texts: a text goes in, a length, number or word comes out, and whatever
 * cannot be read is told to problems with its file, line and key.
 *
 * A value that was refused comes back as NaN (words and counts: as something valid).  Comparing
 * with NaN is false, so a cross-check written as `if (a > b) refuse` keeps quiet about a value
 * that has been refused already, and all other faults of the file are still found.
 */
#ifndef RUDDLE_ROOF_READER_H
#define RUDDLE_ROOF_READER_H

#include "roof.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

enum { READER_KEY_MOST = 96 };

/* Where values are read from.  Borrows everything. */
struct reader {
    const char *file;
    const struct survey_lines *lines;
    enum measure measure; /* of bare numbers */
    struct problems *problems;
    char group[READER_KEY_MOST]; /* what stands before every key: "", "plane", "vents[2]" */
};

enum sign { SIGN_ANY, SIGN_NOT_NEGATIVE, SIGN_ABOVE_ZERO };

/* In place of a default: the key has to be there. */
#define READER_REQUIRED NAN

/* The same reader inside a group ("plane") or an entry of a list (("vents", 0) is vents[1]). */
struct reader reader_group(const struct reader *reader, const char *group);
struct reader reader_entry(const struct reader *reader, const char *list, size_t index);

/* True if the key was written in the file. */
bool reader_has(const struct reader *reader, const char *key);

/* Reports a fault of a key; an empty key stands for the group itself.  `wanted` as in printf. */
__attribute__((format(printf, 4, 5))) void reader_refuse(const struct reader *reader,
                                                         const char *key, const char *found,
                                                         const char *wanted, ...);

/* One value; an absent key (text NULL) gives the default.  Inches, plain numbers, radians. */
double reader_length(const struct reader *reader, const char *key, const char *text, enum sign sign,
                     double by_default);
double reader_number(const struct reader *reader, const char *key, const char *text, enum sign sign,
                     double by_default);
double reader_pitch(const struct reader *reader, const char *key, const char *text);

/* What a list of lengths has to be. */
struct list_wanted {
    enum sign sign;
    size_t least, most; /* entries */
};

/* A list of lengths; returns how many were stored, 0 where the list was refused or is absent. */
size_t reader_lengths(const struct reader *reader, const char *key,
                      const struct survey_texts *texts, const struct list_wanted *wanted,
                      double *list);

/* Exactly `count` lengths; all NaN where they were refused. */
void reader_tuple(const struct reader *reader, const char *key, const struct survey_texts *texts,
                  enum sign sign, size_t count, double *list);

/* A range [low, high], never negative; refused where it is inverted. */
void reader_range(const struct reader *reader, const char *key, const struct survey_texts *texts,
                  double range[2]);

/* A length for a message, in the file's measure: "12.75 in", "324 mm". */
struct shown {
    char text[32];
};
struct shown reader_shown(const struct reader *reader, double inches);

/* The texts of a list as they were written, for a message: "76, 70".  Returns buffer. */
const char *reader_written(char buffer[READER_KEY_MOST], const struct survey_texts *texts);

/* Known words, in the order of the enumeration that they stand for. */
struct reader_words {
    const char *const *list;
    size_t count;
};

/* The index of the word; an absent or unknown one gives the default. */
size_t reader_word(const struct reader *reader, const char *key, const char *text,
                   const struct reader_words *words, size_t by_default);

/* yes, no, true, false. */
bool reader_yes(const struct reader *reader, const char *key, const char *text, bool by_default);

/* A whole number from 1 to `most`. */
size_t reader_count(const struct reader *reader, const char *key, const char *text, size_t most,
                    size_t by_default);

/* A text below `size` bytes with its NUL; required, and not empty.  buffer is empty where it was
 * refused.  Control characters never come this far: the survey refuses them. */
void reader_text(const struct reader *reader, const char *key, const char *text, char *buffer,
                 size_t size);

#endif
