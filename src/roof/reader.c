#include "reader.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define LENGTH_EXAMPLE "such as 14 5/8, 6' 2-1/2\" or 420 mm"

/* Adds as much of the text as fits. */
static void append(char *buffer, size_t size, const char *text) {
    size_t used = strlen(buffer), length = strlen(text);
    if (length > size - 1 - used)
        length = size - 1 - used;
    memcpy(buffer + used, text, length);
    buffer[used + length] = '\0';
}

/* Adds a key to the path that stands in buffer. */
static void append_key(char buffer[READER_KEY_MOST], const char *key) {
    if (buffer[0] != '\0' && key[0] != '\0')
        append(buffer, READER_KEY_MOST, ".");
    append(buffer, READER_KEY_MOST, key);
}

struct reader reader_group(const struct reader *reader, const char *group) {
    struct reader inner = *reader;
    append_key(inner.group, group);
    return inner;
}

struct reader reader_entry(const struct reader *reader, const char *list, size_t index) {
    char entry[READER_KEY_MOST];
    snprintf(entry, sizeof entry, "%s[%zu]", list, index + 1);
    return reader_group(reader, entry);
}

/* The whole path of a key.  Returns buffer. */
static const char *path_of(char buffer[READER_KEY_MOST], const struct reader *reader,
                           const char *key) {
    memcpy(buffer, reader->group, READER_KEY_MOST);
    append_key(buffer, key);
    return buffer;
}

bool reader_has(const struct reader *reader, const char *key) {
    char path[READER_KEY_MOST];
    return survey_has(reader->lines, path_of(path, reader, key));
}

void reader_refuse(const struct reader *reader, const char *key, const char *found,
                   const char *wanted, ...) {
    char path[READER_KEY_MOST], text[224];
    va_list values;
    va_start(values, wanted);
    vsnprintf(text, sizeof text, wanted, values);
    va_end(values);
    path_of(path, reader, key);
    problems_add(reader->problems, reader->file, survey_line(reader->lines, path), path, found,
                 text);
}

/* What a value of that sign is called in a message. */
static const char *sign_text(enum sign sign) {
    static const char *const texts[] = {
        [SIGN_ANY] = "",
        [SIGN_NOT_NEGATIVE] = " of at least 0",
        [SIGN_ABOVE_ZERO] = " above 0",
    };
    return texts[sign];
}

/* A value as it was read, or NaN once it has been refused. */
struct value {
    const char *kind, *example;
    enum length_fault fault;
    double figure;
};

static double accept(const struct reader *reader, const char *key, const char *text, enum sign sign,
                     const struct value *value) {
    const char *reason = NULL;
    if (value->fault != LENGTH_GOOD)
        reason = length_fault_text(value->fault);
    else if (value->figure < 0 && sign != SIGN_ANY)
        reason = "negative";
    else if (!(value->figure > 0) && sign == SIGN_ABOVE_ZERO)
        reason = "nothing";
    if (reason == NULL)
        return value->figure;
    reader_refuse(reader, key, text, "%s%s, %s (this is %s)", value->kind, sign_text(sign),
                  value->example, reason);
    return NAN;
}

/* An absent key: its default, or a fault. */
static double absent(const struct reader *reader, const char *key, enum sign sign,
                     const struct value *value, double by_default) {
    if (isnan(by_default))
        reader_refuse(reader, key, "", "%s%s, %s (the key is missing)", value->kind,
                      sign_text(sign), value->example);
    return by_default;
}

static const struct value a_length = {"a length", LENGTH_EXAMPLE, LENGTH_GOOD, NAN};
static const struct value a_number = {"a plain number", "such as 190 or 12.5", LENGTH_GOOD, NAN};
static const struct value a_pitch = {"a pitch above 0 and below 80 degrees",
                                     "such as 5/12 or 26.57 deg", LENGTH_GOOD, NAN};

double reader_length(const struct reader *reader, const char *key, const char *text, enum sign sign,
                     double by_default) {
    struct value value = a_length;
    if (text == NULL)
        return absent(reader, key, sign, &value, by_default);
    value.fault = length_read(text, reader->measure, &value.figure);
    return accept(reader, key, text, sign, &value);
}

double reader_number(const struct reader *reader, const char *key, const char *text, enum sign sign,
                     double by_default) {
    struct value value = a_number;
    if (text == NULL)
        return absent(reader, key, sign, &value, by_default);
    value.fault = length_read_number(text, &value.figure);
    return accept(reader, key, text, sign, &value);
}

double reader_pitch(const struct reader *reader, const char *key, const char *text) {
    struct value value = a_pitch;
    if (text == NULL)
        return absent(reader, key, SIGN_ANY, &value, READER_REQUIRED);
    value.fault = length_read_pitch(text, &value.figure);
    return accept(reader, key, text, SIGN_ANY, &value);
}

