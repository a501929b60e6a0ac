#include "made_fleet.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define INCHES(n) (16 * (n))

static bool make_folder(const char *folder, const char *name, char path[RANDOM_PATH]) {
    const int length = snprintf(path, RANDOM_PATH, "%s/%s", folder, name);
    return length > 0 && length < RANDOM_PATH && (mkdir(path, 0777) == 0 || errno == EEXIST);
}

/* A kit that somebody sells fits the usual roof: two legs, lags that a rafter has room for, feet
 * that reach to either side, windows of more than one course. */
static void make_saleable(struct random_kit *kit) {
    kit->leg_count = 2;
    kit->width = INCHES(60);
    kit->legs[0] = INCHES(6);
    kit->legs[1] = INCHES(54); /* 48 in: three rafters of 16, two of 24 */
    kit->lag_diameter = 5;
    kit->foot_slot = INCHES(1);
    kit->foot_reach = INCHES(1) + 8;
    kit->span = INCHES(50);
    kit->overhang = INCHES(8);
    kit->stock[1] = INCHES(120);
    kit->edge = INCHES(1);
    kit->flashing_height = INCHES(12);
    kit->top[1] = kit->top[0] + INCHES(8);
    kit->bottom[1] = kit->bottom[0] + INCHES(10);
}

/* A crew that knows its trade probes every rafter, and offers a face with room for the frame. */
static void make_usual(struct random_source *source, struct random_roof *roof) {
    roof->found = 0;
    roof->course_tolerance = 0;
    for (size_t i = 0; i < roof->rafter_count; i++)
        roof->rafters[i].tolerance = 0;
    if (!random_once_in(source, 4))
        roof->vent_count = 0;
    /* Feet below where the legs come out at rafters, struts otherwise. */
    const int spacing = roof->rafters[1].at - roof->rafters[0].at;
    roof->brackets[0].feet[0] = false;
    roof->brackets[0].feet[1] = abs(spacing - INCHES(16)) < 16 || abs(spacing - INCHES(24)) < 16;
}

static void make_kits(const struct made_fleet *fleet, struct random_kit kits[2][MADE_FLEET_KITS]) {
    for (size_t i = 0; i < MADE_FLEET_KITS; i++) {
        for (int narrow = 0; narrow < 2; narrow++) {
            const struct random_knobs knobs = {.seed = fleet->seed * 31 + i,
                                               .brackets = 1,
                                               .small = fleet->small,
                                               .narrow = narrow == 1};
            struct random_roof roof;
            random_roof_make(&knobs, &roof);
            if (narrow == 0)
                make_saleable(&roof.kit);
            kits[narrow][i] = roof.kit;
        }
    }
}

static bool write_kits(struct random_kit kits[2][MADE_FLEET_KITS], const char *folder) {
    char path[RANDOM_PATH];
    if (!make_folder(folder, "kits", path))
        return false;
    for (size_t i = 0; i < MADE_FLEET_KITS; i++) {
        char stem[32];
        snprintf(stem, sizeof stem, "%zu", i + 1);
        if (!random_kit_write(&kits[0][i], path, stem))
            return false;
        snprintf(stem, sizeof stem, "narrow-%zu", i + 1);
        if (!random_kit_write(&kits[1][i], path, stem))
            return false;
    }
    return true;
}

/* What surveys are sent in with: half of the file is missing, or a length makes no sense. */
static bool spoil(const char *path, struct random_source *source) {
    FILE *file = fopen(path, random_once_in(source, 2) ? "w" : "a");
    if (file == NULL)
        return false;
    fputs("roof: spoilt\nhole_worth: about a foot\n", file);
    return fclose(file) == 0;
}

static bool write_roof(const struct made_fleet *fleet, struct random_kit kits[2][MADE_FLEET_KITS],
                       const char *folder, size_t number) {
    struct random_source source = {fleet->seed * 1000003 + number};
    const bool narrow = random_between(&source, 1, 100) <= fleet->narrow;
    const bool faulty = random_between(&source, 1, 100) <= fleet->faulty;
    const size_t kit = random_next(&source) % MADE_FLEET_KITS;
    const struct random_knobs knobs = {.seed = random_next(&source) >> 16,
                                       .brackets = 1,
                                       .vents = 2,
                                       .small = fleet->small,
                                       .narrow = narrow,
                                       .sisters = random_once_in(&source, 2),
                                       .unsound = random_once_in(&source, 4),
                                       .right = random_once_in(&source, 2),
                                       .kit = &kits[narrow ? 1 : 0][kit]};
    const enum random_form form = random_once_in(&source, 4) ? RANDOM_MM : RANDOM_PLAIN;
    char crew[RANDOM_PATH], path[RANDOM_PATH], stem[32];
    struct random_roof roof;
    snprintf(stem, sizeof stem, "crew-%04zu", number / MADE_FLEET_FOLDER + 1);
    if (!make_folder(folder, stem, crew))
        return false;
    random_roof_make(&knobs, &roof);
    if (!narrow)
        make_usual(&source, &roof);
    snprintf(roof.kit_file, sizeof roof.kit_file, "../kits/%s%zu.yaml", narrow ? "narrow-" : "",
             kit + 1);
    snprintf(stem, sizeof stem, "%06zu", number + 1);
    return random_roof_write(&roof, form, crew, stem, path) && (!faulty || spoil(path, &source));
}

bool made_fleet_write(const struct made_fleet *fleet, const char *folder) {
    struct random_kit kits[2][MADE_FLEET_KITS];
    make_kits(fleet, kits);
    if (!write_kits(kits, folder))
        return false;
    for (size_t number = 0; number < fleet->count; number++) {
        if (!write_roof(fleet, kits, folder, number))
            return false;
    }
    return true;
}
