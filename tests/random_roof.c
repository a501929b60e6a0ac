#include "random_roof.h"

#include <string.h>

#define INCHES(n) (16 * (n))

uint64_t random_next(struct random_source *source) {
    /* splitmix64, by Sebastiano Vigna, public domain. */
    uint64_t z = source->state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

int random_between(struct random_source *source, int lo, int hi) {
    return lo + (int)(random_next(source) % (uint64_t)(hi - lo + 1));
}

bool random_once_in(struct random_source *source, int times) {
    return random_next(source) % (uint64_t)times == 0;
}

int random_length(struct random_source *source, int lo_in, int hi_in, int step) {
    return step * random_between(source, INCHES(lo_in) / step, INCHES(hi_in) / step);
}

static int one_of(struct random_source *source, const int *list, size_t count) {
    return list[random_next(source) % count];
}

#define ONE_OF(source, ...)                                                                        \
    one_of(source, (const int[]){__VA_ARGS__}, sizeof((const int[]){__VA_ARGS__}) / sizeof(int))

static void make_legs(struct random_source *source, const struct random_knobs *knobs,
                      struct random_kit *kit) {
    int inset = random_length(source, 3, 10, 4), other = random_length(source, 3, 10, 4);
    kit->leg_count = 2;
    if (random_once_in(source, knobs->small ? 8 : 4))
        kit->leg_count = knobs->small || random_once_in(source, 2) ? 3 : 4;
    int between = (kit->width - inset - other) / (int)(kit->leg_count - 1);
    for (size_t i = 0; i < kit->leg_count; i++)
        kit->legs[i] = inset + (int)i * between;
    if (random_once_in(source, 3)) /* legs at a multiple of the usual spacing */
        kit->legs[kit->leg_count - 1] =
            kit->legs[kit->leg_count - 2] + ONE_OF(source, INCHES(24), INCHES(32), INCHES(16));
    if (kit->legs[kit->leg_count - 1] > kit->width)
        kit->width = kit->legs[kit->leg_count - 1] + other;
}

static void make_frame(struct random_source *source, const struct random_knobs *knobs,
                       struct random_kit *kit) {
    kit->width = knobs->small ? random_length(source, 34, 60, 8) : random_length(source, 48, 80, 8);
    kit->height =
        knobs->small ? random_length(source, 40, 64, 8) : random_length(source, 60, 90, 8);
    make_legs(source, knobs, kit);
    int room = knobs->narrow ? INCHES(1) : INCHES(4);
    kit->top[0] = kit->height - random_length(source, 8, 14, 4);
    kit->top[1] = kit->top[0] + random_between(source, room / 2, room + INCHES(3));
    kit->bottom[0] = random_length(source, 3, 6, 4);
    kit->bottom[1] = kit->bottom[0] + random_between(source, room, 3 * room);
    kit->standoff = ONE_OF(source, INCHES(3), INCHES(4), INCHES(6));
}

static void make_hardware(struct random_source *source, const struct random_knobs *knobs,
                          struct random_kit *kit) {
    kit->foot_reach = ONE_OF(source, 16, 20, 24, 24, 28, 32);
    kit->foot_slot = knobs->narrow ? ONE_OF(source, 6, 8) : ONE_OF(source, 8, 12, 12, 16, 24);
    kit->foot_half = ONE_OF(source, 12, 16, 20);
    kit->strut_half = ONE_OF(source, 13, 14, 16);
    kit->grip = ONE_OF(source, 16, 20, 20, 24, 32);
    kit->lag_clear = ONE_OF(source, 16, 24, 24, 28);
    kit->end = ONE_OF(source, 8, 16, 16, 32);
    kit->overhang = random_length(source, 4, 8, 8);
    kit->span = ONE_OF(source, INCHES(26), INCHES(40), INCHES(50), INCHES(50));
    kit->stock[0] = INCHES(random_between(source, 4, 6) * 12);
    kit->stock[1] = INCHES(random_between(source, 7, 10) * 12);
    kit->every_rafter = !random_once_in(source, 4);
    if (knobs->rows == RANDOM_ROWS_STRUT || knobs->rows == RANDOM_ROWS_SPAN)
        kit->every_rafter = knobs->rows == RANDOM_ROWS_STRUT;
    kit->flashing_width = ONE_OF(source, INCHES(8), INCHES(9), INCHES(9), INCHES(10));
    kit->flashing_height = ONE_OF(source, INCHES(12), INCHES(12), INCHES(13));
    kit->hole_up = ONE_OF(source, 48, 52, 52, 56);
    kit->block = ONE_OF(source, 12, 16, 16, 18);
    kit->edge = ONE_OF(source, 12, 16, 16, 20, 24);
    kit->clear = ONE_OF(source, 2, 4, 4);
    kit->lap = ONE_OF(source, 4, 8, 8);
    kit->lag_diameter = ONE_OF(source, 4, 5, 5, 5, 6);
}

/* A strut takes the plies that feet took, a lag in the middle of each, and every sound rafter
 * between.  It is at least as forgiving where those between are as good (one tolerance, single
 * plies), stand within the span, leave a clamp room beside any lag (grip >= lag_clear), where the
 * overhang and the plane (setbacks of a foot) leave room for its ends, and where its hardware is
 * as high as a foot's. */
static void make_fair(struct random_roof *roof) {
    struct random_kit *kit = &roof->kit;
    kit->strut_half = kit->foot_half;
    kit->span = INCHES(100);
    kit->overhang = INCHES(8);
    kit->end = INCHES(1);
    if (kit->grip < kit->lag_clear)
        kit->grip = kit->lag_clear;
    kit->every_rafter = true;
    kit->stock[1] = INCHES(240);
    roof->setback_near = roof->setback_far = INCHES(12);
    for (size_t i = 0; i < roof->rafter_count; i++)
        roof->rafters[i].tolerance = 0;
}

static void make_rafter(struct random_source *source, const struct random_knobs *knobs,
                        struct random_rafter *rafter) {
    rafter->plies = 1;
    rafter->sound = !(knobs->unsound && random_once_in(source, 7));
    if (knobs->sisters && random_once_in(source, 4)) {
        rafter->plies = random_once_in(source, 3) ? 3 : 2;
        rafter->sister = rafter->plies == 3
                             ? RANDOM_BOTH
                             : (random_once_in(source, 2) ? RANDOM_AWAY : RANDOM_TOWARD);
    }
    if (random_once_in(source, 8))
        rafter->tolerance = ONE_OF(source, 1, 2, 3);
}

static void make_rafters(struct random_source *source, const struct random_knobs *knobs,
                         struct random_roof *roof) {
    static const double spacings[] = {256, 256, 307.2, 384, 384}; /* 16, 19.2, 24 in */
    double spacing = spacings[random_next(source) % (sizeof spacings / sizeof *spacings)];
    int off = random_once_in(source, 4) ? 10 : 3; /* a roof framed badly, or well */
    double first = random_between(source, INCHES(4), INCHES(14));
    for (size_t i = 0; i < RANDOM_RAFTERS_MOST; i++) {
        int at = (int)(first + (double)i * spacing) + random_between(source, -off, off);
        if (at > roof->width - INCHES(4))
            break;
        struct random_rafter *rafter = &roof->rafters[roof->rafter_count++];
        make_rafter(source, knobs, rafter);
        rafter->at = rafter->again = at;
    }
    static const int found[] = {0, 0, 0, 0, 0, 1, 2};
    roof->found = found[random_next(source) % (sizeof found / sizeof *found)];
    roof->bonded = knobs->bonded && random_once_in(source, 2);
}

static void make_vents(struct random_source *source, const struct random_knobs *knobs,
                       struct random_roof *roof) {
    roof->vent_count = (size_t)random_between(source, 0, (int)knobs->vents);
    for (size_t i = 0; i < roof->vent_count; i++) {
        struct random_vent *vent = &roof->vents[i];
        vent->kind = random_between(source, 0, 5);
        vent->width = random_length(source, 4, knobs->small ? 8 : 14, 8);
        vent->height = random_length(source, 4, knobs->small ? 8 : 14, 8);
        vent->x = random_between(source, vent->width, roof->width - vent->width);
        vent->y = random_between(source, vent->height, roof->slope - vent->height);
        vent->tall = random_once_in(source, 2) ? ONE_OF(source, INCHES(2), INCHES(14)) : 0;
        vent->keep_flashing = random_once_in(source, 2) ? 0 : ONE_OF(source, 8, 32, 64);
        vent->keep_bracket = random_once_in(source, 4) ? 0 : ONE_OF(source, 16, 32, 64);
    }
}

static void make_brackets(struct random_source *source, const struct random_knobs *knobs,
                          struct random_roof *roof) {
    roof->bracket_count = knobs->brackets;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        struct random_bracket *bracket = &roof->brackets[i];
        bracket->want_x = 8 * random_between(source, 0, (roof->width - roof->kit.width) / 8);
        bracket->want_y = 8 * random_between(source, 0, (roof->slope - roof->kit.height) / 8);
        for (int row = 0; row < 2; row++)
            bracket->feet[row] = random_once_in(source, 2);
        if (knobs->rows != RANDOM_ROWS_ANY)
            bracket->feet[0] = bracket->feet[1] = knobs->rows == RANDOM_ROWS_FEET;
    }
}

