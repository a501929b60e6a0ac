#include "questions.h"

#include <string.h>

void questions_path(const char *path, size_t entry, char concrete[ANSWERS_PATH]) {
    const char *gap = strstr(path, "[]");
    if (gap == NULL || entry == 0) {
        snprintf(concrete, ANSWERS_PATH, "%s", path);
    } else {
        snprintf(concrete, ANSWERS_PATH, "%.*s[%zu%s", (int)(gap - path), path, entry, gap + 1);
    }
}

/* True if both are asked of the same list's entries. */
static bool same_list(const struct question *one, const struct question *other) {
    const char *gap = strstr(one->path, "[]");
    return gap != NULL && strncmp(one->path, other->path, (size_t)(gap - one->path) + 2) == 0;
}

/* The answer to another question, of the same entry where it is of a list; NULL: left out, not
 * asked yet, or there is no such question. */
static const char *answer_to(const struct walk *walk, const char *question) {
    char path[ANSWERS_PATH];
    if (question == NULL) {
        return NULL;
    }
    questions_path(question, walk->entry + 1, path);
    const struct answered_key *key = answers_find(walk->answers, path);
    return key == NULL || key->left_out ? NULL : key->value;
}

/* Whether what it needs was answered so, and what rules it out was not. */
static bool applies(const struct walk *walk, const struct question *question) {
    const char *needed = answer_to(walk, question->needs);
    if (question->needs != NULL &&
        (needed == NULL || (question->unless != NULL && strcmp(needed, question->unless) == 0))) {
        return false;
    }
    return answer_to(walk, question->without) == NULL;
}

/* A quick question is asked as long as neither it nor what it stands for was answered. */
static bool is_past(const struct walk *walk, const struct question *question, const char *path) {
    return question->quick[0] != NULL &&
           (answers_find(walk->answers, path) != NULL ||
            (walk->opened != NULL && strcmp(walk->opened, path) == 0));
}

/* Behind the first question of an entry that was left out the list is over; behind the last
 * question of an entry the next one begins. */
static void turn(struct walk *walk) {
    const struct question *last = &questions_list[walk->at - 1];
    const bool more = walk->at < questions_count && same_list(last, &questions_list[walk->at]);
    if (strstr(last->path, "[]") == NULL) {
        return;
    }
    if (last->leads) {
        char path[ANSWERS_PATH];
        questions_path(last->path, walk->entry + 1, path);
        const struct answered_key *key = answers_find(walk->answers, path);
        walk->led = key != NULL && !key->left_out;
    }
    if (walk->led && !more) {
        walk->entry++;
        while (!questions_list[--walk->at].leads) {
            /* back to the first of the list */
        }
    } else if (!walk->led) {
        while (walk->at < questions_count && same_list(last, &questions_list[walk->at])) {
            walk->at++;
        }
        walk->entry = 0;
    }
}

bool walk_next(struct walk *walk, struct asked *asked) {
    for (;;) {
        if (walk->at > 0) {
            turn(walk);
        }
        if (walk->at == questions_count) {
            return false;
        }
        const struct question *question = &questions_list[walk->at++];
        const bool in_list = strstr(question->path, "[]") != NULL;
        *asked = (struct asked){.question = question, .entry = in_list ? walk->entry + 1 : 0};
        questions_path(question->path, asked->entry, asked->path);
        if (applies(walk, question) && !is_past(walk, question, asked->path)) {
            return true;
        }
    }
}
