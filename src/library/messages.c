#include "messages.h"

#include <stdlib.h>
#include <string.h>

struct ruddle_messages {
    char *text;   /* owned: the lines, each ended by NUL */
    char **lines; /* owned: where each begins in text */
    size_t count;
};

struct ruddle_messages *ruddle_messages_new(void) {
    return calloc(1, sizeof(struct ruddle_messages));
}

size_t ruddle_messages_count(const struct ruddle_messages *messages) {
    return messages->count;
}

const char *ruddle_messages_line(const struct ruddle_messages *messages, size_t line) {
    return line < messages->count ? messages->lines[line] : NULL;
}

void messages_clear(struct ruddle_messages *messages) {
    if (messages != NULL) {
        free(messages->text);
        free(messages->lines);
        *messages = (struct ruddle_messages){0};
    }
}

void ruddle_messages_free(struct ruddle_messages *messages) {
    messages_clear(messages);
    free(messages);
}

/* The faults as they are printed; owned by the caller, NULL without memory. */
static char *printed(const struct problems *problems) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    if (stream == NULL) {
        return NULL;
    }
    problems_print(problems, stream);
    if (fclose(stream) != 0) {
        free(text);
        return NULL;
    }
    return text;
}

static size_t count_lines(const char *text) {
    size_t count = 0;
    for (const char *end = strchr(text, '\n'); end != NULL; end = strchr(end + 1, '\n')) {
        count++;
    }
    return count;
}

void messages_take(struct ruddle_messages *messages, const struct problems *problems) {
    if (messages == NULL || problems->total == 0) {
        return;
    }
    char *text = printed(problems);
    const size_t count = text == NULL ? 0 : count_lines(text);
    char **lines = calloc(count + 1, sizeof *lines);
    if (text == NULL || lines == NULL) {
        free(text);
        free(lines);
        return;
    }
    char *at = text;
    for (size_t i = 0; i < count; i++) {
        lines[i] = at;
        at = strchr(at, '\n');
        *at++ = '\0';
    }
    messages_clear(messages);
    *messages = (struct ruddle_messages){.text = text, .lines = lines, .count = count};
}
