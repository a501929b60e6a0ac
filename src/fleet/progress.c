/* The size of a terminal is no part of POSIX; glibc shows it where this is asked for. */
#define _GNU_SOURCE
#include "progress.h"

#include <string.h>
#include <sys/ioctl.h>

/* A bar moves; lines, in a log, should be few. */
#define BAR_EVERY_S 0.2
#define LINE_EVERY_S 10.0

enum { BAR_WIDTH = 10, TIME_TEXT = 24 };

void progress_begin(struct progress *progress, double now_s) {
    progress->begun_s = now_s;
    /* A bar is there from the start, a line only where there is something to wait for. */
    progress->shown_s = progress->talk == FLEET_BAR ? now_s - 2 * BAR_EVERY_S : now_s;
    progress->before = progress->settled;
}

void progress_count(struct progress *progress, enum fleet_status status) {
    progress->settled++;
    progress->blocked += status == FLEET_BLOCKED;
    progress->undecided += status == FLEET_UNDECIDED;
    progress->errors += status == FLEET_ERROR;
}

/* `45 s`, `12 min`, `3 h 20 min`, `40 h`. */
static void time_text(char text[TIME_TEXT], double seconds) {
    if (!(seconds < 1e7)) {
        snprintf(text, TIME_TEXT, "?");
    } else if (seconds < 90) {
        snprintf(text, TIME_TEXT, "%.0f s", seconds);
    } else if (seconds < 5400) {
        snprintf(text, TIME_TEXT, "%.0f min", seconds / 60);
    } else if (seconds >= 36000) {
        snprintf(text, TIME_TEXT, "%.0f h", seconds / 3600);
    } else {
        const int minutes = (int)(seconds / 60);
        snprintf(text, TIME_TEXT, "%d h %d min", minutes / 60, minutes % 60);
    }
}

void progress_text(const struct progress *progress, double now_s, char text[PROGRESS_TEXT]) {
    char left[TIME_TEXT];
    char bar[BAR_WIDTH + 1];
    const double spent_s = now_s - progress->begun_s;
    const size_t done = progress->settled - progress->before;
    const double rate = spent_s > 0 ? (double)done / spent_s : 0;
    const size_t full =
        progress->total > 0 ? progress->settled * BAR_WIDTH / progress->total : BAR_WIDTH;
    memset(bar, '.', BAR_WIDTH);
    memset(bar, '#', full < BAR_WIDTH ? full : BAR_WIDTH);
    bar[BAR_WIDTH] = '\0';
    time_text(left, rate > 0 ? (double)(progress->total - progress->settled) / rate : 1e9);
    const int used = progress->talk == FLEET_BAR ? snprintf(text, PROGRESS_TEXT, "[%s] ", bar) : 0;
    const size_t at = used > 0 ? (size_t)used : 0;
    snprintf(text + at, PROGRESS_TEXT - at, "%zu/%zu, %zu blocked, %zu errors, %.*f/s, %s left",
             progress->settled, progress->total, progress->blocked + progress->undecided,
             progress->errors, rate < 10 ? 1 : 0, rate, left);
}

/* A line that reaches the last column would go on below, where nothing wipes it out. */
static int columns(FILE *stream) {
    struct winsize size;
    const bool known = ioctl(fileno(stream), TIOCGWINSZ, &size) == 0 && size.ws_col > 1;
    return known ? size.ws_col - 1 : PROGRESS_TEXT - 1;
}

void progress_show(struct progress *progress, double now_s) {
    const bool bar = progress->talk == FLEET_BAR;
    char text[PROGRESS_TEXT];
    if (progress->talk == FLEET_SILENT ||
        now_s - progress->shown_s < (bar ? BAR_EVERY_S : LINE_EVERY_S)) {
        return;
    }
    progress->shown_s = now_s;
    progress_text(progress, now_s, text);
    if (bar) {
        fprintf(progress->stream, "\r\033[K%.*s", columns(progress->stream), text);
    } else {
        fprintf(progress->stream, "%s\n", text);
    }
    fflush(progress->stream);
}

void progress_end(struct progress *progress) {
    if (progress->talk == FLEET_BAR) {
        fputs("\r\033[K", progress->stream);
        fflush(progress->stream);
    }
}
