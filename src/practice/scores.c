/* The trainee's own file: a line a roof. */
#include "practice.h"

#include "grow.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char head[] = "level,number,score,day";
enum { LINE_MOST = 64 };

void scores_free(struct scores *scores) {
    free(scores->list);
    *scores = (struct scores){0};
}

enum outcome scores_add(struct scores *scores, const struct score_entry *entry) {
    struct score_entry *list =
        scores->count >= SCORES_MOST
            ? NULL
            : grow_list(scores->list, &scores->room, scores->count, sizeof *scores->list);
    if (list == NULL) {
        return OUTCOME_FAULT;
    }
    scores->list = list;
    scores->list[scores->count++] = *entry;
    return OUTCOME_DONE;
}

/* Reads digits up to `most`, and the sign behind them; false where they are not there. */
static bool read_number(const char **text, unsigned most, char sign, unsigned *number) {
    const char *at = *text;
    unsigned value = 0;
    while (*at >= '0' && *at <= '9' && value <= most) {
        value = value * 10 + (unsigned)(*at++ - '0');
    }
    if (at == *text || value > most || *at != sign) {
        return false;
    }
    *text = at + 1;
    *number = value;
    return true;
}

static bool is_day(const char *text) {
    static const char form[] = "dddd-dd-dd";
    for (size_t i = 0; form[i] != '\0'; i++) {
        const bool digit = text[i] >= '0' && text[i] <= '9';
        if (form[i] == 'd' ? !digit : text[i] != form[i]) {
            return false;
        }
    }
    return text[sizeof form - 1] == '\0';
}

static bool read_entry(const char *line, struct score_entry *entry) {
    const char *rest = line;
    const bool good = read_number(&rest, PRACTICE_LEVELS, ',', &entry->level) &&
                      read_number(&rest, PRACTICE_SEED_MOST, ',', &entry->seed) &&
                      read_number(&rest, 100, ',', &entry->score) && entry->level > 0 &&
                      entry->seed > 0 && is_day(rest);
    if (good) {
        memcpy(entry->day, rest, sizeof entry->day);
    }
    return good;
}

static enum outcome read_lines(const char *path, FILE *stream, struct scores *scores,
                               struct problems *problems) {
    char line[LINE_MOST];
    enum outcome outcome = OUTCOME_DONE;
    for (int number = 1; outcome == OUTCOME_DONE && fgets(line, sizeof line, stream) != NULL;
         number++) {
        struct score_entry entry = {0};
        line[strcspn(line, "\r\n")] = '\0';
        if (number == 1 ? strcmp(line, head) == 0 : read_entry(line, &entry)) {
            outcome = number == 1 ? OUTCOME_DONE : scores_add(scores, &entry);
        } else {
            problems_add(problems, path, number, NULL, line,
                         number == 1 ? "level,number,score,day: the first line of a progress file"
                                     : "a line such as 2,7,85,2026-11-25");
            outcome = OUTCOME_BAD_INPUT;
        }
    }
    return ferror(stream) != 0 ? OUTCOME_FAULT : outcome;
}

enum outcome scores_read(const char *path, struct scores *scores, struct problems *problems) {
    struct stat status = {0};
    if (stat(path, &status) != 0 && errno == ENOENT) {
        return OUTCOME_DONE;
    }
    FILE *stream = S_ISREG(status.st_mode) ? fopen(path, "r") : NULL;
    if (stream == NULL) {
        problems_add(problems, path, 0, NULL, NULL,
                     "a progress file that can be read, or none yet");
        return OUTCOME_BAD_INPUT;
    }
    const enum outcome outcome = read_lines(path, stream, scores, problems);
    fclose(stream);
    return outcome;
}

enum outcome scores_write(const void *subject, FILE *stream) {
    const struct scores *scores = subject;
    fprintf(stream, "%s\n", head);
    for (size_t i = 0; i < scores->count; i++) {
        const struct score_entry *entry = &scores->list[i];
        fprintf(stream, "%u,%u,%u,%s\n", entry->level, entry->seed, entry->score, entry->day);
    }
    return OUTCOME_DONE;
}

/* True if the entry is the first good one of its roof. */
static bool is_first_good(const struct scores *scores, size_t number) {
    const struct score_entry *entry = &scores->list[number];
    for (size_t i = 0; i < number; i++) {
        const struct score_entry *other = &scores->list[i];
        if (other->level == entry->level && other->seed == entry->seed &&
            other->score >= SCORES_GOOD) {
            return false;
        }
    }
    return entry->score >= SCORES_GOOD;
}

size_t scores_done(const struct scores *scores, unsigned level) {
    size_t done = 0;
    for (size_t i = 0; i < scores->count; i++) {
        done += scores->list[i].level == level && is_first_good(scores, i);
    }
    return done;
}

unsigned scores_level(const struct scores *scores) {
    unsigned level = 1;
    while (level < PRACTICE_LEVELS && scores_done(scores, level) >= SCORES_ROOFS) {
        level++;
    }
    return level;
}

static bool was_graded(const struct scores *scores, unsigned level, unsigned seed) {
    for (size_t i = 0; i < scores->count; i++) {
        if (scores->list[i].level == level && scores->list[i].seed == seed) {
            return true;
        }
    }
    return false;
}

unsigned scores_seed(const struct scores *scores, unsigned level) {
    unsigned seed = 1;
    while (was_graded(scores, level, seed)) {
        seed++;
    }
    return seed;
}
