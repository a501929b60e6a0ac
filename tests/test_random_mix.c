/* The mix of random roofs itself.  With words on the command line it lays them out instead, for
 * tests/referee:
 *
 *     test_random_mix FOLDER FIRST COUNT LIMIT
 *
 * writes COUNT roofs, seeds FIRST and up, into FOLDER, lays each out within LIMIT seconds and
 * checks the layout, all by the program's own commands, each in a process of its own.  Leaves
 * SEED.yaml and SEED-kit.yaml, SEED.json and SEED.check (standard outputs), SEED.words (standard
 * errors), SEED.lp (the model, where there is one) and SEED.codes (the two exit codes).
 */
#include "random_mix.h"

#include "command.h"

#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

enum { ROOFS = 300 };

/* Every sort that the referee promises is among the roofs of its short run. */
static void every_sort_is_among_three_hundred(void **state) {
    (void)state;
    size_t brackets[RANDOM_ABREAST_MOST + 1] = {0}, forms[RANDOM_FORM_COUNT] = {0};
    size_t vents = 0, bonded = 0, sisters = 0, crooked = 0, hips = 0, leaning = 0, pipes = 0;
    size_t loads = 0, right = 0, span = 0, struts = 0, feet = 0, narrow = 0;
    for (uint64_t seed = 1; seed <= ROOFS; seed++) {
        struct random_roof roof;
        enum random_form form;
        bool sistered = false, bent = false;
        random_mix_make(seed, &roof, &form);
        for (size_t i = 0; i < roof.rafter_count; i++) {
            sistered = sistered || roof.rafters[i].plies > 1;
            bent = bent || roof.rafters[i].again != roof.rafters[i].at;
        }
        brackets[roof.bracket_count]++;
        forms[form]++;
        vents += roof.vent_count > 0;
        bonded += roof.bonded && sistered;
        sisters += sistered;
        crooked += bent;
        hips += roof.uneven.face == RANDOM_HIP;
        leaning += roof.uneven.face == RANDOM_LEANING;
        pipes += roof.uneven.piped;
        loads += roof.loads.given;
        right += roof.knobs.right;
        narrow += roof.knobs.narrow;
        span += !roof.kit.every_rafter;
        struts += !roof.brackets[0].feet[0];
        feet += roof.brackets[0].feet[1];
    }
    for (size_t n = 1; n <= RANDOM_ABREAST_MOST; n++)
        assert_true(brackets[n] >= 2);
    for (int form = 0; form < RANDOM_FORM_COUNT; form++)
        assert_true(forms[form] >= 30);
    const size_t counts[] = {vents, bonded, sisters, crooked, hips,   leaning, pipes,
                             loads, right,  narrow,  span,    struts, feet};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        if (counts[i] < 10)
            fail_msg("sort %zu: only %zu roofs", i, counts[i]);
}

static void same_seed_is_the_same_roof(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed <= 20; seed++) {
        struct random_roof one, other;
        enum random_form form, again;
        random_mix_make(seed, &one, &form);
        random_mix_make(seed, &other, &again);
        assert_memory_equal(&one, &other, sizeof one);
        assert_int_equal(form, again);
    }
}

/* Seconds of the processor, however busy the machine: a search has its limit; what goes on in spite
 * of it is stopped then. */
enum { MOST_S = 120 };

static bool redirect(int to, const char *path, int flags) {
    const int file = open(path, O_WRONLY | O_CREAT | flags, 0666);
    return file >= 0 && dup2(file, to) == to;
}

/* A command in a process of its own; its exit code, 128 and the signal that ended it, or -1. */
static int run(int count, const char **words, const char *out, const char *err, int err_flags) {
    int status = 0;
    const pid_t child = fork();
    if (child == 0) {
        setrlimit(RLIMIT_CPU, &(struct rlimit){MOST_S, MOST_S});
        if (!redirect(STDOUT_FILENO, out, O_TRUNC) || !redirect(STDERR_FILENO, err, err_flags))
            _exit(OUTCOME_FAULT);
        const int code = command_run(count, (char **)words);
        fflush(NULL);
        _exit(code);
    }
    if (child < 0 || waitpid(child, &status, 0) != child)
        return -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

static bool note_codes(const char *path, int laid_out, int checked) {
    FILE *file = fopen(path, "w");
    if (file == NULL)
        return false;
    fprintf(file, "%d %d\n", laid_out, checked);
    return fclose(file) == 0;
}

enum { TAILS = 6 };

static bool try_roof(const char *folder, uint64_t seed, const char *limit) {
    static const char *const tails[TAILS] = {"yaml", "json", "check", "words", "lp", "codes"};
    enum { ROOF, JSON, CHECK, WORDS, MODEL, CODES };
    char paths[TAILS][RANDOM_PATH], stem[32];
    struct random_roof made;
    enum random_form form;
    random_mix_make(seed, &made, &form);
    snprintf(stem, sizeof stem, "%llu", (unsigned long long)seed);
    for (int i = 0; i < TAILS; i++)
        snprintf(paths[i], sizeof paths[i], "%s/%s.%s", folder, stem, tails[i]);
    if (!random_roof_write(&made, form, folder, stem, paths[ROOF]))
        return false;
    const char *layout[] = {"ruddle", "layout",  paths[ROOF],  "--json", "--limit",
                            limit,    "--model", paths[MODEL], NULL};
    const char *check[] = {"ruddle", "check", paths[ROOF], paths[JSON], "--json", NULL};
    const int laid_out = run(8, layout, paths[JSON], paths[WORDS], O_TRUNC);
    const int checked = run(5, check, paths[CHECK], paths[WORDS], O_APPEND);
    return note_codes(paths[CODES], laid_out, checked);
}

static int try_roofs(char **words) {
    const uint64_t first = strtoull(words[2], NULL, 10), count = strtoull(words[3], NULL, 10);
    for (uint64_t seed = first; seed < first + count; seed++) {
        if (!try_roof(words[1], seed, words[4])) {
            fprintf(stderr, "seed %llu: files cannot be written to %s\n", (unsigned long long)seed,
                    words[1]);
            return OUTCOME_FAULT;
        }
    }
    return OUTCOME_DONE;
}

int main(int argc, char **argv) {
    if (argc == 5)
        return try_roofs(argv);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_sort_is_among_three_hundred),
        cmocka_unit_test(same_seed_is_the_same_roof),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
