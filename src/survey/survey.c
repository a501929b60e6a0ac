/* A roof file with the kit files that its places name. */
#include "digest.h"
#include "document.h"
#include "faults.h"
#include "shelf.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KITS_MOST = 64 }; /* distinct kit files of one roof */

/* The files of one roof while they are read. */
struct reading {
    struct problems *problems;
    struct document roof;
    struct survey_shelf *shelf;          /* borrowed; NULL: none */
    const struct survey_stand_in *texts; /* borrowed; NULL: everything is read */
    struct document kits[KITS_MOST];     /* of one that is on the shelf: only its path */
    size_t kit_count;
    size_t *kit_of; /* owned until handed over; for each place */
};

static void report_unreadable(struct problems *problems, const char *file, int line,
                              const char *key, const char *found, const char *reason) {
    char wanted[BYTES_REASON + 40];
    snprintf(wanted, sizeof wanted, "a file that can be read: %s", reason);
    problems_add(problems, file, line, key, found, wanted);
}

/* The path of a kit: relative to the folder of the roof file.  Owned by the caller. */
static char *kit_path(const char *roof_path, const char *kit) {
    const char *slash = strrchr(roof_path, '/');
    const size_t folder = kit[0] == '/' || slash == NULL ? 0 : (size_t)(slash - roof_path) + 1;
    const size_t room = folder + strlen(kit) + 1;
    char *path = malloc(room);
    if (path != NULL) {
        snprintf(path, room, "%.*s%s", (int)folder, roof_path, kit);
    }
    return path;
}

static enum outcome open_roof(struct reading *reading, const char *path) {
    char reason[BYTES_REASON];
    const enum outcome outcome = reading->texts == NULL
                                     ? document_open(path, &reading->roof, reason)
                                     : document_hold(path, reading->texts->roof, &reading->roof);
    if (outcome == OUTCOME_BAD_INPUT) {
        report_unreadable(reading->problems, path, 0, NULL, NULL, reason);
    }
    return outcome == OUTCOME_DONE ? document_check(&reading->roof, &schema_roof, reading->problems)
                                   : outcome;
}

/* Opens and checks the next kit; what cannot be read is reported where the roof file names it. */
static enum outcome open_kit(struct reading *reading, const char *path, size_t place,
                             const struct node *named) {
    char key[40];
    char reason[BYTES_REASON];
    snprintf(key, sizeof key, "place[%zu].kit", place + 1);
    if (reading->kit_count == KITS_MOST) {
        problems_add(reading->problems, reading->roof.path, named->line, key, named->text,
                     "fewer kits: a roof may name 64 files at most");
        return OUTCOME_BAD_INPUT;
    }
    struct document *kit = &reading->kits[reading->kit_count++];
    if (shelf_find(reading->shelf, path) != NULL) {
        kit->path = strdup(path);
        return kit->path != NULL ? OUTCOME_DONE : OUTCOME_FAULT;
    }
    const struct survey_stand_in *texts = reading->texts;
    const bool held =
        texts != NULL && texts->kit != NULL && strcmp(named->text, texts->kit_path) == 0;
    const enum outcome outcome =
        held ? document_hold(path, texts->kit, kit) : document_open(path, kit, reason);
    if (outcome == OUTCOME_BAD_INPUT) {
        report_unreadable(reading->problems, reading->roof.path, named->line, key, named->text,
                          reason);
        return OUTCOME_DONE; /* go on: the next kit may have faults to tell as well */
    }
    return outcome == OUTCOME_DONE ? document_check(kit, &schema_kit, reading->problems) : outcome;
}

/* Finds or opens the kit of one place. */
static enum outcome take_kit(struct reading *reading, size_t place, const struct node *named) {
    char *path = kit_path(reading->roof.path, named->text);
    if (path == NULL) {
        return OUTCOME_FAULT;
    }
    size_t kit = 0;
    while (kit < reading->kit_count && strcmp(reading->kits[kit].path, path) != 0) {
        kit++;
    }
    reading->kit_of[place] = kit;
    const enum outcome outcome =
        kit == reading->kit_count ? open_kit(reading, path, place, named) : OUTCOME_DONE;
    free(path);
    return outcome;
}

/* Goes through the places as they stand in the tree: a roof with faults has kits to check too. */
static enum outcome take_kits(struct reading *reading) {
    const struct node *root = reading->roof.root;
    const struct node *places = root != NULL ? node_child(root, "place", strlen("place")) : NULL;
    if (places == NULL || places->kind != NODE_LIST || places->count == 0) {
        return OUTCOME_DONE;
    }
    reading->kit_of = calloc(places->count, sizeof *reading->kit_of);
    if (reading->kit_of == NULL) {
        return OUTCOME_FAULT;
    }
    for (size_t i = 0; i < places->count; i++) {
        const struct node *named = node_child(places->children[i], "kit", strlen("kit"));
        if (named == NULL || named->kind != NODE_TEXT || faults_is_nothing(named)) {
            continue;
        }
        const enum outcome outcome = take_kit(reading, i, named);
        if (outcome != OUTCOME_DONE) {
            return outcome;
        }
    }
    return OUTCOME_DONE;
}

