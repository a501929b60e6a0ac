#include "random_mix.h"

/* In a hundred roofs: how many have more than one, two, three brackets. */
enum { SEVERAL = 4, THREE = 2, FOUR = 1 };

static size_t bracket_count(struct random_source *source) {
    const int chance = random_between(source, 1, 100);
    return 1u + (chance <= SEVERAL) + (chance <= THREE) + (chance <= FOUR);
}

static enum random_rows rows(struct random_source *source) {
    static const enum random_rows some[] = {RANDOM_ROWS_ANY, RANDOM_ROWS_ANY,   RANDOM_ROWS_ANY,
                                            RANDOM_ROWS_ANY, RANDOM_ROWS_STRUT, RANDOM_ROWS_FEET,
                                            RANDOM_ROWS_SPAN};
    return some[random_next(source) % (sizeof some / sizeof *some)];
}

void random_mix_make(uint64_t seed, struct random_roof *roof, enum random_form *form) {
    struct random_source source = {seed * 0x9e3779b97f4a7c15u + 9};
    struct random_knobs knobs = {.seed = random_next(&source) >> 16};
    knobs.brackets = bracket_count(&source);
    knobs.vents = (size_t)random_between(&source, 0, RANDOM_VENTS_MOST);
    knobs.small = knobs.brackets > 1 || !random_once_in(&source, 6);
    knobs.sisters = random_once_in(&source, 2);
    knobs.bonded = random_once_in(&source, 2);
    knobs.unsound = random_once_in(&source, 3);
    knobs.right = random_once_in(&source, 2);
    knobs.narrow = random_once_in(&source, 4);
    knobs.uneven = random_once_in(&source, 5);
    knobs.piped = random_once_in(&source, 6);
    knobs.loaded = random_once_in(&source, 8);
    knobs.jointed = random_once_in(&source, 6);
    knobs.rows = rows(&source);
    random_roof_make(&knobs, roof);
    *form = (enum random_form)random_between(&source, 0, RANDOM_FORM_COUNT - 1);
    if (*form == RANDOM_TURNED && roof->uneven.face == RANDOM_LEANING)
        *form = RANDOM_PLAIN;
}
