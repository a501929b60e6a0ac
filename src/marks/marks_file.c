/* Marks from a layout file, held against the roof's names. */
#include "ports.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Every pair of marks is looked at, and beyond this many the pairs would fill the memory; 64
 * brackets on twelve feet a row need 1536. */
enum { MARKS_MOST = 2048, KEY_MOST = 96 };

/* One file being read. */
struct file {
    const struct roof *roof;
    const struct survey_layout *layout;
    enum measure measure;
    struct marks *marks;
    bool *named; /* one a mark: the file says which pipe's it is */
    struct problems *problems;
};

static const char pipe_word[] = "pipe";

static void refuse(const struct file *file, const char *key, const char *found,
                   const char *wanted) {
    problems_add(file->problems, file->layout->path, survey_line(file->layout->lines, key), key,
                 found, wanted);
}

/* The path of a key of an entry, counted from 0 here and from 1 in messages. */
static const char *path_of(char buffer[KEY_MOST], const char *list, unsigned index,
                           const char *key) {
    snprintf(buffer, KEY_MOST, "%s[%u].%s", list, index + 1, key);
    return buffer;
}

static double read_length(const struct file *file, const char *key, const char *text) {
    static const char example[] = "a length, such as 14 5/8, -3 1/2 or 420 mm";
    double inches = 0;
    if (text == NULL) {
        refuse(file, key, "", example);
        return 0;
    }
    enum length_fault fault = length_read(text, file->measure, &inches);
    if (fault != LENGTH_GOOD) {
        char wanted[200];
        snprintf(wanted, sizeof wanted, "%s (this is %s)", example, length_fault_text(fault));
        refuse(file, key, text, wanted);
    }
    return inches;
}

static void refuse_name(const struct file *file, const char *key, const char *found) {
    char wanted[224] = "the name of a bracket of the roof:";
    for (size_t i = 0; i < file->roof->bracket_count; i++) {
        size_t used = strlen(wanted);
        snprintf(wanted + used, sizeof wanted - used, "%s %s", i == 0 ? "" : ",",
                 file->roof->brackets[i].name);
    }
    refuse(file, key, found, wanted);
}

/* The bracket of that name, or SIZE_MAX with a fault told. */
static size_t find_bracket(const struct file *file, const char *key, const char *name) {
    for (size_t i = 0; name != NULL && i < file->roof->bracket_count; i++)
        if (strcmp(file->roof->brackets[i].name, name) == 0)
            return i;
    refuse_name(file, key, name);
    return SIZE_MAX;
}

/* `top` and `bottom` of a bracket; the roof's own where absent. */
static enum hardware read_hardware(const struct file *file, const char *key, const char *text,
                                   enum hardware usual) {
    if (text == NULL)
        return usual;
    if (strcmp(text, roof_hardware_word(HARDWARE_STRUT)) == 0)
        return HARDWARE_STRUT;
    if (strcmp(text, roof_hardware_word(HARDWARE_FEET)) == 0)
        return HARDWARE_FEET;
    refuse(file, key, text, "strut or feet");
    return usual;
}

static void read_bracket(const struct file *file, unsigned index, bool *seen) {
    const struct survey_layout_bracket *written = &file->layout->brackets[index];
    const char *texts[ROW_COUNT] = {[ROW_TOP] = written->top, [ROW_BOTTOM] = written->bottom};
    char key[KEY_MOST];
    struct standing standing = {0};
    size_t bracket = find_bracket(file, path_of(key, "brackets", index, "name"), written->name);
    if (bracket != SIZE_MAX && seen[bracket])
        refuse(file, key, written->name, "each bracket of the roof once");
    standing.x = read_length(file, path_of(key, "brackets", index, "x"), written->x);
    standing.y = read_length(file, path_of(key, "brackets", index, "y"), written->y);
    for (size_t row = 0; row < ROW_COUNT; row++) {
        enum hardware usual =
            bracket != SIZE_MAX ? file->roof->brackets[bracket].hardware[row] : HARDWARE_STRUT;
        path_of(key, "brackets", index, roof_row_word((enum row)row));
        standing.hardware[row] = read_hardware(file, key, texts[row], usual);
    }
    if (bracket != SIZE_MAX) {
        seen[bracket] = true;
        file->marks->brackets[bracket] = standing;
    }
}

/* Pipes of a bracket as a list of names: ": hot, cold"; empty where it has none. */
static void list_pipes(const struct file *file, size_t bracket, char *list, size_t room) {
    size_t used = 0;
    list[0] = '\0';
    for (size_t i = 0; i < file->roof->pipe_count && used < room; i++)
        if (file->roof->pipes[i].bracket == bracket)
            used += (size_t)snprintf(list + used, room - used, "%s %s", used == 0 ? ":" : ",",
                                     file->roof->pipes[i].name);
}

