#include "answers.h"

#include "grow.h"

#include <stdlib.h>
#include <string.h>

const char answers_head[] =
    "# A roof file by `ruddle survey FILE --ask`: the same command goes on with it.";

static const char left_out[] = "# left out: ";

void answers_free(struct answers *answers) {
    free(answers->list);
    *answers = (struct answers){0};
}

static struct answered_key *find(const struct answers *answers, const char *path) {
    for (size_t i = 0; i < answers->count; i++) {
        if (strcmp(answers->list[i].path, path) == 0) {
            return &answers->list[i];
        }
    }
    return NULL;
}

const struct answered_key *answers_find(const struct answers *answers, const char *path) {
    return find(answers, path);
}

/* Room for one more; NULL where there is none. */
static struct answered_key *add(struct answers *answers) {
    struct answered_key *list =
        answers->count >= ANSWERS_MOST
            ? NULL
            : grow_list(answers->list, &answers->room, answers->count, sizeof *answers->list);
    if (list == NULL) {
        return NULL;
    }
    answers->list = list;
    return &answers->list[answers->count++];
}

enum outcome answers_set(struct answers *answers, const char *path, const char *value) {
    struct answered_key *key = find(answers, path);
    if (key == NULL) {
        key = add(answers);
    }
    if (key == NULL) {
        return OUTCOME_FAULT;
    }
    *key = (struct answered_key){.left_out = value == NULL};
    snprintf(key->path, sizeof key->path, "%s", path);
    snprintf(key->value, sizeof key->value, "%s", value == NULL ? "" : value);
    return OUTCOME_DONE;
}

void answers_drop(struct answers *answers, const char *path) {
    struct answered_key *key = find(answers, path);
    if (key != NULL) {
        const size_t after = answers->count - (size_t)(key - answers->list) - 1;
        memmove(key, key + 1, after * sizeof *key);
        answers->count--;
    }
}

/* ---- Writing -------------------------------------------------------------------------------- */

/* The next part of a path: a key, or an entry "[2]"; its bytes.  *path moves behind it. */
static size_t next_part(const char **path, const char **part) {
    *path += **path == '.';
    *part = *path;
    const size_t length = **path == '[' ? strcspn(*path, "]") + 1 : strcspn(*path, ".[");
    *path += length;
    return length;
}

static bool is_plain(char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
           (byte >= '0' && byte <= '9');
}

/* Whether YAML takes a value as it stands. */
static bool needs_quotes(const char *value) {
    if (!is_plain(value[0])) {
        return true;
    }
    for (const char *byte = value; *byte != '\0'; byte++) {
        if (!is_plain(*byte) && strchr(" /.'\"-+()", *byte) == NULL) {
            return true;
        }
    }
    return false;
}

static void write_value(const char *value, FILE *stream) {
    if (!needs_quotes(value)) {
        fputs(value, stream);
        return;
    }
    fputc('\'', stream);
    for (const char *byte = value; *byte != '\0'; byte++) {
        fputs(*byte == '\'' ? "''" : (const char[]){*byte, '\0'}, stream);
    }
    fputc('\'', stream);
}

void answers_write(struct answers_writer *writer, const char *path, const char *value) {
    const char *rest = path, *before = writer->before;
    bool same = true, dashed = false;
    for (int depth = 0; *rest != '\0'; depth++) {
        const char *part = NULL, *other = NULL;
        const size_t length = next_part(&rest, &part);
        same = same && next_part(&before, &other) == length && strncmp(part, other, length) == 0;
        if (same) {
            continue;
        }
        const int indent = dashed ? 0 : 2 * depth;
        dashed = part[0] == '[';
        if (dashed) {
            fprintf(writer->stream, "%*s- ", indent, "");
        } else {
            fprintf(writer->stream, "%*s%.*s:%s", indent, "", (int)length, part,
                    *rest == '\0' ? " " : "\n");
        }
    }
    write_value(value, writer->stream);
    fputc('\n', writer->stream);
    snprintf(writer->before, sizeof writer->before, "%s", path);
}

void answers_write_left_out(struct answers_writer *writer, const char *path) {
    fprintf(writer->stream, "%s%s\n", left_out, path);
}

/* ---- Reading back --------------------------------------------------------------------------- */

enum { DEPTH_MOST = 6, KEY_MOST = 24 };

struct reading {
    const char *file;
    int line;
    char parts[DEPTH_MOST][KEY_MOST]; /* of the path that the line before stands at */
    int depth;                        /* how many */
    struct answers *answers;
    struct problems *problems;
};

static enum outcome refuse(const struct reading *reading, const char *found) {
    problems_add(reading->problems, reading->file, reading->line, NULL, found,
                 "a line as asking leaves it; a file that was changed otherwise goes on by hand");
    return OUTCOME_BAD_INPUT;
}