struct shown reader_shown(const struct reader *reader, double inches) {
    struct shown shown;
    bool metric = reader->measure == MEASURE_MM;
    snprintf(shown.text, sizeof shown.text, "%.6g %s",
             metric ? inches * LENGTH_MM_PER_INCH : inches, metric ? "mm" : "in");
    return shown;
}

const char *reader_written(char buffer[READER_KEY_MOST], const struct survey_texts *texts) {
    buffer[0] = '\0';
    for (unsigned i = 0; i < texts->count; i++) {
        append(buffer, READER_KEY_MOST, i > 0 ? ", " : "");
        append(buffer, READER_KEY_MOST, texts->list[i] != NULL ? texts->list[i] : "");
    }
    return buffer;
}

size_t reader_lengths(const struct reader *reader, const char *key,
                      const struct survey_texts *texts, const struct list_wanted *wanted,
                      double *list) {
    if (texts->count < wanted->least || texts->count > wanted->most) {
        char range[64], written[READER_KEY_MOST];
        if (wanted->least == wanted->most)
            snprintf(range, sizeof range, "%zu", wanted->least);
        else
            snprintf(range, sizeof range, "%zu to %zu", wanted->least, wanted->most);
        reader_refuse(reader, key, reader_written(written, texts),
                      "a list of %s lengths%s, each " LENGTH_EXAMPLE "%s", range,
                      sign_text(wanted->sign),
                      reader_has(reader, key) ? "" : " (the key is missing)");
        return 0;
    }
    for (unsigned i = 0; i < texts->count; i++) {
        char entry[READER_KEY_MOST];
        snprintf(entry, sizeof entry, "%s[%u]", key, i + 1);
        const char *text = texts->list[i] != NULL ? texts->list[i] : "";
        list[i] = reader_length(reader, entry, text, wanted->sign, READER_REQUIRED);
    }
    return texts->count;
}

void reader_tuple(const struct reader *reader, const char *key, const struct survey_texts *texts,
                  enum sign sign, size_t count, double *list) {
    struct list_wanted wanted = {.sign = sign, .least = count, .most = count};
    for (size_t i = 0; i < count; i++)
        list[i] = NAN;
    reader_lengths(reader, key, texts, &wanted, list);
}

void reader_range(const struct reader *reader, const char *key, const struct survey_texts *texts,
                  double range[2]) {
    reader_tuple(reader, key, texts, SIGN_NOT_NEGATIVE, 2, range);
    if (range[0] > range[1]) {
        char written[READER_KEY_MOST];
        reader_refuse(reader, key, reader_written(written, texts),
                      "the lower end first, such as [4, 20]");
    }
}

enum { WORDS_MOST = 160 };

/* "left or right", "plumbing, flue or blank".  Returns buffer. */
static const char *words_text(char buffer[WORDS_MOST], const struct reader_words *words) {
    buffer[0] = '\0';
    for (size_t i = 0; i < words->count; i++) {
        append(buffer, WORDS_MOST, i == 0 ? "" : i + 1 == words->count ? " or " : ", ");
        append(buffer, WORDS_MOST, words->list[i]);
    }
    return buffer;
}

size_t reader_word(const struct reader *reader, const char *key, const char *text,
                   const struct reader_words *words, size_t by_default) {
    char known[WORDS_MOST];
    if (text == NULL)
        return by_default;
    for (size_t i = 0; i < words->count; i++)
        if (strcmp(text, words->list[i]) == 0)
            return i;
    reader_refuse(reader, key, text, "%s", words_text(known, words));
    return by_default;
}

bool reader_yes(const struct reader *reader, const char *key, const char *text, bool by_default) {
    static const char *const list[] = {"yes", "no", "true", "false"};
    static const struct reader_words words = {list, sizeof list / sizeof *list};
    return reader_word(reader, key, text, &words, by_default ? 0 : 1) % 2 == 0;
}

size_t reader_count(const struct reader *reader, const char *key, const char *text, size_t most,
                    size_t by_default) {
    if (text == NULL)
        return by_default;
    size_t count = 0;
    bool whole = text[0] != '\0';
    for (const char *digit = text; *digit != '\0' && whole; digit++) {
        whole = *digit >= '0' && *digit <= '9' && count <= most;
        if (whole)
            count = count * 10 + (size_t)(*digit - '0');
    }
    if (whole && count >= 1 && count <= most)
        return count;
    reader_refuse(reader, key, text, "a whole number from 1 to %zu, such as 2", most);
    return by_default;
}

void reader_text(const struct reader *reader, const char *key, const char *text, char *buffer,
                 size_t size) {
    buffer[0] = '\0';
    if (text == NULL)
        reader_refuse(reader, key, "", "a name, such as A (the key is missing)");
    else if (text[strspn(text, " ")] == '\0')
        reader_refuse(reader, key, text, "a name, such as A (this is empty)");
    else if (strlen(text) >= size)
        reader_refuse(reader, key, text, "at most %zu bytes (this has %zu)", size - 1,
                      strlen(text));
    else
        memcpy(buffer, text, strlen(text) + 1);
}
