#include "output.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_MOST = 4096, FILES_MOST = 4 };

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

/* ---- Files ---------------------------------------------------------------------------------- */

/* A file under way. */
struct draft {
    char path[PATH_MOST];   /* its own name */
    char beside[PATH_MOST]; /* where it is written; empty: not there */
};

static enum outcome name_draft(const char *folder, const char *name, struct draft *draft,
                               struct problems *problems) {
    const int length = snprintf(draft->path, PATH_MOST, "%s/%s", folder, name);
    const int beside =
        snprintf(draft->beside, PATH_MOST, "%s/.%s.%ld", folder, name, (long)getpid());
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

static enum outcome write_draft(const char *folder, const struct output *output,
                                struct draft *draft, struct problems *problems) {
    enum outcome outcome = name_draft(folder, output->name, draft, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    const int descriptor = open(draft->beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
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

int output_end(enum outcome outcome, struct problems *problems) {
    if (problems->total == 0 && outcome == OUTCOME_FAULT) {
        fputs("ruddle: out of memory, or a defect of the program\n", stderr);
    }
    problems_print(problems, stderr);
    problems_free(problems);
    return (int)outcome;
}