/* Adds to a path as much as fits; false where it does not. */
static bool append(char path[ANSWERS_PATH], const char *part) {
    const size_t used = strlen(path), length = strlen(part);
    const bool dot = used > 0 && part[0] != '[';
    if (used + dot + length >= ANSWERS_PATH) {
        return false;
    }
    snprintf(path + used, ANSWERS_PATH - used, "%s%s", dot ? "." : "", part);
    return true;
}

static enum outcome keep(struct reading *reading, const char *path, const char *value) {
    if (answers_find(reading->answers, path) != NULL) {
        return refuse(reading, path);
    }
    const enum outcome outcome = answers_set(reading->answers, path, value);
    if (outcome == OUTCOME_DONE) {
        reading->answers->list[reading->answers->count - 1].line = reading->line;
    }
    return outcome;
}

/* Takes the quotes off a value, in place; false where they do not close. */
static bool unquote(char *value) {
    if (value[0] != '\'') {
        return value[0] != '\0' && !needs_quotes(value);
    }
    char *to = value;
    const char *from = value + 1;
    while (*from != '\0' && (*from != '\'' || from[1] == '\'')) {
        from += *from == '\'';
        *to++ = *from++;
    }
    const bool closes = from[0] == '\'' && from[1] == '\0';
    *to = '\0';
    return closes;
}

/* `- ` at that depth: the next entry of its list. */
static void next_entry(struct reading *reading, int depth) {
    long number = 0;
    if (reading->depth > depth && reading->parts[depth][0] == '[') {
        number = strtol(reading->parts[depth] + 1, NULL, 10); /* ours: digits and nothing else */
    }
    snprintf(reading->parts[depth], KEY_MOST, "[%ld]", number + 1);
    reading->depth = depth + 1;
}

static enum outcome keep_value(struct reading *reading, char *value) {
    char path[ANSWERS_PATH] = "";
    bool good = unquote(value) && strlen(value) < TERMINAL_LINE;
    for (int i = 0; i < reading->depth && good; i++) {
        good = append(path, reading->parts[i]);
    }
    return good ? keep(reading, path, value) : refuse(reading, value);
}

static size_t key_length(const char *text) {
    size_t length = 0;
    while (is_plain(text[length]) || text[length] == '_') {
        length++;
    }
    return text[length] == ':' ? length : 0;
}

/* `KEY:`, `KEY: VALUE`, `- VALUE` or `- KEY: VALUE`. */
static enum outcome read_key_line(struct reading *reading, char *text) {
    const size_t blanks = strspn(text, " ");
    int depth = (int)(blanks / 2);
    const char *whole = text;
    text += blanks;
    if (blanks % 2 != 0 || depth > reading->depth) {
        return refuse(reading, whole);
    }
    if (strncmp(text, "- ", 2) == 0 && depth + 1 < DEPTH_MOST) {
        next_entry(reading, depth++);
        text += 2;
    }
    const size_t length = key_length(text);
    if (length == 0) {
        return depth > 0 && reading->depth == depth ? keep_value(reading, text)
                                                    : refuse(reading, whole);
    }
    if (depth >= DEPTH_MOST || length >= KEY_MOST) {
        return refuse(reading, whole);
    }
    snprintf(reading->parts[depth], KEY_MOST, "%.*s", (int)length, text);
    reading->depth = depth + 1;
    text += length + 1;
    if (*text == '\0') {
        return OUTCOME_DONE;
    }
    return *text == ' ' ? keep_value(reading, text + 1) : refuse(reading, whole);
}

static enum outcome read_line(struct reading *reading, char *text) {
    const size_t length = strlen(left_out);
    if (reading->line == 1) {
        return strcmp(text, answers_head) == 0 ? OUTCOME_DONE : refuse(reading, text);
    }
    if (strncmp(text, left_out, length) == 0 && strlen(text + length) < ANSWERS_PATH) {
        return keep(reading, text + length, NULL);
    }
    return read_key_line(reading, text);
}

enum outcome answers_read(const char *file, const char *text, struct answers *answers,
                          struct problems *problems) {
    struct reading reading = {.file = file, .answers = answers, .problems = problems};
    enum outcome outcome = OUTCOME_DONE;
    char *copy = strdup(text);
    if (copy == NULL) {
        return OUTCOME_FAULT;
    }
    for (char *line = copy; *line != '\0' && outcome == OUTCOME_DONE;) {
        char *end = line + strcspn(line, "\n");
        const bool last = *end == '\0';
        *end = '\0';
        reading.line++;
        outcome = read_line(&reading, line);
        line = last ? end : end + 1;
    }
    if (outcome == OUTCOME_DONE && reading.line == 0) {
        reading.line = 1;
        outcome = refuse(&reading, NULL);
    }
    free(copy);
    return outcome;
}