static uint64_t digest_of(const struct document *document) {
    return digest_bytes(DIGEST_START, document->bytes.data, document->bytes.size);
}

static char *take_path(struct document *document) {
    char *path = document->path;
    document->path = NULL;
    return path;
}

static enum outcome load_kit(struct reading *reading, struct document *document,
                             struct survey_kit_file *file) {
    void *data = NULL;
    const struct survey_kit_file *ready = shelf_find(reading->shelf, document->path);
    if (ready != NULL) {
        *file = *ready;
        file->shelved = true;
        return OUTCOME_DONE;
    }
    const enum outcome outcome = document_load(document, &schema_kit, &data, reading->problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    file->kit = data;
    file->digest = digest_of(document);
    file->path = take_path(document);
    file->lines = document_take_lines(document);
    if (file->lines == NULL || (reading->shelf != NULL && !shelf_put(reading->shelf, file))) {
        return OUTCOME_FAULT;
    }
    return OUTCOME_DONE;
}

/* Loads every file into a survey that the caller frees whatever the outcome. */
static enum outcome load_into(struct reading *reading, struct survey *survey) {
    void *data = NULL;
    enum outcome outcome = document_load(&reading->roof, &schema_roof, &data, reading->problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    survey->roof = data;
    survey->digest = digest_of(&reading->roof);
    survey->path = take_path(&reading->roof);
    survey->lines = document_take_lines(&reading->roof);
    survey->kits = calloc(reading->kit_count, sizeof *survey->kits);
    if (survey->lines == NULL || survey->kits == NULL) {
        return OUTCOME_FAULT;
    }
    survey->kit_count = reading->kit_count;
    survey->kit_of = reading->kit_of;
    reading->kit_of = NULL;
    for (size_t i = 0; i < survey->kit_count && outcome == OUTCOME_DONE; i++) {
        outcome = load_kit(reading, &reading->kits[i], &survey->kits[i]);
    }
    return outcome;
}

static enum outcome load(struct reading *reading, struct survey **survey) {
    struct survey *loaded = calloc(1, sizeof *loaded);
    if (loaded == NULL) {
        return OUTCOME_FAULT;
    }
    const enum outcome outcome = load_into(reading, loaded);
    if (outcome == OUTCOME_DONE) {
        *survey = loaded;
    } else {
        survey_free(loaded);
    }
    return outcome;
}

enum outcome survey_read(const char *path, struct survey **survey, struct problems *problems) {
    return survey_read_shelved(path, NULL, survey, problems);
}

/* Reads all that the reading wants, and leaves nothing of it behind. */
static enum outcome read_all(struct reading *reading, const char *path, struct survey **survey) {
    const size_t before = reading->problems->total;
    enum outcome outcome = open_roof(reading, path);
    if (outcome == OUTCOME_DONE) {
        outcome = take_kits(reading);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = reading->problems->total > before ? OUTCOME_BAD_INPUT : load(reading, survey);
    }
    for (size_t i = 0; i < reading->kit_count; i++) {
        document_close(&reading->kits[i]);
    }
    document_close(&reading->roof);
    free(reading->kit_of);
    return outcome;
}

enum outcome survey_read_shelved(const char *path, struct survey_shelf *shelf,
                                 struct survey **survey, struct problems *problems) {
    struct reading reading = {.problems = problems, .shelf = shelf};
    shelf_make_room(shelf);
    return read_all(&reading, path, survey);
}

enum outcome survey_read_text(const char *path, const struct survey_stand_in *texts,
                              struct survey **survey, struct problems *problems) {
    struct reading reading = {.problems = problems, .texts = texts};
    return read_all(&reading, path, survey);
}

void survey_kit_file_free(struct survey_kit_file *file) {
    free(file->path);
    document_unload(&schema_kit, file->kit);
    document_lines_free(file->lines);
}

void survey_free(struct survey *survey) {
    if (survey == NULL) {
        return;
    }
    for (size_t i = 0; survey->kits != NULL && i < survey->kit_count; i++) {
        if (!survey->kits[i].shelved) {
            survey_kit_file_free(&survey->kits[i]);
        }
    }
    free(survey->kits);
    free(survey->kit_of);
    document_unload(&schema_roof, survey->roof);
    document_lines_free(survey->lines);
    free(survey->path);
    free(survey);
}