static void make_face(struct random_source *source, const struct random_knobs *knobs,
                      struct random_roof *roof) {
    int most = knobs->small ? 6 : 18, slack = knobs->small ? 48 : 90;
    roof->setback_eave = random_length(source, 0, most, 16);
    roof->setback_ridge = random_length(source, 2, most, 16);
    roof->setback_near = random_length(source, 2, most, 16);
    roof->setback_far = random_length(source, 2, most, 16);
    int rows = knobs->brackets <= RANDOM_ABREAST_MOST    ? 1
               : knobs->brackets <= RANDOM_TWO_ROWS_MOST ? 2
                                                         : 4;
    int across = ((int)knobs->brackets + rows - 1) / rows;
    roof->width = across * (roof->kit.width + INCHES(10)) + roof->setback_near + roof->setback_far +
                  random_length(source, 0, slack, 4);
    roof->slope = (rows - 1) * (roof->kit.height + INCHES(14));
    roof->slope += roof->kit.height + roof->setback_eave + roof->setback_ridge +
                   random_length(source, knobs->narrow ? -2 : 4, knobs->small ? 36 : 60, 4);
    roof->rise = random_between(source, 3, 12);
    roof->exposure = ONE_OF(source, 80, 90, 90, 94);
    roof->first = random_between(source, INCHES(4), INCHES(7));
    roof->course_tolerance = random_once_in(source, 4) ? ONE_OF(source, 1, 3) : 0;
}