/* Which pipe's a pipe hole is, if the file says so. */
static void read_pipe(const struct file *file, unsigned index) {
    const struct survey_layout_mark *written = &file->layout->marks[index];
    struct mark *mark = &file->marks->list[index];
    char key[KEY_MOST], pipes[140];
    list_pipes(file, mark->bracket, pipes, sizeof pipes);
    if (pipes[0] == '\0') {
        refuse(file, path_of(key, "marks", index, "row"), written->row,
               "top or bottom: the roof has no pipe for this bracket");
        return;
    }
    if (written->pipe == NULL)
        return;
    for (size_t i = 0; i < file->roof->pipe_count && !file->named[index]; i++) {
        const struct pipe *pipe = &file->roof->pipes[i];
        if (pipe->bracket == mark->bracket && strcmp(pipe->name, written->pipe) == 0) {
            mark->pipe = i;
            file->named[index] = true;
        }
    }
    if (!file->named[index]) {
        char wanted[200];
        snprintf(wanted, sizeof wanted, "the name of a pipe of that bracket%s", pipes);
        refuse(file, path_of(key, "marks", index, pipe_word), written->pipe, wanted);
    }
}

/* What row of its bracket a mark belongs to, or that it is a pipe hole. */
static enum row read_row(const struct file *file, unsigned index) {
    const struct survey_layout_mark *written = &file->layout->marks[index];
    char key[KEY_MOST];
    if (written->row != NULL && strcmp(written->row, pipe_word) == 0)
        return ROW_PIPE;
    if (written->pipe != NULL)
        refuse(file, path_of(key, "marks", index, pipe_word), written->pipe,
               "no pipe beside a lag: this key is for marks with row: pipe");
    if (written->row != NULL && strcmp(written->row, roof_row_word(ROW_BOTTOM)) == 0)
        return ROW_BOTTOM;
    if (written->row == NULL || strcmp(written->row, roof_row_word(ROW_TOP)) != 0)
        refuse(file, path_of(key, "marks", index, "row"), written->row,
               "top or bottom, or pipe for a pipe hole");
    return ROW_TOP;
}

static void read_mark(const struct file *file, unsigned index) {
    const struct survey_layout_mark *written = &file->layout->marks[index];
    struct mark *mark = &file->marks->list[index];
    char key[KEY_MOST];
    mark->bracket = find_bracket(file, path_of(key, "marks", index, "bracket"), written->bracket);
    mark->row = read_row(file, index);
    if (mark->row == ROW_PIPE && mark->bracket != SIZE_MAX)
        read_pipe(file, index);
    mark->x = read_length(file, path_of(key, "marks", index, "x"), written->x);
    mark->y = read_length(file, path_of(key, "marks", index, "y"), written->y);
}

static void refuse_missing(const struct file *file, const bool *seen) {
    for (size_t i = 0; i < file->roof->bracket_count; i++) {
        char wanted[200];
        if (seen[i])
            continue;
        snprintf(wanted, sizeof wanted,
                 "every bracket of the roof, such as {name: A, x: 54 1/8, y: 40}; %s is missing",
                 file->roof->brackets[i].name);
        refuse(file, "brackets", "", wanted);
    }
}

static void read_measure(struct file *file) {
    const char *text = file->layout->measure;
    file->measure = file->roof->measure;
    if (text == NULL)
        return;
    if (strcmp(text, "in") == 0)
        file->measure = MEASURE_IN;
    else if (strcmp(text, "mm") == 0)
        file->measure = MEASURE_MM;
    else
        refuse(file, "measure", text, "in or mm");
}

static void read_lists(struct file *file, bool *seen) {
    read_measure(file);
    for (unsigned i = 0; i < file->layout->brackets_count; i++)
        read_bracket(file, i, seen);
    refuse_missing(file, seen);
    for (unsigned i = 0; i < file->layout->marks_count; i++)
        read_mark(file, i);
}

static enum outcome read_all(struct file *file) {
    size_t before = file->problems->total;
    enum outcome outcome = OUTCOME_FAULT;
    bool *seen = calloc(file->roof->bracket_count + 1, sizeof *seen);
    file->named = calloc(file->layout->marks_count + 1, sizeof *file->named);
    if (seen != NULL && file->named != NULL) {
        read_lists(file, seen);
        outcome = file->problems->total > before
                      ? OUTCOME_BAD_INPUT
                      : ports_assign(file->roof, file->named, file->marks);
    }
    free(seen);
    free(file->named);
    return outcome;
}

enum outcome marks_from_survey(const struct roof *roof, const struct survey_layout *layout,
                               struct marks **marks, struct problems *problems) {
    struct file file = {.roof = roof, .layout = layout, .problems = problems};
    if (layout->marks_count > MARKS_MOST) {
        char found[32], wanted[32];
        snprintf(found, sizeof found, "%u marks", layout->marks_count);
        snprintf(wanted, sizeof wanted, "at most %d marks", MARKS_MOST);
        refuse(&file, "marks", found, wanted);
        return OUTCOME_BAD_INPUT;
    }
    enum outcome outcome = marks_new(roof->bracket_count, layout->marks_count, &file.marks);
    if (outcome == OUTCOME_DONE)
        outcome = read_all(&file);
    if (outcome != OUTCOME_DONE) {
        marks_free(file.marks);
        return outcome;
    }
    marks_sort(file.marks);
    *marks = file.marks;
    return OUTCOME_DONE;
}
