/* Lays out the roof of a file, prints the layout as JSON, and lists its holes on standard error.
 *     cc example.c $(pkg-config --cflags --libs ruddle) -o example
 *     ./example roofs/easy.yaml
 */
#include <ruddle.h>

#include <stdio.h>

static void complain(const struct ruddle_messages *messages) {
    for (size_t i = 0; i < ruddle_messages_count(messages); i++) {
        fprintf(stderr, "%s\n", ruddle_messages_line(messages, i));
    }
}

static void list_holes(const struct ruddle_answer *answer) {
    for (size_t i = 0; i < ruddle_answer_marks(answer); i++) {
        const struct ruddle_mark *hole = ruddle_answer_mark(answer, i);
        fprintf(stderr, "%s: rafter %zu, %.4f in along, %.4f in up\n", hole->id, hole->rafter,
                hole->x, hole->y);
    }
    fprintf(stderr, "room to miss: %.4f in\n", ruddle_answer_forgiveness(answer));
}

static enum ruddle_outcome lay_out(const char *path, struct ruddle_messages *messages) {
    struct ruddle_roof *roof = NULL;
    struct ruddle_answer *answer = NULL;
    enum ruddle_outcome outcome = ruddle_read(path, NULL, &roof, messages);
    if (outcome == RUDDLE_DONE) {
        outcome = ruddle_lay_out(roof, NULL, &answer, messages);
    }
    if (answer != NULL) { /* blocked or not */
        fputs(ruddle_answer_json(answer), stdout);
        list_holes(answer);
    }
    ruddle_answer_free(answer);
    ruddle_roof_free(roof);
    return outcome;
}

int main(int count, char **words) {
    struct ruddle_messages *messages = ruddle_messages_new();
    enum ruddle_outcome outcome = RUDDLE_BAD_INPUT;
    if (messages == NULL) {
        outcome = RUDDLE_FAULT;
    } else if (count != 2) {
        fputs("usage: example ROOF\n", stderr);
    } else {
        outcome = lay_out(words[1], messages);
        complain(messages);
    }
    ruddle_messages_free(messages);
    return (int)outcome;
}
