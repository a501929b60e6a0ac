/* For pseudo-terminals. */
#define _XOPEN_SOURCE 700
#include "typist.h"

#include <fcntl.h>
#include <poll.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

enum { PATIENCE_MS = 20000, WORDS_MOST = 16 };

/* Becomes the first of a session, so that Ctrl-C on the terminal reaches this process. */
static void run_on(const char *terminal, const char *program, const char *const *words,
                   const char *folder) {
    char *argv[WORDS_MOST + 2] = {(char *)(uintptr_t)program}; /* exec does not write there */
    for (size_t i = 0; i < WORDS_MOST && words[i] != NULL; i++) {
        argv[i + 1] = (char *)(uintptr_t)words[i];
    }
    setsid();
    const int slave = open(terminal, O_RDWR); /* the first one opened is the session's */
    if (slave >= 0 && dup2(slave, STDIN_FILENO) >= 0 && dup2(slave, STDOUT_FILENO) >= 0 &&
        dup2(slave, STDERR_FILENO) >= 0 && (folder == NULL || chdir(folder) == 0)) {
        execv(program, argv);
    }
    _exit(127);
}

void typist_start(struct typist *typist, const char *program, const char *const *words,
                  const char *folder) {
    memset(typist, 0, sizeof *typist);
    typist->master = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
    assert_true(typist->master >= 0);
    assert_int_equal(grantpt(typist->master), 0);
    assert_int_equal(unlockpt(typist->master), 0);
    const char *terminal = ptsname(typist->master);
    assert_non_null(terminal);
    typist->child = fork();
    assert_true(typist->child >= 0);
    if (typist->child == 0) {
        run_on(terminal, program, words, folder);
    }
}

/* Reads what there is; false where the program has gone, or says nothing any more. */
static bool read_more(struct typist *typist) {
    struct pollfd heard = {.fd = typist->master, .events = POLLIN};
    if (poll(&heard, 1, PATIENCE_MS) <= 0) {
        return false;
    }
    assert_true(typist->used + 1 < TYPIST_TEXT);
    const ssize_t count =
        read(typist->master, typist->text + typist->used, TYPIST_TEXT - 1 - typist->used);
    if (count <= 0) {
        return false;
    }
    typist->used += (size_t)count;
    typist->text[typist->used] = '\0';
    return true;
}

void typist_wait(struct typist *typist, const char *part) {
    const char *found = strstr(typist->text + typist->looked, part);
    while (found == NULL) {
        if (!read_more(typist)) {
            fail_msg("\"%s\" does not come up behind:\n%s", part, typist->text);
        }
        found = strstr(typist->text + typist->looked, part);
    }
    typist->looked = (size_t)(found - typist->text) + strlen(part);
}

void typist_type(struct typist *typist, const char *text) {
    const size_t length = strlen(text);
    assert_int_equal(write(typist->master, text, length), length);
}

void typist_answer(struct typist *typist, const struct typed *typed) {
    typist_wait(typist, typed->asked);
    typist_type(typist, typed->answer);
    typist_type(typist, "\n");
}

int typist_end(struct typist *typist) {
    int status = 0;
    while (read_more(typist)) {
        /* until nobody has the other end any more */
    }
    close(typist->master);
    assert_int_equal(waitpid(typist->child, &status, 0), typist->child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}
