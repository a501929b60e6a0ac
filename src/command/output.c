#include "output.h"

#include "tint.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_MOST = 4096, FILES_MOST = 12, TRIES_MOST = 100 };

static enum outcome refuse(struct problems *problems, const char *file, int error,
                           const char *wanted) {
    problems_add(problems, file, 0, NULL, error == 0 ? NULL : strerror(error), wanted);
    return OUTCOME_FAULT;
}

void output_prepare(void) {
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigaction(SIGPIPE, &ignore, NULL);
    for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; stream++) {
        if (fcntl(stream, F_GETFD) < 0 && errno == EBADF) {
            /* The lowest free number is this one.  Read only: writing to it still fails. */
            (void)!open("/dev/null", O_RDONLY);
        }
    }
}

/* Writes a result and flushes it; 0, or the error that some write on the stream met. */
static int write_out(const struct output *output, FILE *stream, enum outcome *written) {
    errno = 0;
    *written = output->write(output->subject, stream);
    if (ferror(stream) == 0 && fflush(stream) == 0) {
        return 0;
    }
    return errno != 0 ? errno : EIO;
}

enum outcome output_print(const struct output *output, struct problems *problems) {
    enum outcome outcome = OUTCOME_DONE;
    int error = write_out(output, stdout, &outcome);
    if (error == 0) {
        /* Some file systems tell only on closing; close a copy, for the stream is not ours. */
        const int copy = dup(STDOUT_FILENO);
        error = copy < 0 || close(copy) != 0 ? errno : 0;
    }
    return error == 0 ? outcome
                      : refuse(problems, "standard output", error, "room to write the result");
}

/* Writes the text whole, then lays colour over it. */
static enum outcome write_tinted(const void *subject, FILE *stream) {
    const struct output *output = subject;
    char *text = NULL;
    size_t size = 0;
    FILE *held = open_memstream(&text, &size);
    if (held == NULL) {
        return OUTCOME_FAULT;
    }
    enum outcome outcome = output->write(output->subject, held);
    const bool whole = fflush(held) == 0 && ferror(held) == 0;
    if (fclose(held) != 0 || !whole) {
        outcome = OUTCOME_FAULT;
    }
    if (outcome == OUTCOME_DONE) {
        tint_put(text, stream);
    }
    free(text);
    return outcome;
}

enum outcome output_show(const struct output *output, struct problems *problems) {
    const struct output tinted = {.write = write_tinted, .subject = output};
    return output_print(tint_wanted() ? &tinted : output, problems);
}

/* ---- Files ---------------------------------------------------------------------------------- */

/* A file under way. */
struct draft {
    char path[PATH_MOST];   /* its own name */
    char beside[PATH_MOST]; /* where it is written; empty: not there */
};

static enum outcome name_draft(const char *folder, const char *name, long number,
                               struct draft *draft, struct problems *problems) {
    const int length = snprintf(draft->path, PATH_MOST, "%s/%s", folder, name);
    const int beside = snprintf(draft->beside, PATH_MOST, "%s/.%s.%ld", folder, name, number);
    if (length < 0 || beside < 0 || length >= PATH_MOST || beside >= PATH_MOST) {
        draft->beside[0] = '\0';
        return refuse(problems, folder, ENAMETOOLONG, "a shorter path");
    }
    return OUTCOME_DONE;
}

/* Writes and closes; 0, or the first error. */
static int write_through(const struct output *output, FILE *stream, enum outcome *written) {
    int error = write_out(output, stream, written);
    if (error == 0 && fsync(fileno(stream)) != 0 && errno != EINVAL && errno != ENOTSUP) {
        error = errno;
    }
    if (fclose(stream) != 0 && error == 0) {
        error = errno;
    }
    return error;
}

/* Opens a new file beside the one wanted; *descriptor stays below 0, with errno, where none can be.
 * Its number is that of the process; where some killed one left a file behind under that number, as
 * happens where numbers begin from 1 again, the next. */
