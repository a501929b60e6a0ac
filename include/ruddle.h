/* Ruddle for other programs: read the survey of a roof, lay its brackets out, hold a layout against
 * every rule.  Link with what `pkg-config --cflags --libs ruddle` says; docs/example.c is a whole
 * program.
 *
 * Lengths here are inches, whatever the files are measured in; the JSON results are in the file's
 * own measure, as docs/result.md says.  x runs from the reference corner along the eave, y up the
 * roof on its surface.  Every text is UTF-8.
 *
 * Nothing is printed and the process is never ended.  There is no state between calls: any number
 * of threads may call at once, also on one and the same roof or answer, so long as nobody frees it
 * meanwhile.  A call that works does so in a thread of its own and waits for it; in there the
 * locale is "C" and the solver's memory its own, so that neither the caller's locale and signals
 * nor another use of GLPK in the same program are touched or matter.
 *
 * Strength figures screen a layout.  They never stand in for a licensed engineer.
 */
#ifndef RUDDLE_H
#define RUDDLE_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif
#pragma GCC visibility push(default)

/* What a call comes to.  The program ends with the same figures. */
enum ruddle_outcome {
    RUDDLE_DONE = 0,      /* done; of a layout: and every rule holds */
    RUDDLE_BLOCKED = 1,   /* an honest answer, but no layout to drill by */
    RUDDLE_BAD_INPUT = 2, /* a file or text that cannot be used */
    RUDDLE_FAULT = 3,     /* out of memory or threads, or a defect */
};

/* The version of the library, such as "0.1.0". */
const char *ruddle_version(void);

/* ---- Messages -------------------------------------------------------------------------------- */

/* What went wrong, a line of text for each fault: FILE:LINE: KEY: found "TEXT", wanted WANTED.  Of
 * one thread at a time. */
struct ruddle_messages;

struct ruddle_messages *ruddle_messages_new(void); /* NULL: no memory */

/* How many lines there are, and each of them, from 0, without a newline; NULL beyond the last.  A
 * line is good until the object is handed to another call.  Every call begins afresh. */
size_t ruddle_messages_count(const struct ruddle_messages *messages);
const char *ruddle_messages_line(const struct ruddle_messages *messages, size_t line);

void ruddle_messages_free(struct ruddle_messages *messages); /* accepts NULL */

/* ---- A roof ---------------------------------------------------------------------------------- */

struct ruddle_roof;

/* Reads a roof file and the kit files that it names, which are sought from its folder.  `text`, if
 * not NULL, is the roof file's text, and `path` then only its name in messages and the place that
 * kit files are sought from.  DONE: *roof is the caller's (ruddle_roof_free) and keeps nothing of
 * the arguments.  BAD_INPUT: `messages` (may be NULL) says why.  *roof is untouched unless DONE. */
enum ruddle_outcome ruddle_read(const char *path, const char *text, struct ruddle_roof **roof,
                                struct ruddle_messages *messages);

/* The roof's name, as its file has it; good as long as the roof. */
const char *ruddle_roof_name(const struct ruddle_roof *roof);

void ruddle_roof_free(struct ruddle_roof *roof); /* accepts NULL */

/* ---- Answers --------------------------------------------------------------------------------- */

/* A layout, or what holding one against the rules came to. */
struct ruddle_answer;

/* The rake that tape readings start from: of the reference corner, or the other one. */
enum ruddle_rake { RUDDLE_NEAR, RUDDLE_FAR };

struct ruddle_options {
    double limit_s; /* seconds that a search may take; 0: 60 */
    enum ruddle_rake from;
};

/* Lays the roof's brackets out; options may be NULL: all as usual.  DONE and BLOCKED: *answer is
 * the caller's (ruddle_answer_free) and needs the roof no longer.  FAULT: `messages` (may be NULL)
 * says why.  *answer is untouched unless DONE or BLOCKED. */
enum ruddle_outcome ruddle_lay_out(const struct ruddle_roof *roof,
                                   const struct ruddle_options *options,
                                   struct ruddle_answer **answer, struct ruddle_messages *messages);

/* Holds a layout that somebody else made against every rule; `path` and `text` as of ruddle_read,
 * of a file as docs/result.md describes (ruddle_answer_json of a layout is one).  Outcomes as of
 * ruddle_lay_out, and BAD_INPUT. */
enum ruddle_outcome ruddle_check(const struct ruddle_roof *roof, const char *path, const char *text,
                                 struct ruddle_answer **answer, struct ruddle_messages *messages);

/* The whole answer as JSON, byte for byte what `ruddle layout --json` or `ruddle check --json`
 * prints; good as long as the answer. */
const char *ruddle_answer_json(const struct ruddle_answer *answer);

/* Inches that every mark may be off by, in any direction, while every rule still holds; negative
 * where one does not; NaN where nothing could be placed. */
double ruddle_answer_forgiveness(const struct ruddle_answer *answer);

/* One hole to drill.  Later versions may add members at the end. */
struct ruddle_mark {
    const char *id;      /* as on the sheet: "A-top-1"; texts are good as long as the answer */
    const char *bracket; /* the bracket's name */
    const char *row;     /* "top", "bottom", or "pipe" */
    double x, y;         /* inches */
    size_t rafter;       /* counted from the reference corner, from 1; 0: in none */
    size_t course;       /* whose flashing it is, from 1; 0: on none */
};

/* How many holes there are, and each of them, from 0; NULL beyond the last. */
size_t ruddle_answer_marks(const struct ruddle_answer *answer);
const struct ruddle_mark *ruddle_answer_mark(const struct ruddle_answer *answer, size_t mark);

void ruddle_answer_free(struct ruddle_answer *answer); /* accepts NULL */

#pragma GCC visibility pop
#ifdef __cplusplus
}
#endif

#endif
