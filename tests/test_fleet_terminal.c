/* A fleet as somebody at a terminal sees it: the bar, and Ctrl-C. */
/* For pseudo-terminals and their size. */
#define _GNU_SOURCE
#include "made_fleet.h"
#include "run_program.h"

#include <fcntl.h>
#include <poll.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include <cmocka.h>

enum { TEXT_MOST = 1 << 16, PATIENCE_MS = 60000 };

/* A program on a terminal of its own. */
struct seen {
    int master;
    pid_t pid;
    char text[TEXT_MOST]; /* everything that it has written so far */
    size_t used;
};

/* Becomes the first of a session, so that Ctrl-C on the terminal reaches this process. */
static void run_on(const char *terminal, const char *const *words) {
    char *argv[16] = {(char *)(uintptr_t)RUDDLE_PROGRAM}; /* exec does not write there */
    for (size_t i = 0; i < 14 && words[i] != NULL; i++)
        argv[i + 1] = (char *)(uintptr_t)words[i];
    setsid();
    const int slave = open(terminal, O_RDWR); /* the first one opened is the session's */
    if (slave >= 0 && dup2(slave, STDIN_FILENO) >= 0 && dup2(slave, STDOUT_FILENO) >= 0 &&
        dup2(slave, STDERR_FILENO) >= 0)
        execv(RUDDLE_PROGRAM, argv);
    _exit(127);
}

static void start(struct seen *seen, const char *const *words, unsigned short columns) {
    const struct winsize size = {.ws_row = 24, .ws_col = columns};
    *seen = (struct seen){.master = posix_openpt(O_RDWR | O_NOCTTY)};
    assert_true(seen->master >= 0);
    assert_int_equal(grantpt(seen->master), 0);
    assert_int_equal(unlockpt(seen->master), 0);
    assert_int_equal(ioctl(seen->master, TIOCSWINSZ, &size), 0);
    const char *terminal = ptsname(seen->master);
    assert_non_null(terminal);
    fflush(NULL);
    seen->pid = fork();
    assert_true(seen->pid >= 0);
    if (seen->pid == 0)
        run_on(terminal, words);
}

/* Reads until the text has that part; false where the program ended before. */
static bool wait_for(struct seen *seen, const char *part) {
    while (part == NULL || strstr(seen->text, part) == NULL) {
        struct pollfd poll_for = {.fd = seen->master, .events = POLLIN};
        assert_true(poll(&poll_for, 1, PATIENCE_MS) > 0);
        const ssize_t count =
            read(seen->master, seen->text + seen->used, TEXT_MOST - 1 - seen->used);
        if (count <= 0) /* nobody has the other end any more */
            return false;
        seen->used += (size_t)count;
        seen->text[seen->used] = '\0';
    }
    return true;
}

/* Its exit code, once it is over. */
static int end(struct seen *seen) {
    int status = 0;
    (void)wait_for(seen, NULL);
    close(seen->master);
    assert_int_equal(waitpid(seen->pid, &status, 0), seen->pid);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL)
        fail_msg("\"%s\" is not in:\n%s", part, text);
}

/* So many small roofs in FOLDER/roofs. */
static void make_fleet(char folder[RUN_PATH], size_t count) {
    const struct made_fleet fleet = {.seed = 4, .count = count, .small = true};
    run_folder_make(folder);
    assert_true(made_fleet_write(&fleet, folder));
}

/* One line that is wiped out and written anew, and gone before the summary. */
static void a_bar_moves_and_leaves(void **state) {
    (void)state;
    static struct seen seen;
    char folder[RUN_PATH];
    make_fleet(folder, 4);
    start(&seen, WORDS("fleet", folder, "--jobs", "1"), 80);
    const int code = end(&seen);
    assert_true(code == 0 || code == 1);
    assert_has(seen.text, "\r\033[K[..........] 0/4, 0 blocked, 0 errors, ");
    assert_has(seen.text, "\r\033[K4 roofs\r\n");
    const char *last = strrchr(seen.text, '\033');
    assert_null(strstr(last, "left"));
    run_folder_remove(folder);
}

/* What is written after the wiping sequence stays on its line. */
static void a_narrow_terminal_gets_a_short_bar(void **state) {
    (void)state;
    static struct seen seen;
    static const char wipe[] = "\r\033[K";
    size_t bars = 0;
    char folder[RUN_PATH];
    make_fleet(folder, 4);
    start(&seen, WORDS("fleet", folder, "--jobs", "1"), 30);
    (void)end(&seen);
    for (const char *at = strstr(seen.text, wipe); at != NULL; at = strstr(at + 4, wipe)) {
        assert_true(strcspn(at + 4, "\r\n") <= 29);
        bars += at[4] == '[';
    }
    assert_true(bars > 0);
    run_folder_remove(folder);
}

static void quiet_shows_nothing(void **state) {
    (void)state;
    static struct seen seen;
    char folder[RUN_PATH];
    make_fleet(folder, 2);
    start(&seen, WORDS("fleet", folder, "--quiet"), 80);
    const int code = end(&seen);
    assert_true(code == 0 || code == 1);
    assert_string_equal(seen.text, "");
    run_folder_remove(folder);
}

/* Far more roofs than are done by then. */
static void ctrl_c_ends_it_with_what_is_done(void **state) {
    (void)state;
    static struct seen seen;
    enum { ROOFS = 3000 };
    char folder[RUN_PATH], report[RUN_PATH];
    size_t done = 0, rows = 0;
    make_fleet(folder, ROOFS);
    run_path(report, folder, "fleet.csv");
    start(&seen, WORDS("fleet", folder, "--report", report), 80);
    assert_true(wait_for(&seen, "/3000, "));
    assert_int_equal(write(seen.master, "\003", 1), 1);
    assert_int_equal(end(&seen), 3);
    const char *told = strstr(seen.text, "found \"a signal to stop\", wanted to go on: ");
    assert_non_null(told);
    assert_int_equal(
        sscanf(strstr(told, "on: ") + 4, "%zu of 3000 roofs are done; --resume", &done), 1);
    assert_true(done < ROOFS);
    char *text = run_file_read(report);
    for (const char *at = text; *at != '\0'; at++)
        rows += *at == '\n';
    assert_int_equal(rows, done + 1);
    free(text);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bar_moves_and_leaves),
        cmocka_unit_test(a_narrow_terminal_gets_a_short_bar),
        cmocka_unit_test(quiet_shows_nothing),
        cmocka_unit_test(ctrl_c_ends_it_with_what_is_done),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
