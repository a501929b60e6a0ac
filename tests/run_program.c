#include "run_program.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { WORDS_MOST = 30, NOT_RUN = 127 };

static char *stream_text(FILE *stream) {
    size_t size = 0;
    size_t room = 1 << 12;
    char *text = malloc(room);
    assert_non_null(text);
    rewind(stream);
    for (size_t count = 1; count > 0; size += count) {
        if (room - size < 2) {
            room *= 2;
            char *larger = realloc(text, room);
            if (larger == NULL) {
                free(text);
                fail_msg("no memory for %zu bytes", room);
            }
            text = larger;
        }
        count = fread(text + size, 1, room - size - 1, stream);
    }
    text[size] = '\0';
    return text;
}

/* In the child: the streams as the setup wants them. */
static bool prepare(const struct run_setup *setup, FILE *out, FILE *err) {
    int target = fileno(out);
    int ends[2];
    if (setup->stdout_to != NULL) {
        target = open(setup->stdout_to, O_WRONLY);
    }
    if (setup->stdout_broken) {
        if (pipe(ends) != 0 || close(ends[0]) != 0) {
            return false;
        }
        target = ends[1];
    }
    if (dup2(target, STDOUT_FILENO) < 0 || dup2(fileno(err), STDERR_FILENO) < 0) {
        return false;
    }
    if (setup->bytes_most > 0) {
        const struct rlimit limit = {setup->bytes_most, setup->bytes_most};
        signal(SIGXFSZ, SIG_IGN); /* then the write fails instead */
        if (setrlimit(RLIMIT_FSIZE, &limit) != 0) {
            return false;
        }
    }
    if (setup->stdout_closed) {
        close(STDOUT_FILENO);
    }
    if (setup->stderr_closed) {
        close(STDERR_FILENO);
    }
    return setup->folder == NULL || chdir(setup->folder) == 0;
}

struct run run_program(const char *program, const char *const *words,
                       const struct run_setup *setup) {
    static const struct run_setup plain;
    char *argv[WORDS_MOST + 2] = {(char *)(uintptr_t)program}; /* exec does not write there */
    FILE *out = tmpfile();
    FILE *err = tmpfile();
    int status = 0;
    assert_non_null(out);
    assert_non_null(err);
    for (size_t i = 0; words[i] != NULL; i++) {
        assert_true(i < WORDS_MOST);
        argv[i + 1] = (char *)(uintptr_t)words[i];
    }
    fflush(NULL);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        if (prepare(setup != NULL ? setup : &plain, out, err)) {
            execv(program, argv);
        }
        _exit(NOT_RUN);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    struct run run = {.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status),
                      .out = stream_text(out),
                      .err = stream_text(err)};
    fclose(out);
    fclose(err);
    assert_int_not_equal(run.code, NOT_RUN);
    return run;
}

void run_free(struct run *run) {
    free(run->out);
    free(run->err);
    *run = (struct run){0};
}

void run_folder_make(char path[RUN_PATH]) {
    const char *home = getenv("TMPDIR");
    snprintf(path, RUN_PATH, "%s/ruddle-test-XXXXXX", home != NULL ? home : "/tmp");
    assert_non_null(mkdtemp(path));
}

/* Walks a folder's entries, removing them if asked to. */
static int walk(const char *path, bool removing) {
    DIR *folder = opendir(path);
    int count = 0;
    if (folder == NULL) {
        return -1;
    }
    for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) {
            continue;
        }
        count++;
        char inner[RUN_PATH];
        if (removing && remove(run_path(inner, path, entry->d_name)) != 0) {
            walk(inner, true); /* a folder with something in it */
            rmdir(inner);
        }
    }
    closedir(folder);
    return count;
}

int run_folder_count(const char *path) {
    return walk(path, false);
}

void run_folder_remove(const char *path) {
    walk(path, true);
    rmdir(path);
}

const char *run_path(char path[RUN_PATH], const char *folder, const char *name) {
    assert_true(snprintf(path, RUN_PATH, "%s/%s", folder, name) < RUN_PATH);
    return path;
}

char *run_file_read(const char *path) {
    FILE *stream = fopen(path, "r");
    if (stream == NULL) {
        fail_msg("%s is not there", path);
    }
    char *text = stream_text(stream);
    fclose(stream);
    return text;
}

void run_file_write(const char *path, const char *text) {
    FILE *stream = fopen(path, "w");
    assert_non_null(stream);
    assert_true(fputs(text, stream) >= 0);
    assert_int_equal(fclose(stream), 0);
}
