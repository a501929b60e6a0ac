/* The beam solver against another method: the stiffness method, whose unknowns are the places and
 * slopes of nodes, not moments, with a dense matrix in long double.
 *
 * Nodes stand at every support, load and end; each piece between two nodes is a beam element with
 * EI = 1.  Supports hold their nodes in place; what is left is solved by elimination with pivots,
 * and the end forces of the elements give reactions, moments and shears.
 */
#include "beam.h"
#include "figures.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define BEAMS 500
#define SHARE 1e-9

enum { SUPPORTS = 12, POINTS = 8, STRETCHES = 4 };
enum { NODES = SUPPORTS + POINTS + 2 * STRETCHES, FREEDOMS = 2 * NODES };

struct trial {
    double supports[SUPPORTS];
    struct beam_point points[POINTS];
    struct beam_stretch stretches[STRETCHES];
    struct beam beam;
};

struct frame {
    double at[NODES]; /* rising */
    size_t count;
    long double stiffness[FREEDOMS][FREEDOMS + 1]; /* the last column is the load */
    long double moved[FREEDOMS];                   /* place (down) and slope of each node */
};

static int by_size(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void add_node(struct frame *frame, double at) {
    for (size_t i = 0; i < frame->count; i++)
        if (frame->at[i] == at)
            return;
    frame->at[frame->count++] = at;
}

static void find_nodes(struct frame *frame, const struct beam *beam) {
    for (size_t i = 0; i < beam->support_count; i++)
        add_node(frame, beam->supports_in[i]);
    for (size_t i = 0; i < beam->point_count; i++)
        add_node(frame, beam->points[i].at_in);
    for (size_t i = 0; i < beam->stretch_count; i++) {
        add_node(frame, beam->stretches[i].from_in);
        add_node(frame, beam->stretches[i].to_in);
    }
    qsort(frame->at, frame->count, sizeof *frame->at, by_size);
}

/* Stiffness of an element of length l on the places and slopes of its two ends. */
static void element(long double l, long double k[4][4]) {
    const long double shape[4][4] = {{12, 6 * l, -12, 6 * l},
                                     {6 * l, 4 * l * l, -6 * l, 2 * l * l},
                                     {-12, -6 * l, 12, -6 * l},
                                     {6 * l, 2 * l * l, -6 * l, 4 * l * l}};
    for (int i = 0; i < 4; i++)
        for (int j = 0; j < 4; j++)
            k[i][j] = shape[i][j] / (l * l * l);
}

static long double uniform_on(const struct beam *beam, double from, double to) {
    long double sum = 0;
    for (size_t i = 0; i < beam->stretch_count; i++)
        if (beam->stretches[i].from_in <= from && beam->stretches[i].to_in >= to)
            sum += (long double)beam->stretches[i].down_lb_per_in;
    return sum;
}

/* What a uniform load puts on the ends of a clamped element. */
static void clamped(long double w, long double l, long double f[4]) {
    f[0] = w * l / 2;
    f[1] = w * l * l / 12;
    f[2] = w * l / 2;
    f[3] = -w * l * l / 12;
}

static long double length_of(const struct frame *frame, size_t i) {
    return (long double)frame->at[i + 1] - (long double)frame->at[i];
}

static void assemble(struct frame *frame, const struct beam *beam) {
    const size_t load = 2 * frame->count;
    for (size_t e = 0; e + 1 < frame->count; e++) {
        long double k[4][4], f[4];
        element(length_of(frame, e), k);
        clamped(uniform_on(beam, frame->at[e], frame->at[e + 1]), length_of(frame, e), f);
        for (size_t i = 0; i < 4; i++) {
            for (size_t j = 0; j < 4; j++)
                frame->stiffness[2 * e + i][2 * e + j] += k[i][j];
            frame->stiffness[2 * e + i][load] += f[i];
        }
    }
    for (size_t n = 0; n < frame->count; n++) {
        for (size_t p = 0; p < beam->point_count; p++)
            if (beam->points[p].at_in == frame->at[n])
                frame->stiffness[2 * n][load] += (long double)beam->points[p].down_lb;
        for (size_t s = 0; s < beam->support_count; s++) {
            if (beam->supports_in[s] != frame->at[n])
                continue;
            for (size_t j = 0; j <= load; j++) {
                frame->stiffness[2 * n][j] = j == 2 * n ? 1 : 0;
                if (j < load && j != 2 * n)
                    frame->stiffness[j][2 * n] = 0;
            }
        }
    }
}

static void eliminate(struct frame *frame) {
    const size_t size = 2 * frame->count;
    for (size_t c = 0; c < size; c++) {
        size_t pivot = c;
        for (size_t r = c + 1; r < size; r++)
            if (fabsl(frame->stiffness[r][c]) > fabsl(frame->stiffness[pivot][c]))
                pivot = r;
        for (size_t j = 0; j <= size; j++) {
            const long double kept = frame->stiffness[c][j];
            frame->stiffness[c][j] = frame->stiffness[pivot][j];
            frame->stiffness[pivot][j] = kept;
        }
        assert_true(fabsl(frame->stiffness[c][c]) > 0);
        for (size_t r = c + 1; r < size; r++) {
            const long double factor = frame->stiffness[r][c] / frame->stiffness[c][c];
            for (size_t j = c; j <= size; j++)
                frame->stiffness[r][j] -= factor * frame->stiffness[c][j];
        }
    }
    for (size_t c = size; c-- > 0;) {
        long double sum = frame->stiffness[c][size];
        for (size_t j = c + 1; j < size; j++)
            sum -= frame->stiffness[c][j] * frame->moved[j];
        frame->moved[c] = sum / frame->stiffness[c][c];
    }
}

/* What an element's ends bear: shear down at the left end, moment (sagging) there, and at its right
 * end; from its end forces. */
struct ends {
    long double left_shear, left_moment, right_shear, right_moment, uniform;
};

static struct ends ends_of(const struct frame *frame, const struct beam *beam, size_t e) {
    long double k[4][4], f[4], force[4];
    const long double w = uniform_on(beam, frame->at[e], frame->at[e + 1]);
    element(length_of(frame, e), k);
    clamped(w, length_of(frame, e), f);
    for (size_t i = 0; i < 4; i++) {
        force[i] = -f[i];
        for (size_t j = 0; j < 4; j++)
            force[i] += k[i][j] * frame->moved[2 * e + j];
    }
    /* force[] pushes the element's ends down and turns them; the beam's own shear and moment are
     * what the ends bear the other way. */
    return (struct ends){-force[0], force[1], force[2], -force[3], w};
}

/* What the beam does as a whole by this method. */
struct outcome_of {
    long double reaction[SUPPORTS], moment[SUPPORTS], sag, hog, shear;
};

static void look(struct outcome_of *found, long double moment, long double shear) {
    found->sag = fmaxl(found->sag, moment);
    found->hog = fminl(found->hog, moment);
    found->shear = fmaxl(found->shear, fabsl(shear));
}

static struct outcome_of by_stiffness(const struct beam *beam) {
    static const struct frame none;
    static struct frame frame; /* large; cleared at every use */
    struct outcome_of found = {.sag = 0};
    frame = none;
    find_nodes(&frame, beam);
    assemble(&frame, beam);
    eliminate(&frame);
    long double left[NODES] = {0}, right[NODES] = {0}, moment[NODES] = {0};
    for (size_t e = 0; e + 1 < frame.count; e++) {
        const struct ends ends = ends_of(&frame, beam, e);
        right[e] = ends.left_shear;
        left[e + 1] = ends.right_shear;
        moment[e] = ends.left_moment;
        moment[e + 1] = ends.right_moment;
        look(&found, ends.left_moment, ends.left_shear);
        look(&found, ends.right_moment, ends.right_shear);
        const long double to_top = ends.uniform != 0 ? ends.left_shear / ends.uniform : -1;
        if (to_top > 0 && to_top < length_of(&frame, e))
            look(&found, ends.left_moment + ends.left_shear * to_top / 2, 0);
    }
    for (size_t s = 0; s < beam->support_count; s++)
        for (size_t n = 0; n < frame.count; n++)
            if (frame.at[n] == beam->supports_in[s]) {
                found.moment[s] = moment[n];
                found.reaction[s] = right[n] - left[n];
                for (size_t p = 0; p < beam->point_count; p++)
                    if (beam->points[p].at_in == frame.at[n])
                        found.reaction[s] += (long double)beam->points[p].down_lb;
            }
    return found;
}

/* On a grid of 1/16 in, as roofs are: then nodes are the same or well apart. */
static double on_grid(uint64_t *seed, double lo, double hi) {
    return floor(figures_random(seed, lo, hi) * 16) / 16;
}

static void make_trial(uint64_t *seed, struct trial *trial) {
    memset(trial, 0, sizeof *trial);
    struct beam *beam = &trial->beam;
    *beam = (struct beam){.supports_in = trial->supports,
                          .support_count = 2 + figures_random_below(seed, SUPPORTS - 1),
                          .points = trial->points,
                          .point_count = figures_random_below(seed, POINTS + 1),
                          .stretches = trial->stretches,
                          .stretch_count = figures_random_below(seed, STRETCHES + 1)};
    double at = on_grid(seed, -50, 50);
    for (size_t i = 0; i < beam->support_count; i++) {
        trial->supports[i] = at;
        at += on_grid(seed, 3, 60);
    }
    const double from = trial->supports[0] - 20;
    const double to = trial->supports[beam->support_count - 1] + 20;
    for (size_t i = 0; i < beam->point_count; i++)
        trial->points[i] = (struct beam_point){
            figures_random_below(seed, 8) == 0
                ? trial->supports[figures_random_below(seed, (unsigned)beam->support_count)]
                : on_grid(seed, from, to),
            figures_random(seed, -400, 900)};
    for (size_t i = 0; i < beam->stretch_count; i++) {
        const double start = on_grid(seed, from, to - 1);
        trial->stretches[i] = (struct beam_stretch){start, on_grid(seed, start + 0.5, to),
                                                    figures_random(seed, -5, 30)};
    }
}

static void both_methods_agree_on_random_beams(void **state) {
    (void)state;
    uint64_t seed = 2018;
    static struct trial trial;
    for (int n = 0; n < BEAMS; n++) {
        struct beam_answer answer;
        make_trial(&seed, &trial);
        assert_true(beam_solve(&trial.beam, &answer));
        const struct outcome_of wanted = by_stiffness(&trial.beam);
        double force = 0, moment = (double)fmaxl(wanted.sag, -wanted.hog);
        for (size_t s = 0; s < trial.beam.support_count; s++)
            force = fmax(force, fabs((double)wanted.reaction[s]));
        for (size_t s = 0; s < trial.beam.support_count; s++) {
            expect_share("reaction", answer.reaction_lb[s], (double)wanted.reaction[s], force,
                         SHARE);
            expect_share("support moment", answer.moment_inlb[s], (double)wanted.moment[s], moment,
                         SHARE);
        }
        expect_share("sag", answer.sag.value, (double)wanted.sag, moment, SHARE);
        expect_share("hog", answer.hog.value, (double)wanted.hog, moment, SHARE);
        expect_share("shear", fabs(answer.shear.value), (double)wanted.shear, force, SHARE);
        expect_share("moment at its place",
                     beam_moment_inlb(&trial.beam, &answer, answer.sag.at_in), answer.sag.value,
                     moment, SHARE);
    }
}

/* The method of this file on a beam solved by hand: 3/8, 5/4 w L, -1/8 w L^2; so that it is not
 * only compared with what it is to prove. */
static void stiffness_method_itself_is_right(void **state) {
    (void)state;
    const double supports[] = {0, 48, 96};
    const struct beam_stretch load = {0, 96, 10};
    const struct beam beam = {supports, 3, NULL, 0, &load, 1};
    const struct outcome_of found = by_stiffness(&beam);
    expect_figure("R", "3/8 w L", (double)found.reaction[0], 180, 1e-9);
    expect_figure("R", "5/4 w L", (double)found.reaction[1], 600, 1e-9);
    expect_figure("M", "-1/8 w L2", (double)found.moment[1], -2880, 1e-9);
    expect_figure("sag", "9/128 w L2", (double)found.sag, 1620, 1e-9);
}

/* Statics that any beam obeys, up to the most supports: forces and moments sum to nothing. */
static void long_beams_are_in_equilibrium(void **state) {
    (void)state;
    uint64_t seed = 200;
    for (int n = 0; n < 200; n++) {
        double supports[BEAM_SUPPORTS_MOST];
        struct beam_point points[40];
        const size_t count = 2 + figures_random_below(&seed, BEAM_SUPPORTS_MOST - 1);
        double at = 0, load = 0, about = 0, size = 0;
        for (size_t i = 0; i < count; i++)
            supports[i] = at += figures_random(&seed, 8, 30);
        for (size_t i = 0; i < 40; i++) {
            points[i] = (struct beam_point){figures_random(&seed, -10, at + 10),
                                            figures_random(&seed, -100, 500)};
            load += points[i].down_lb;
            about += points[i].down_lb * points[i].at_in;
            size += fabs(points[i].down_lb);
        }
        const struct beam beam = {supports, count, points, 40, NULL, 0};
        struct beam_answer answer;
        assert_true(beam_solve(&beam, &answer));
        for (size_t i = 0; i < count; i++) {
            load -= answer.reaction_lb[i];
            about -= answer.reaction_lb[i] * supports[i];
        }
        expect_share("forces", load, 0, size, SHARE);
        expect_share("moments", about, 0, size * at, SHARE);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stiffness_method_itself_is_right),
        cmocka_unit_test(both_methods_agree_on_random_beams),
        cmocka_unit_test(long_beams_are_in_equilibrium),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