static enum outcome open_draft(const char *folder, const char *name, struct draft *draft,
                               int *descriptor, struct problems *problems) {
    for (long tries = 0; tries < TRIES_MOST; tries++) {
        const enum outcome named =
            name_draft(folder, name, (long)getpid() + tries, draft, problems);
        if (named != OUTCOME_DONE) {
            return named;
        }
        *descriptor = open(draft->beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (*descriptor >= 0 || errno != EEXIST) {
            break;
        }
    }
    return OUTCOME_DONE;
}

static enum outcome write_draft(const char *folder, const struct output *output,
                                struct draft *draft, struct problems *problems) {
    int descriptor = -1;
    enum outcome outcome = open_draft(folder, output->name, draft, &descriptor, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    FILE *stream = descriptor < 0 ? NULL : fdopen(descriptor, "w");
    if (stream == NULL) {
        const int error = errno;
        if (descriptor >= 0) {
            close(descriptor);
        } else {
            draft->beside[0] = '\0'; /* whoever's that is, it is not ours to remove */
        }
        return refuse(problems, draft->path, error, "a folder that can be written to");
    }
    const int error = write_through(output, stream, &outcome);
    return error == 0 ? outcome : refuse(problems, draft->path, error, "room to write the file");
}

static enum outcome rename_draft(struct draft *draft, struct problems *problems) {
    if (rename(draft->beside, draft->path) != 0) {
        return refuse(problems, draft->path, errno, "a name that a file can take");
    }
    draft->beside[0] = '\0';
    return OUTCOME_DONE;
}

enum outcome output_folder(const char *folder, struct problems *problems) {
    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        return refuse(problems, folder, errno, "a folder that is there or can be made");
    }
    return OUTCOME_DONE;
}

enum outcome output_files(const char *folder, const struct output *outputs, size_t count,
                          struct problems *problems) {
    struct draft drafts[FILES_MOST] = {{{0}, {0}}};
    enum outcome outcome = OUTCOME_DONE;
    if (count > FILES_MOST) {
        return OUTCOME_FAULT;
    }
    const bool made = mkdir(folder, 0777) == 0;
    if (!made && errno != EEXIST) {
        return refuse(problems, folder, errno, "a folder that is there or can be made");
    }
    for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
        outcome = write_draft(folder, &outputs[i], &drafts[i], problems);
    }
    for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
        outcome = rename_draft(&drafts[i], problems);
    }
    for (size_t i = 0; i < count; i++) {
        if (drafts[i].beside[0] != '\0') {
            unlink(drafts[i].beside);
        }
    }
    if (outcome != OUTCOME_DONE && made) {
        rmdir(folder); /* only if nothing is in it */
    }
    return outcome;
}

/* The folder of a path: all before its last slash, or `.`; false where that is too long. */
static bool folder_of(const char *path, char folder[PATH_MOST], const char **name) {
    const char *slash = strrchr(path, '/');
    *name = slash == NULL ? path : slash + 1;
    const size_t length = slash == NULL ? 0 : slash == path ? 1 : (size_t)(slash - path);
    const int used = slash == NULL ? snprintf(folder, PATH_MOST, ".")
                                   : snprintf(folder, PATH_MOST, "%.*s", (int)length, path);
    return length < PATH_MOST && used > 0 && used < PATH_MOST;
}

enum outcome output_file(const char *path, enum outcome (*write)(const void *subject, FILE *stream),
                         const void *subject, struct problems *problems) {
    char folder[PATH_MOST];
    struct output output = {.write = write, .subject = subject};
    if (!folder_of(path, folder, &output.name)) {
        return refuse(problems, path, ENAMETOOLONG, "a shorter path");
    }
    return output_files(folder, &output, 1, problems);
}

/* True for `.NAME.123`, which is what name_draft calls a file under way. */
static bool is_draft_of(const char *entry, const char *name) {
    const size_t length = strlen(name);
    if (entry[0] != '.' || strncmp(entry + 1, name, length) != 0 || entry[length + 1] != '.') {
        return false;
    }
    const char *number = entry + length + 2;
    return number[0] != '\0' && strspn(number, "0123456789") == strlen(number);
}

enum outcome output_clear_path(const char *path, struct problems *problems) {
    char folder[PATH_MOST];
    const char *name = NULL;
    if (!folder_of(path, folder, &name)) {
        return refuse(problems, path, ENAMETOOLONG, "a shorter path");
    }
    return output_clear(folder, name, problems);
}

enum outcome output_clear(const char *folder, const char *name, struct problems *problems) {
    const enum outcome made = output_folder(folder, problems);
    if (made != OUTCOME_DONE) {
        return made;
    }
    DIR *directory = opendir(folder);
    const struct dirent *entry = directory == NULL ? NULL : readdir(directory);
    for (; entry != NULL; entry = readdir(directory)) {
        if (is_draft_of(entry->d_name, name)) {
            (void)unlinkat(dirfd(directory), entry->d_name, 0);
        }
    }
    if (directory != NULL) {
        closedir(directory);
    }
    return OUTCOME_DONE;
}

enum outcome output_files_anew(const char *folder, const struct output *outputs, size_t count,
                               struct problems *problems) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
        outcome = output_clear(folder, outputs[i].name, problems);
    }
    return outcome == OUTCOME_DONE ? output_files(folder, outputs, count, problems) : outcome;
}

int output_end(enum outcome outcome, struct problems *problems) {
    if (problems->total == 0 && outcome == OUTCOME_FAULT) {
        fputs("ruddle: out of memory, or a defect of the program\n", stderr);
    }
    problems_print(problems, stderr);
    problems_free(problems);
    return (int)outcome;
}
