#include "fleet_trial.h"

#include "digest.h"

#include <math.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

static void *begin(const void *order) {
    (void)order;
    return malloc(1);
}

static void wait_for_ever(void) {
    for (;;)
        pause();
}

static void hog(struct fleet_row *row) {
    size_t had = 0;
    for (volatile char *block = malloc(1 << 20); block != NULL; block = malloc(1 << 20)) {
        block[0] = 1;
        had++;
    }
    row->status = FLEET_ERROR;
    snprintf(row->error, sizeof row->error, "no memory after more than %s",
             had > 16 ? "16 MiB" : "nothing");
    row->fault = true;
}

static bool begins(const char *text, const char *word) {
    return strncmp(text, word, strlen(word)) == 0;
}

static void do_harm(const char *text, struct fleet_row *row) {
    const struct timespec late = {0, 50000000};
    if (begins(text, "late:"))
        nanosleep(&late, NULL);
    if (begins(text, "crash:")) {
        signal(SIGSEGV, SIG_DFL); /* sanitizers catch it otherwise */
        raise(SIGSEGV);
    }
    if (begins(text, "leave:"))
        _exit(7);
    if (begins(text, "kill:"))
        kill(getpid(), SIGKILL);
    if (begins(text, "stop:"))
        kill(getppid(), SIGINT);
    if (begins(text, "hang:") || begins(text, "stop:"))
        wait_for_ever();
    if (begins(text, "hog:"))
        hog(row);
}

/* One byte more in FILE.tally, so that it can be told how often a roof was laid out. */
static void tally(const char *file) {
    char path[RUN_PATH + 8];
    snprintf(path, sizeof path, "%s.tally", file);
    FILE *stream = fopen(path, "a");
    if (stream != NULL) {
        fputs("x", stream);
        fclose(stream);
    }
}

static void lay_out(void *bench, const struct fleet_task *task, struct fleet_row *row) {
    char text[200] = "";
    FILE *stream = fopen(task->file, "r");
    (void)bench;
    row->forgiveness = row->moved = NAN;
    row->holes = -1;
    if (stream == NULL || fgets(text, sizeof text, stream) == NULL) {
        row->status = FLEET_ERROR;
        snprintf(row->error, sizeof row->error, "not a file with a line in it");
    }
    if (stream != NULL)
        fclose(stream);
    row->digest = digest_text(DIGEST_START, text);
    row->unchanged = task->known && task->digest == row->digest;
    if (row->unchanged)
        return;
    tally(task->file);
    text[strcspn(text, "\n")] = '\0';
    do_harm(text, row);
    if (row->status == FLEET_ERROR)
        return;
    const char *said = strchr(text, ' ') == NULL ? "" : strchr(text, ' ') + 1;
    row->status = begins(text, "blocked:") ? FLEET_BLOCKED : FLEET_OK;
    snprintf(row->roof, sizeof row->roof, "%.60s", said);
    snprintf(row->rule, sizeof row->rule, "%.20s",
             row->status == FLEET_BLOCKED ? said : "course-edge");
    row->forgiveness = (double)strlen(text) / 16 * (row->status == FLEET_BLOCKED ? -1 : 1);
    row->moved = 1.5;
    row->holes = 4;
    row->proved = true;
}

struct fleet_craft trial_craft(void) {
    return (struct fleet_craft){.begin = begin, .lay_out = lay_out, .end = free};
}

/* Sanitizers reserve far more than any limit for themselves. */
static uint64_t memory_most(void) {
#if defined(__SANITIZE_ADDRESS__)
    return 0;
#else
    return UINT64_C(256) << 20;
#endif
}

char *trial_text(enum outcome (*write)(const void *subject, FILE *stream), const void *subject) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(write(subject, stream), OUTCOME_DONE);
    assert_int_equal(fclose(stream), 0);
    return text;
}

struct fleet *trial_open(const struct trial_how *how, const char *const *paths, size_t count) {
    struct problems problems = {0};
    struct fleet *fleet = NULL;
    const struct fleet_start start = {.report = how->report,
                                      .resume = how->resume,
                                      .shard = how->shard > 0 ? how->shard : 1,
                                      .shards = how->shards > 0 ? how->shards : 1,
                                      .sheets = how->sheets,
                                      .sheet = "sheet.txt",
                                      .settings =
                                          how->settings != NULL ? how->settings : "the same"};
    assert_int_equal(fleet_open(&start, &fleet, &problems), OUTCOME_DONE);
    assert_int_equal(fleet_list(fleet, paths, count, &problems), OUTCOME_DONE);
    return fleet;
}

bool trial_labour(struct fleet *fleet, const struct trial_how *how) {
    struct problems problems = {0};
    bool stopped = false;
    const struct fleet_labour labour = {.jobs = how->jobs > 0 ? how->jobs : 2,
                                        .patience_s = how->patience_s > 0 ? how->patience_s : 60,
                                        .memory_most = memory_most()};
    const struct fleet_craft craft = trial_craft();
    assert_int_equal(fleet_run(fleet, &craft, &labour, &stopped, &problems), OUTCOME_DONE);
    return stopped;
}

void trial_close(struct fleet *fleet) {
    struct problems problems = {0};
    assert_int_equal(fleet_close(fleet, &problems), OUTCOME_DONE);
    assert_int_equal(problems.total, 0);
}

char *trial_run(const struct trial_how *how, const char *const *paths, size_t count,
                bool *stopped) {
    struct fleet *fleet = trial_open(how, paths, count);
    const bool was_stopped = trial_labour(fleet, how);
    if (stopped != NULL)
        *stopped = was_stopped;
    else
        assert_false(was_stopped);
    char *text = trial_text(fleet_write_csv, fleet);
    trial_close(fleet);
    return text;
}

void trial_write(const char *folder, const char *name, const char *text) {
    char path[RUN_PATH];
    run_path(path, folder, name);
    for (char *slash = strchr(path + strlen(folder) + 1, '/'); slash != NULL;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(path, 0777);
        *slash = '/';
    }
    run_file_write(path, text);
}

char *trial_line(const char *report, const char *file_end) {
    char wanted[RUN_PATH];
    snprintf(wanted, sizeof wanted, "%s,", file_end);
    const char *at = strstr(report, wanted);
    if (at == NULL)
        return NULL;
    while (at > report && at[-1] != '\n')
        at--;
    return strndup(at, strcspn(at, "\r\n"));
}

size_t trial_lines(const char *text) {
    size_t lines = 0;
    for (; *text != '\0'; text++)
        lines += *text == '\n';
    return lines;
}
