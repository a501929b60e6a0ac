#include "posts.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>

/* Pieces are not made smaller than that. */
#define PIECE_LEAST 0.5
enum { POSTS_MOST = 1 << 19 };

bool posts_add(struct posts *posts, const struct post *post) {
    struct post *list = posts->count < POSTS_MOST ? grow_list(posts->list, &posts->room,
                                                              posts->count, sizeof *posts->list)
                                                  : NULL;
    if (!list)
        return false;
    posts->list = list;
    posts->list[posts->count++] = *post;
    return true;
}

/* What all strips of a row's line have together. */
static struct interval line_of(const struct view *view, size_t c, const struct spot *spot,
                               struct interval up, int row) {
    struct interval strips[LINE_STRIPS_MOST];
    const size_t count = flank_lines(view, c, spot, up, row, strips);
    return (struct interval){strips[0].lo, strips[count - 1].hi};
}

static bool add_post(const struct view *view, size_t c, struct post post, struct posts *posts) {
    const struct spot_list spots = ranking_spots(view->ranking, c);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        post.posture.lines[row] = line_of(view, c, &spots.list[post.spot], post.posture.up, row);
    return posts_add(posts, &post);
}

/* As far from another rank as they can be, which is to hold as it is. */
static bool add_ends(const struct view *view, size_t c, int rank, struct post post,
                     struct posts *posts) {
    struct interval *const up = &post.posture.up;
    const struct interval all = *up;
    bool good = true;
    *up = (struct interval){all.lo, all.lo};
    if (rank != RANK_UPPER)
        good = add_post(view, c, post, posts);
    *up = (struct interval){all.hi, all.hi};
    if (rank == RANK_UPPER || (rank == RANK_MIDDLE && all.lo < all.hi))
        good = good && add_post(view, c, post, posts);
    return good;
}

bool posts_of(const struct view *view, size_t c, int rank, size_t spot, struct posts *posts) {
    const struct spot_list spots = ranking_spots(view->ranking, c);
    struct interval clip[AXIS_COUNT];
    if (!ranking_clip(view->ranking, c, rank, &spots.list[spot], clip))
        return true;
    const struct post post = {.spot = spot, .along = clip[ALONG], .posture = {.up = clip[UP]}};
    return ranked_proves(view->ranking->how) ? add_post(view, c, post, posts)
                                             : add_ends(view, c, rank, post, posts);
}

/* A row's line as it may lie with its bracket there, in one piece or two; none: 0. */
static size_t halve_line(const struct view *view, size_t c, const struct post *post, int row,
                         bool halve, struct interval pieces[2]) {
    const struct spot_list spots = ranking_spots(view->ranking, c);
    struct interval strips[LINE_STRIPS_MOST];
    const struct interval all = post->posture.lines[row];
    const size_t listed =
        flank_lines(view, c, &spots.list[post->spot], post->posture.up, row, strips);
    size_t count = 0;
    for (size_t i = 0; i < listed; i++) {
        const struct interval strip = {length_greater(strips[i].lo, all.lo),
                                       length_lesser(strips[i].hi, all.hi)};
        if (strip.lo <= strip.hi)
            strips[count++] = strip;
    }
    if (count == 0)
        return 0;
    const struct interval line = {strips[0].lo, strips[count - 1].hi};
    const double middle = (line.lo + line.hi) / 2;
    pieces[0] = line;
    if (!halve || line.hi <= line.lo + PIECE_LEAST)
        return 1;
    pieces[0].hi = count > 1 ? strips[count / 2 - 1].hi : middle;
    pieces[1] = (struct interval){count > 1 ? strips[count / 2].lo : middle, line.hi};
    return 2;
}

static bool add_lines(const struct view *view, size_t c, const struct post *post, bool halve,
                      struct posts *posts, size_t *count) {
    struct interval pieces[ROW_COUNT][2];
    size_t counts[ROW_COUNT];
    bool good = true;
    *count = 1;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        counts[row] = halve_line(view, c, post, row, halve, pieces[row]);
        *count *= counts[row];
    }
    for (size_t i = 0; i < counts[ROW_TOP]; i++)
        for (size_t k = 0; k < counts[ROW_BOTTOM] && good; k++) {
            struct post made = *post;
            made.posture.lines[ROW_TOP] = pieces[ROW_TOP][i];
            made.posture.lines[ROW_BOTTOM] = pieces[ROW_BOTTOM][k];
            good = posts_add(posts, &made);
        }
    return good;
}

static bool split_one(const struct view *view, size_t c, enum posts_piece piece,
                      const struct post *post, struct posts *posts, bool *split) {
    const struct interval up = post->posture.up;
    const bool halves = piece == POSTS_UP && up.hi > up.lo + PIECE_LEAST;
    size_t count;
    bool good = true;
    *split = *split || halves;
    for (int i = 0; i < (halves ? 2 : 1) && good; i++) {
        struct post half = *post;
        if (halves)
            *(i == 0 ? &half.posture.up.hi : &half.posture.up.lo) = (up.lo + up.hi) / 2;
        good = add_lines(view, c, &half, piece == POSTS_LINES, posts, &count);
        *split = *split || count > 1;
    }
    return good;
}

bool posts_split(const struct view *view, size_t c, enum posts_piece piece, struct posts *posts,
                 bool *split) {
    struct posts made = {.list = NULL};
    bool good = true;
    for (size_t i = 0; i < posts->count && good; i++)
        good = split_one(view, c, piece, &posts->list[i], &made, split);
    free(posts->list);
    *posts = made;
    return good;
}
