/* The answer, one length at a time. */
#include "practice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LENGTHS_MOST = 80, HOLES_MOST = 30, PROMPT = 160 };

/* What was answered so far: the frame's corner, then for each line its height and its holes, behind
 * which NaN ends it. */
struct answering {
    const struct practice *practice;
    struct terminal *terminal;
    double lengths[LENGTHS_MOST];
    size_t count;
};

/* What comes next. */
struct next {
    enum { NEXT_ALONG, NEXT_UP, NEXT_LINE, NEXT_HOLE, NEXT_NONE } kind;
    enum row row;  /* of a line and a hole */
    size_t number; /* of a hole, from 1 */
};

static struct next find_next(const struct answering *answering) {
    struct next next = {.kind = NEXT_ALONG};
    for (size_t i = 0; i < answering->count; i++) {
        if (next.kind == NEXT_HOLE && !isnan(answering->lengths[i])) {
            next.number++;
        } else if (next.kind == NEXT_HOLE) {
            next.row = (enum row)(next.row + 1);
            next.kind = next.row < ROW_COUNT ? NEXT_LINE : NEXT_NONE;
        } else {
            next.kind = next.kind == NEXT_ALONG ? NEXT_UP
                        : next.kind == NEXT_UP  ? NEXT_LINE
                                                : NEXT_HOLE;
            next.number = 1;
        }
    }
    return next;
}

static void write_prompt(const struct practice *practice, const struct next *next,
                         char prompt[PROMPT]) {
    const struct roof *roof = practice->roof;
    const struct bracket *frame = &roof->brackets[0];
    const char *zero = roof->corner == CORNER_LEFT ? "LEFT" : "RIGHT";
    switch (next->kind) {
    case NEXT_ALONG:
        snprintf(prompt, PROMPT, "Frame %s: its lower %s corner, from the %s rake: ", frame->name,
                 zero, zero);
        return;
    case NEXT_UP:
        snprintf(prompt, PROMPT, "  and up the roof: ");
        return;
    case NEXT_LINE:
        snprintf(prompt, PROMPT, "%s line (%s): how high up the roof it runs: ",
                 next->row == ROW_TOP ? "Top" : "Bottom",
                 roof_hardware_word(frame->hardware[next->row]));
        return;
    default:
        snprintf(prompt, PROMPT, "  lag hole %zu, from the %s rake%s: ", next->number, zero,
                 next->number > 1 ? " [no more]" : "");
    }
}

static const char *why(const struct next *next) {
    switch (next->kind) {
    case NEXT_ALONG:
    case NEXT_UP:
        return "The frame may stand anywhere that keeps clear of edges and vents; close to where "
               "it is wanted earns more. Try where its legs would meet rafters first.";
    case NEXT_LINE:
        return "Both ends count: where the line meets the legs, and where its flashings meet the "
               "shingles. Lower edge on a butt edge, hole above it, hub below the next one.";
    default:
        return "In the middle of a good ply there is most room to miss. An empty line: this line "
               "has no more holes.";
    }
}

/* Takes one length; says what is wrong where it is none. */
static void take(struct answering *answering, const char *text) {
    double length = 0;
    const enum length_fault fault = length_read(text, MEASURE_IN, &length);
    if (fault == LENGTH_GOOD) {
        answering->lengths[answering->count++] = length;
        return;
    }
    char told[200];
    snprintf(told, sizeof told,
             "no: wanted a length, such as 14 5/8 or 6' 2-1/2\" (this is %.100s)",
             length_fault_text(fault));
    terminal_say(answering->terminal, 4, told);
}

static void take_empty(struct answering *answering, const struct next *next) {
    if (next->kind == NEXT_HOLE && next->number > 1) {
        answering->lengths[answering->count++] = NAN;
    } else {
        terminal_say(answering->terminal, 4, "a length is wanted; ? tells more");
    }
}

/* Asks once; false where no more input will come. */
static bool ask_once(struct answering *answering, const struct next *next) {
    char prompt[PROMPT], text[TERMINAL_LINE];
    write_prompt(answering->practice, next, prompt);
    switch (terminal_ask(answering->terminal, prompt, text)) {
    case REPLY_TEXT:
        if (next->kind == NEXT_HOLE && next->number > HOLES_MOST) {
            terminal_say(answering->terminal, 4, "no: that is more holes than anybody drills");
        } else {
            take(answering, text);
        }
        return true;
    case REPLY_EMPTY:
        take_empty(answering, next);
        return true;
    case REPLY_BACK:
        answering->count -= answering->count > 0;
        return true;
    case REPLY_WHY:
        terminal_say(answering->terminal, 4, why(next));
        return true;
    case REPLY_WRONG:
        terminal_say(answering->terminal, 4, "no: wanted one length, such as 14 5/8");
        return true;
    default:
        return false;
    }
}

/* The answer as marks. */
static enum outcome make_marks(const struct answering *answering, struct marks **made) {
    struct marks *marks = NULL;
    const enum outcome outcome = marks_new(1, answering->count, &marks);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    const struct bracket *frame = &answering->practice->roof->brackets[0];
    const double *length = answering->lengths;
    marks->brackets[0] = (struct standing){.x = length[0], .y = length[1]};
    memcpy(marks->brackets[0].hardware, frame->hardware, sizeof frame->hardware);
    length += 2;
    marks->count = 0;
    for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
        const double y = *length++;
        while (!isnan(*length)) {
            marks->list[marks->count++] = (struct mark){.row = row, .x = *length++, .y = y};
        }
        length++;
    }
    marks_sort(marks);
    *made = marks;
    return OUTCOME_DONE;
}

enum outcome practice_ask(const struct practice *practice, struct terminal *terminal,
                          struct marks **marks) {
    struct answering answering = {.practice = practice, .terminal = terminal};
    struct next next = find_next(&answering);
    *marks = NULL;
    while (next.kind != NEXT_NONE) {
        if (!ask_once(&answering, &next)) {
            return OUTCOME_DONE;
        }
        next = find_next(&answering);
    }
    return make_marks(&answering, marks);
}
