/* The files of a fleet: what the paths name, and what lies in the folders they name. */
#include "fleet_inner.h"

#include "survey.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* A folder that is being walked, and the one it lies in. */
struct folder {
    const struct folder *above; /* NULL: named on the command line */
    uint64_t level;
    dev_t device;
    ino_t inode;
};

struct walk {
    struct fleet *fleet;
    uint64_t total; /* files so far, of all shards */
};

/* Lists one file, if it is this shard's and was not listed before; with an error where there is
 * one. */
static enum outcome list(struct walk *walk, const char *file, const char *error) {
    struct fleet *fleet = walk->fleet;
    bool fresh = false;
    const enum outcome outcome = record_see(fleet->record, file, &fresh);
    if (outcome != OUTCOME_DONE || !fresh) {
        return outcome;
    }
    const uint64_t place = walk->total++;
    return place % fleet->shards == fleet->shard - 1
               ? record_list(fleet->record, place + 1, file, error)
               : OUTCOME_DONE;
}

static enum outcome list_errno(struct walk *walk, const char *path, int error) {
    char text[200];
    snprintf(text, sizeof text, "it cannot be read: %.150s", strerror(error));
    return list(walk, path, text);
}

static bool ends_in(const char *name, const char *end) {
    const size_t length = strlen(name);
    return length >= strlen(end) && strcmp(name + length - strlen(end), end) == 0;
}

static bool is_yaml(const char *name) {
    return ends_in(name, ".yaml") || ends_in(name, ".yml");
}

/* FOLDER/NAME; owned by the caller, NULL without memory. */
static char *join(const char *folder, const char *name) {
    const size_t length = strlen(folder);
    const size_t room = length + strlen(name) + 2;
    char *path = malloc(room);
    if (path != NULL) {
        const char *slash = length > 0 && folder[length - 1] == '/' ? "" : "/";
        snprintf(path, room, "%s%s%s", folder, slash, name);
    }
    return path;
}

static bool is_above(const struct folder *folder, const struct stat *status) {
    while (folder != NULL &&
           (folder->device != status->st_dev || folder->inode != status->st_ino)) {
        folder = folder->above;
    }
    return folder != NULL;
}

/* Puts the names of a folder where they can be taken from in order; *error is that of reading. */
static enum outcome push_names(struct walk *walk, const char *path, uint64_t level, int *error) {
    enum outcome outcome = OUTCOME_DONE;
    DIR *directory = opendir(path);
    if (directory == NULL) {
        *error = errno;
        return OUTCOME_DONE;
    }
    const struct dirent *entry = NULL;
    do {
        errno = 0;
        entry = readdir(directory);
        if (entry != NULL && strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0) {
            outcome = record_push_name(walk->fleet->record, level, entry->d_name);
        }
    } while (entry != NULL && outcome == OUTCOME_DONE);
    *error = entry == NULL ? errno : 0;
    closedir(directory);
    return outcome;
}

static enum outcome walk_folder(struct walk *walk, const char *path, const struct folder *folder);

/* One entry of a folder, or (above NULL) one path of the command line. */
static enum outcome walk_entry(struct walk *walk, const char *path, const struct folder *above) {
    struct stat status;
    const bool named = above == NULL;
    const bool yaml = is_yaml(path);
    if (stat(path, &status) != 0) {
        return named || yaml || errno == ELOOP ? list_errno(walk, path, errno) : OUTCOME_DONE;
    }
    if (!S_ISDIR(status.st_mode)) {
        return named || (yaml && !survey_is_kit(path)) ? list(walk, path, NULL) : OUTCOME_DONE;
    }
    if (is_above(above, &status)) {
        return list(walk, path, "a folder that leads back to one that it lies in");
    }
    if (yaml && !named) {
        return list(walk, path, "a folder with the name of a roof file");
    }
    const struct folder folder = {.above = above,
                                  .level = named ? 0 : above->level + 1,
                                  .device = status.st_dev,
                                  .inode = status.st_ino};
    return walk_folder(walk, path, &folder);
}

static enum outcome walk_folder(struct walk *walk, const char *path, const struct folder *folder) {
    int error = 0;
    char *name = NULL;
    enum outcome outcome = push_names(walk, path, folder->level, &error);
    if (outcome == OUTCOME_DONE && error != 0) {
        outcome = list_errno(walk, path, error);
    }
    while (outcome == OUTCOME_DONE) {
        outcome = record_pop_name(walk->fleet->record, folder->level, &name);
        if (outcome != OUTCOME_DONE || name == NULL) {
            break;
        }
        char *entry = join(path, name);
        outcome = entry == NULL ? OUTCOME_FAULT : walk_entry(walk, entry, folder);
        free(entry);
        free(name);
    }
    return outcome;
}

enum outcome fleet_list(struct fleet *fleet, const char *const *paths, size_t count,
                        struct problems *problems) {
    struct walk walk = {.fleet = fleet};
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
        outcome = walk_entry(&walk, paths[i], NULL);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = record_set_number(fleet->record, "total", walk.total);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = record_drop_unlisted(fleet->record);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = record_commit(fleet->record);
    }
    return fleet_told(fleet, outcome, problems);
}
