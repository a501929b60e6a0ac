/* What others ask a built roof: words, courses, rafters, rakes and readings. */
#include "roof.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>

const char *roof_side_word(enum side side) {
    static const char *const words[SIDE_COUNT] = {[SIDE_NEAR] = "near", [SIDE_FAR] = "far"};
    assert(side < SIDE_COUNT);
    return words[side];
}

const char *roof_row_word(enum row row) {
    static const char *const words[] = {
        [ROW_TOP] = "top", [ROW_BOTTOM] = "bottom", [ROW_PIPE] = "pipe"};
    assert(row <= ROW_PIPE);
    return words[row];
}

const char *roof_hardware_word(enum hardware hardware) {
    static const char *const words[] = {[HARDWARE_STRUT] = "strut", [HARDWARE_FEET] = "feet"};
    assert(hardware <= HARDWARE_FEET);
    return words[hardware];
}

const char *roof_vent_word(enum vent_kind kind) {
    static const char *const words[VENT_KIND_COUNT] = {
        [VENT_PLUMBING] = "plumbing", [VENT_FLUE] = "flue",         [VENT_EXHAUST] = "exhaust",
        [VENT_ATTIC] = "attic",       [VENT_SKYLIGHT] = "skylight", [VENT_BLANK] = "blank"};
    assert(kind < VENT_KIND_COUNT);
    return words[kind];
}

const struct kit *roof_kit(const struct roof *roof, size_t bracket) {
    assert(bracket < roof->bracket_count);
    return &roof->kits[roof->brackets[bracket].kit];
}

bool roof_same_hardware(const struct roof *roof, size_t a, size_t b) {
    const struct bracket *one = &roof->brackets[a], *other = &roof->brackets[b];
    return one->kit == other->kit && one->hardware[ROW_TOP] == other->hardware[ROW_TOP] &&
           one->hardware[ROW_BOTTOM] == other->hardware[ROW_BOTTOM];
}

const struct given *roof_given(const struct roof *roof, size_t bracket, enum row row, size_t ply) {
    for (size_t i = 0; i < roof->given_count; i++) {
        const struct given *given = &roof->given[i];
        if (given->bracket == bracket && given->row == row &&
            (ply == SIZE_MAX || given->ply == ply))
            return given;
    }
    return NULL;
}

double roof_hardware_half(const struct kit *kit, enum hardware hardware) {
    return hardware == HARDWARE_FEET ? kit->foot_half : kit->strut_half;
}

/* Every edge that is stored lies on the face. */
bool roof_course_usable(const struct roof *roof, size_t course) {
    return course >= 1 && course <= roof->course_count && roof->course_count - course >= 2;
}

double roof_cutout(const struct roof *roof, size_t course, double from) {
    const struct cutouts *cutouts = &roof->cutouts;
    const double one = cutouts->first + (double)(course - 1) * cutouts->stagger;
    return one + ceil((from - one) / cutouts->tab) * cutouts->tab;
}

bool roof_has_joints(const struct roof *roof) {
    return roof->cutouts.tab > 0 || roof->joint_count > 0;
}

/* The face is convex: of several edges of one kind, the innermost is the face's own. */
double roof_rake_x(const struct roof *roof, enum side side, double y) {
    enum edge_kind kind = side == SIDE_NEAR ? EDGE_NEAR : EDGE_FAR;
    double rake = side == SIDE_NEAR ? -HUGE_VAL : HUGE_VAL;
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        if (edge->kind != kind)
            continue;
        double x = (edge->offset - edge->ny * y) / edge->nx;
        rake = side == SIDE_NEAR ? fmax(rake, x) : fmin(rake, x);
    }
    return rake;
}

double roof_ply_x(const struct ply *ply, double y) {
    return ply->at + ply->lean * y;
}

double roof_rafter_face_x(const struct rafter *rafter, enum side side, double y) {
    return (side == SIDE_NEAR ? rafter->from : rafter->to) + rafter->lean * y;
}

/* Height for each inch of tape up a rake: the sine of its angle, which is how much its normal
 * points along x.  An outline may bend: there the tape runs up the roof itself. */
static double rise_of_tape(const struct roof *roof, enum side from) {
    enum edge_kind kind = from == SIDE_NEAR ? EDGE_NEAR : EDGE_FAR;
    for (size_t i = 0; i < roof->edge_count && !roof->outlined; i++)
        if (roof->edges[i].kind == kind)
            return fabs(roof->edges[i].nx);
    return 1;
}

double roof_height_reading(const struct roof *roof, enum side from, double y) {
    return y / rise_of_tape(roof, from);
}

double roof_height_from_reading(const struct roof *roof, enum side from, double reading) {
    return reading * rise_of_tape(roof, from);
}

double roof_reading(const struct roof *roof, enum side from, double x, double y) {
    double rake = roof_rake_x(roof, from, y);
    return from == SIDE_NEAR ? x - rake : rake - x;
}

double roof_from_reading(const struct roof *roof, enum side from, double reading, double y) {
    double rake = roof_rake_x(roof, from, y);
    return from == SIDE_NEAR ? rake + reading : rake - reading;
}
