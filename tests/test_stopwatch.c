/* How long a process takes from being asked for to its end, without the shell and the clock that
 * are processes of their own.  With words on the command line, for the scripts beside it:
 *
 *     test_stopwatch FILE SECONDS COMMAND [WORD ...]
 *
 * runs COMMAND, ends it (KILL) when it takes longer than SECONDS, adds its wall time in seconds as
 * a line to FILE, and ends with its exit code (128 + the signal that ended it; 127: not to be run).
 */
#define _DEFAULT_SOURCE
#include <errno.h>
#include <setjmp.h>
#include <signal.h>
#include <spawn.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

extern char **environ;

static volatile sig_atomic_t watched; /* 0: none */

static void stop_watched(int signal_number) {
    (void)signal_number;
    if (watched > 0)
        (void)kill((pid_t)watched, SIGKILL);
}

static double now_s(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* The exit code; its time in *seconds. */
static int watch(const char *const *words, unsigned most_s, double *seconds) {
    pid_t child;
    int status = 0;
    (void)signal(SIGALRM, stop_watched);
    const double from = now_s();
    if (posix_spawnp(&child, words[0], NULL, NULL, (char *const *)words, environ) != 0)
        return 127;
    watched = (sig_atomic_t)child;
    (void)alarm(most_s);
    while (waitpid(child, &status, 0) < 0 && errno == EINTR)
        ;
    *seconds = now_s() - from;
    (void)alarm(0);
    watched = 0;
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

static void sleep_takes_its_time(void **state) {
    const char *const words[] = {"sleep", "0.05", NULL};
    double seconds = 0;
    (void)state;
    assert_int_equal(watch(words, 60, &seconds), 0);
    assert_true(seconds >= 0.05);
}

static void what_does_not_end_is_ended(void **state) {
    const char *const words[] = {"sleep", "60", NULL};
    double seconds = 0;
    (void)state;
    assert_int_equal(watch(words, 1, &seconds), 128 + SIGKILL);
    assert_true(seconds >= 0.9 && seconds < 60);
}

static void exit_codes_are_passed_on(void **state) {
    const char *const fails[] = {"sh", "-c", "exit 3", NULL}, *const is_not[] = {"/no/such/program",
                                                                                 NULL};
    double seconds = 0;
    (void)state;
    assert_int_equal(watch(fails, 60, &seconds), 3);
    assert_int_equal(watch(is_not, 60, &seconds), 127);
}

static int watch_words(char **words) {
    double seconds = 0;
    const int code =
        watch((const char *const *)words + 3, (unsigned)strtoul(words[2], NULL, 10), &seconds);
    FILE *file = fopen(words[1], "a");
    if (!file || fprintf(file, "%.5f\n", seconds) < 0 || fclose(file) != 0)
        return 126;
    return code;
}

int main(int argc, char **argv) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sleep_takes_its_time),
        cmocka_unit_test(what_does_not_end_is_ended),
        cmocka_unit_test(exit_codes_are_passed_on),
    };
    if (argc > 3)
        return watch_words(argv);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
