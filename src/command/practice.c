#include "practice.h"

#include "command.h"
#include "output.h"

#include <string.h>
#include <time.h>
#include <unistd.h>

/* Everything made on the way; all owned. */
struct sitting {
    struct scores scores;
    struct survey_layout *answer; /* of --grade */
    struct practice practice;
    struct marks *marks; /* NULL: the answer was not finished */
    struct grade grade;
};

static void sitting_free(struct sitting *sitting) {
    grade_free(&sitting->grade);
    marks_free(sitting->marks);
    practice_free(&sitting->practice);
    survey_layout_free(sitting->answer);
    scores_free(&sitting->scores);
}

/* ---- Which roof ----------------------------------------------------------------------------- */

/* What an answer file says that it answers: LEVEL/NUMBER. */
static enum outcome read_subject(const struct survey_layout *answer, unsigned *level,
                                 unsigned *seed, struct problems *problems) {
    const char *text = answer->practice;
    unsigned long long parts[2] = {0, 0};
    size_t part = 0;
    bool good = text != NULL;
    for (; good && *text != '\0'; text++) {
        if (*text == '/') {
            good = ++part < 2;
        } else {
            good = *text >= '0' && *text <= '9' && parts[part] <= PRACTICE_SEED_MOST;
            parts[part] = parts[part] * 10 + (unsigned long long)(*text - '0');
        }
    }
    if (!good || part != 1 || parts[0] < 1 || parts[0] > PRACTICE_LEVELS || parts[1] < 1 ||
        parts[1] > PRACTICE_SEED_MOST) {
        problems_add(problems, answer->path, survey_line(answer->lines, "practice"), "practice",
                     answer->practice, "the roof's level and number, such as 2/7");
        return OUTCOME_BAD_INPUT;
    }
    *level = (unsigned)parts[0];
    *seed = (unsigned)parts[1];
    return OUTCOME_DONE;
}

static enum outcome check_subject(const struct options *options, const struct survey_layout *answer,
                                  unsigned level, unsigned seed, struct problems *problems) {
    if ((options->level == 0 || options->level == level) &&
        (options->seed == 0 || options->seed == seed)) {
        return OUTCOME_DONE;
    }
    problems_add(problems, answer->path, survey_line(answer->lines, "practice"), "practice",
                 answer->practice, "the roof that --level and --seed name, or neither of them");
    return OUTCOME_BAD_INPUT;
}

/* A number that nobody chose: it is shown, and may be asked for again. */
static unsigned any_seed(void) {
    return 1 + (unsigned)((unsigned long long)time(NULL) % PRACTICE_SEED_MOST);
}

static enum outcome choose(const struct options *options, struct sitting *sitting, unsigned *level,
                           unsigned *seed, struct problems *problems) {
    enum outcome outcome = OUTCOME_DONE;
    if (options->progress_path != NULL) {
        outcome = scores_read(options->progress_path, &sitting->scores, problems);
    }
    if (outcome == OUTCOME_DONE && options->grade_path != NULL) {
        outcome = survey_read_layout(options->grade_path, &sitting->answer, problems);
        if (outcome == OUTCOME_DONE) {
            outcome = read_subject(sitting->answer, level, seed, problems);
        }
        return outcome == OUTCOME_DONE
                   ? check_subject(options, sitting->answer, *level, *seed, problems)
                   : outcome;
    }
    *level = options->level > 0 ? options->level : scores_level(&sitting->scores);
    *seed = options->seed > 0                ? options->seed
            : options->progress_path != NULL ? scores_seed(&sitting->scores, *level)
                                             : any_seed();
    return outcome;
}

/* ---- The answer ----------------------------------------------------------------------------- */

/* The hardware is given with the roof: an answer may repeat it, not change it. */
static enum outcome refuse_hardware(const struct sitting *sitting, struct problems *problems) {
    const struct roof *roof = sitting->practice.roof;
    for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
        const enum hardware wanted = roof->brackets[0].hardware[row];
        if (sitting->marks->brackets[0].hardware[row] != wanted) {
            char key[40];
            snprintf(key, sizeof key, "brackets[1].%s", roof_row_word(row));
            problems_add(problems, sitting->answer->path, survey_line(sitting->answer->lines, key),
                         key, NULL,
                         wanted == HARDWARE_STRUT ? "strut: the roof says so"
                                                  : "feet: the roof says so");
        }
    }
    return problems->total > 0 ? OUTCOME_BAD_INPUT : OUTCOME_DONE;
}

static enum outcome take_file(struct sitting *sitting, struct problems *problems) {
    const enum outcome outcome =
        marks_from_survey(sitting->practice.roof, sitting->answer, &sitting->marks, problems);
    return outcome == OUTCOME_DONE ? refuse_hardware(sitting, problems) : outcome;
}

