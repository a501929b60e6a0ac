/* Where a member can lie, from the holes drilled for it.
 *
 * Everything is an offset from the measured position: a member d further along x has its ply's
 * middle at d, and a hole at `off` is off - d from that middle.  So
 *   wood: |off - d| <= half     air: |off - d| >= half     edge: ||off - d| - half| <= mark
 * and each of these cuts the line of offsets into pieces.
 */
#include "revise.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

static void keep_piece(struct pieces_left *left, double from, double to) {
    if (from > to + LENGTH_TOLERANCE || left->count == INTERVAL_PIECES_MOST)
        return;
    left->from[left->count] = from;
    left->to[left->count++] = fmax(from, to);
}

/* What of `left` lies in one of the two stretches; the second begins after the first ends. */
static void cut(struct pieces_left *left, const double stretches[2][2]) {
    const struct pieces_left before = *left;
    left->count = 0;
    for (size_t i = 0; i < before.count; i++)
        for (int s = 0; s < 2; s++)
            keep_piece(left, fmax(before.from[i], stretches[s][0]),
                       fmin(before.to[i], stretches[s][1]));
}

/* The stretches of offsets that one probe allows; the second is empty for wood. */
static void allowed(const struct probe *probe, double mark, double stretches[2][2]) {
    const double low = probe->off - probe->half, high = probe->off + probe->half;
    double found[2][2] = {{-INFINITY, low}, {high, INFINITY}};
    if (probe->found == DRILL_WOOD) {
        found[0][0] = low;
        found[0][1] = high;
        found[1][1] = -INFINITY;
    } else if (probe->found == DRILL_EDGE) {
        found[0][0] = low - mark;
        found[0][1] = low + mark;
        found[1][0] = high - mark;
        found[1][1] = high + mark;
    }
    for (int s = 0; s < 2; s++)
        for (int end = 0; end < 2; end++)
            stretches[s][end] = found[s][end];
}

void interval_left(const struct probe *probes, size_t count, double reach, double mark,
                   struct pieces_left *left) {
    *left = (struct pieces_left){.from = {-reach}, .to = {reach}, .count = 1};
    for (size_t i = 0; i < count; i++) {
        double stretches[2][2];
        allowed(&probes[i], mark, stretches);
        cut(left, (const double(*)[2])stretches);
    }
}

/* How much of `left` a probe at `off` would find wood for. */
static double wood_share(const struct pieces_left *left, double off, double half) {
    double sum = 0;
    for (size_t i = 0; i < left->count; i++)
        sum += fmax(0, fmin(left->to[i], off + half) - fmax(left->from[i], off - half));
    return sum;
}

static int by_value(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The point that halves what is left.  The share found as wood is linear between the points where
 * an end of a piece meets a face of the ply, so it is enough to look from one of those to the next.
 */
static double halving_point(const struct pieces_left *left, double half) {
    double cuts[4 * INTERVAL_PIECES_MOST] = {0}, all = 0, best = 0, miss = INFINITY;
    size_t count = 0;
    for (size_t i = 0; i < left->count; i++) {
        all += left->to[i] - left->from[i];
        for (int side = -1; side <= 1; side += 2) {
            cuts[count++] = left->from[i] + side * half;
            cuts[count++] = left->to[i] + side * half;
        }
    }
    qsort(cuts, count, sizeof *cuts, by_value);
    for (size_t i = 0; i + 1 < count; i++) {
        const double low = wood_share(left, cuts[i], half) - all / 2;
        const double high = wood_share(left, cuts[i + 1], half) - all / 2;
        const double part = fabs(high - low) > 0 ? fmin(fmax(-low / (high - low), 0), 1) : 0;
        const double point = cuts[i] + part * (cuts[i + 1] - cuts[i]);
        const double off = fabs(wood_share(left, point, half) - all / 2);
        const bool nearer = off < miss + LENGTH_TOLERANCE && fabs(point) < fabs(best);
        if (off < miss - LENGTH_TOLERANCE || nearer) {
            miss = fmin(miss, off);
            best = point;
        }
    }
    return best;
}

/* Two pieces that leave a gap between them; pieces that touch are one. */
static bool in_pieces(const struct pieces_left *left) {
    for (size_t i = 1; i < left->count; i++)
        if (left->from[i] - left->to[i - 1] > LENGTH_TOLERANCE)
            return true;
    return false;
}

void interval_learn(const struct probe *probes, size_t count, double tolerance, double doubt,
                    double mark, double half, struct learned *learned) {
    struct learned found = {.knowledge = KNOWLEDGE_STANDS, .tolerance = tolerance};
    interval_left(probes, count, tolerance, mark, &found.left);
    if (found.left.count > 0) {
        *learned = found;
        return;
    }
    interval_left(probes, count, fmax(doubt, tolerance), mark, &found.left);
    if (found.left.count == 0) {
        found.knowledge = KNOWLEDGE_CONTRADICTED;
        *learned = found;
        return;
    }
    const double from = found.left.from[0], to = found.left.to[found.left.count - 1];
    found.shift = (from + to) / 2;
    found.tolerance = (to - from) / 2;
    found.knowledge = KNOWLEDGE_MOVED;
    if (in_pieces(&found.left) || !length_holds(tolerance - found.tolerance)) {
        found.knowledge = KNOWLEDGE_OPEN;
        found.probe = halving_point(&found.left, half);
    }
    *learned = found;
}
