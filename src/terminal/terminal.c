#include "terminal.h"

#include <errno.h>
#include <poll.h>
#include <string.h>
#include <sys/signalfd.h>
#include <unistd.h>

enum { COLUMNS = 80 };

static sigset_t stopping(void) {
    sigset_t set;
    sigemptyset(&set);
    sigaddset(&set, SIGINT);
    sigaddset(&set, SIGTERM);
    sigaddset(&set, SIGHUP);
    return set;
}

enum outcome terminal_open(struct terminal *terminal, int in, FILE *out,
                           struct problems *problems) {
    const sigset_t set = stopping();
    *terminal = (struct terminal){.out = out, .in = in, .signals = -1, .echoes = isatty(in) == 1};
    sigprocmask(SIG_BLOCK, &set, &terminal->before);
    terminal->signals = signalfd(-1, &set, SFD_CLOEXEC | SFD_NONBLOCK);
    if (terminal->signals >= 0) {
        return OUTCOME_DONE;
    }
    problems_add(problems, "ruddle", 0, NULL, strerror(errno), "a way to hear Ctrl-C");
    sigprocmask(SIG_SETMASK, &terminal->before, NULL);
    return OUTCOME_FAULT;
}

void terminal_close(struct terminal *terminal) {
    struct signalfd_siginfo spent;
    if (terminal->signals < 0) {
        return;
    }
    while (read(terminal->signals, &spent, sizeof spent) == (ssize_t)sizeof spent) {
        /* they have done what they were for */
    }
    close(terminal->signals);
    terminal->signals = -1;
    sigprocmask(SIG_SETMASK, &terminal->before, NULL);
}

/* Waits for input; false where it has ended or a signal came. */
static bool fill(struct terminal *terminal) {
    struct pollfd heard[] = {{.fd = terminal->in, .events = POLLIN},
                             {.fd = terminal->signals, .events = POLLIN}};
    for (;;) {
        if (poll(heard, 2, -1) < 0) {
            if (errno == EINTR) {
                continue;
            }
            return false;
        }
        if (heard[1].revents != 0) {
            return false;
        }
        const ssize_t got = read(terminal->in, terminal->waiting, sizeof terminal->waiting);
        if (got > 0) {
            terminal->from = 0;
            terminal->to = (size_t)got;
            return true;
        }
        if (got == 0 || (errno != EINTR && errno != EAGAIN)) {
            return false;
        }
    }
}

/* Reads up to the end of the line.  The bytes that were there, or one more than fit; SIZE_MAX where
 * there is no whole line any more. */
static size_t read_line(struct terminal *terminal, char line[TERMINAL_LINE]) {
    size_t used = 0;
    while (!terminal->ended) {
        if (terminal->from == terminal->to && !fill(terminal)) {
            terminal->ended = true;
            break;
        }
        const char byte = terminal->waiting[terminal->from++];
        if (byte == '\n') {
            return used;
        }
        if (used < TERMINAL_LINE) {
            line[used++] = byte;
        }
    }
    /* A last line without an end was perhaps not typed to its end: it does not count. */
    return (size_t)-1;
}

static bool is_blank(char byte) {
    return byte == ' ' || byte == '\t' || byte == '\r';
}

/* Tabs become blanks; any other control character makes it wrong. */
static bool is_text(char *line, size_t length) {
    for (size_t i = 0; i < length; i++) {
        const unsigned char byte = (unsigned char)line[i];
        if (is_blank(line[i])) {
            line[i] = ' ';
        } else if (byte < 0x20 || byte == 0x7F) {
            return false;
        }
    }
    return true;
}

static enum reply understand(const char *answer) {
    return answer[0] == '\0'             ? REPLY_EMPTY
           : strcmp(answer, "back") == 0 ? REPLY_BACK
           : strcmp(answer, "?") == 0    ? REPLY_WHY
                                         : REPLY_TEXT;
}

enum reply terminal_ask(struct terminal *terminal, const char *question,
                        char answer[TERMINAL_LINE]) {
    char line[TERMINAL_LINE];
    answer[0] = '\0';
    fputs(question, terminal->out);
    fflush(terminal->out);
    size_t length = read_line(terminal, line);
    if (length == (size_t)-1 || !terminal->echoes) {
        fputc('\n', terminal->out); /* nobody has typed one */
    }
    if (length == (size_t)-1) {
        return REPLY_END;
    }
    if (length >= TERMINAL_LINE || !is_text(line, length)) {
        return REPLY_WRONG;
    }
    size_t start = 0;
    while (start < length && line[start] == ' ') {
        start++;
    }
    while (length > start && line[length - 1] == ' ') {
        length--;
    }
    memcpy(answer, line + start, length - start);
    answer[length - start] = '\0';
    const enum reply reply = understand(answer);
    if (reply != REPLY_TEXT) {
        answer[0] = '\0';
    }
    return reply;
}

void terminal_say(struct terminal *terminal, int indent, const char *text) {
    int used = 0;
    while (*text != '\0') {
        const int length = (int)strcspn(text, " ");
        if (used > 0 && used + 1 + length > COLUMNS) {
            fputc('\n', terminal->out);
            used = 0;
        }
        used += used > 0 ? fprintf(terminal->out, " %.*s", length, text)
                         : fprintf(terminal->out, "%*s%.*s", indent, "", length, text);
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', terminal->out);
}