/* With --json the questions keep off standard output. */
static enum outcome ask(const struct options *options, struct sitting *sitting,
                        struct problems *problems) {
    struct terminal terminal;
    enum outcome outcome =
        terminal_open(&terminal, STDIN_FILENO, options->json ? stderr : stdout, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = practice_write_survey(&sitting->practice, terminal.out);
    }
    if (outcome == OUTCOME_DONE) {
        fputc('\n', terminal.out);
        terminal_say(
            &terminal, 0,
            "Now your answer. ? tells more, back takes the last answer back, Ctrl-C ends.");
        outcome = practice_ask(&sitting->practice, &terminal, &sitting->marks);
    }
    if (outcome == OUTCOME_DONE && sitting->marks == NULL) {
        terminal_say(&terminal, 0, "The answer was not finished, so it is not graded.");
    }
    terminal_close(&terminal);
    return outcome;
}

/* ---- What comes of it ------------------------------------------------------------------------ */

static enum outcome write_survey(const void *subject, FILE *stream) {
    return practice_write_survey(subject, stream);
}

static enum outcome write_blank(const void *subject, FILE *stream) {
    return practice_write_blank(subject, stream);
}

static enum outcome write_text(const void *subject, FILE *stream) {
    fputs(subject, stream); /* a failure shows on the stream */
    return OUTCOME_DONE;
}

static enum outcome hand_out(const struct options *options, const struct practice *practice,
                             struct problems *problems) {
    const struct output outputs[] = {
        {"survey.txt", write_survey, practice},
        {"answer.yaml", write_blank, practice},
        {"roof.yaml", write_text, practice->roof_text},
        {PRACTICE_KIT, write_text, practice->kit_text},
    };
    return output_files(options->out_dir, outputs, sizeof outputs / sizeof outputs[0], problems);
}

static enum outcome write_grade(const void *subject, FILE *stream) {
    return grade_write(subject, stream);
}

static enum outcome write_grade_json(const void *subject, FILE *stream) {
    return grade_write_json(subject, stream);
}

static enum outcome remember(const struct options *options, struct sitting *sitting,
                             struct problems *problems) {
    const struct practice *practice = &sitting->practice;
    struct score_entry entry = {practice->level, practice->seed, sitting->grade.score, ""};
    const time_t now = time(NULL);
    struct tm day;
    if (gmtime_r(&now, &day) == NULL ||
        strftime(entry.day, sizeof entry.day, "%Y-%m-%d", &day) == 0 ||
        scores_add(&sitting->scores, &entry) != OUTCOME_DONE) {
        return OUTCOME_FAULT;
    }
    return output_file(options->progress_path, scores_write, &sitting->scores, problems);
}

static enum outcome put_grade(const struct options *options, const struct sitting *sitting,
                              struct problems *problems) {
    const struct output outputs[] = {{"grade.txt", write_grade, &sitting->grade},
                                     {"grade.json", write_grade_json, &sitting->grade}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->out_dir != NULL && options->grade_path != NULL) {
        outcome = output_files(options->out_dir, outputs, 2, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = output_print(&outputs[options->json ? 1 : 0], problems);
    }
    if (outcome == OUTCOME_DONE && options->progress_path != NULL && !options->json &&
        !options->quiet) {
        const unsigned level = sitting->practice.level;
        printf("\n%s: level %u, %zu of %d roofs at %d or better; next: level %u\n",
               options->progress_path, level, scores_done(&sitting->scores, level), SCORES_ROOFS,
               SCORES_GOOD, scores_level(&sitting->scores));
    }
    return outcome;
}

static enum outcome grade(const struct options *options, struct sitting *sitting,
                          struct problems *problems) {
    enum outcome outcome = grade_marks(&sitting->practice, sitting->marks, &sitting->grade);
    if (outcome == OUTCOME_DONE && options->progress_path != NULL) {
        outcome = remember(options, sitting, problems);
    }
    return outcome == OUTCOME_DONE ? put_grade(options, sitting, problems) : outcome;
}

static enum outcome sit(const struct options *options, struct sitting *sitting,
                        struct problems *problems) {
    unsigned level = 0, seed = 0;
    enum outcome outcome = choose(options, sitting, &level, &seed, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = practice_set(level, seed, &sitting->practice, problems);
    }
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    if (options->grade_path != NULL) {
        outcome = take_file(sitting, problems);
    } else if (options->out_dir != NULL) {
        return hand_out(options, &sitting->practice, problems);
    } else {
        outcome = ask(options, sitting, problems);
    }
    return outcome == OUTCOME_DONE && sitting->marks != NULL ? grade(options, sitting, problems)
                                                             : outcome;
}

int command_practice(const struct options *options) {
    struct problems problems = {0};
    struct sitting sitting = {0};
    enum outcome outcome = OUTCOME_BAD_INPUT;
    if (options->quiet && options->grade_path == NULL && options->out_dir == NULL) {
        problems_add(&problems, "ruddle", 0, "--quiet", NULL,
                     "--grade or --out beside it: otherwise the trainee is asked");
    } else {
        outcome = sit(options, &sitting, &problems);
    }
    sitting_free(&sitting);
    return output_end(outcome, &problems);
}