static void make_joints(struct random_source *source, struct random_roof *roof) {
    struct random_joints *joints = &roof->joints;
    const int courses = (roof->slope - roof->first) / roof->exposure - 2;
    if (random_once_in(source, 3)) {
        joints->count = (size_t)random_between(source, 1, RANDOM_JOINTS_MOST);
        for (size_t i = 0; i < joints->count; i++)
            joints->list[i] = (struct random_joint){random_between(source, 1, courses),
                                                    random_between(source, 0, roof->width)};
    }
    if (joints->count == 0 || random_once_in(source, 4)) {
        joints->tab = ONE_OF(source, INCHES(12), INCHES(12), 212, 160);
        joints->stagger = ONE_OF(source, joints->tab / 2, joints->tab / 4, INCHES(5), 0);
        joints->first = random_between(source, 0, joints->tab);
    }
    joints->keep = random_once_in(source, 2) ? 0 : random_between(source, 8, 40);
}

void random_roof_make(const struct random_knobs *knobs, struct random_roof *roof) {
    struct random_source source = {knobs->seed * 0x2545f4914f6cdd1du + 1};
    memset(roof, 0, sizeof *roof);
    roof->knobs = *knobs;
    if (knobs->kit != NULL) {
        roof->kit = *knobs->kit;
    } else {
        make_frame(&source, knobs, &roof->kit);
        make_hardware(&source, knobs, &roof->kit);
    }
    make_face(&source, knobs, roof);
    make_rafters(&source, knobs, roof);
    make_vents(&source, knobs, roof);
    make_brackets(&source, knobs, roof);
    roof->apart = random_once_in(&source, 2) ? ONE_OF(&source, INCHES(6), INCHES(12)) : 0;
    roof->enough = random_once_in(&source, 2) ? 0 : ONE_OF(&source, 1, 4, 8, 16);
    roof->hole_worth = random_once_in(&source, 2) ? 0 : ONE_OF(&source, 16, INCHES(4), INCHES(30));
    if (knobs->fair)
        make_fair(roof);
    if (knobs->uneven || knobs->piped)
        random_uneven_make(&source, roof);
    if (knobs->loaded)
        random_loads_make(&source, roof);
    if (knobs->jointed)
        make_joints(&source, roof);
}
