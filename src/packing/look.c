/* Looks at brackets in ranks: one sweep, or ever closer ones. */
#include "look.h"

#include "length.h"
#include "outlines.h"

#include <math.h>
#include <stdlib.h>

/* So many that stand a sweep keeps: where the search may go through a few nodes only, and
 * otherwise; where they are asked whether they can, which takes long; and where berths are marked.
 */
enum {
    SWEPT_LEAST = 16000,
    SWEPT_MOST = 64000,
    SWEPT_ASKED_LEAST = 400,
    SWEPT_ASKED = 2000,
    SWEPT_MARKED = 32000
};
/* Less than that is a few. */
enum { NODES_MANY = 8000 };
/* So many are asked for each that is kept. */
enum { ASKS = 5 };
/* So often pieces are made smaller, likewise. */
enum { ROUNDS_LEAST = 1, ROUNDS_MOST = 8 };

/* Of each class those come first that are named first. */
static bool some_agree(const struct ranking *ranking, const struct rank_turns *turns) {
    struct seat seats[ROOF_BRACKETS_MOST];
    size_t who[ROOF_BRACKETS_MOST];
    bool taken[ROOF_BRACKETS_MOST] = {false};
    for (size_t i = 0; i < turns->count; i++) {
        const struct rank_turn *turn = &turns->list[i];
        size_t b = 0;
        while (taken[b] || ranking->class_of[b] != turn->class)
            b++;
        taken[b] = true;
        who[i] = b;
        seats[b] = (struct seat){.spot = &ranking_spots(ranking, turn->class).list[turn->tag],
                                 .at = {[ALONG] = turn->x, [UP] = turn->y}};
    }
    return packing_some_agree(ranking->packing, seats, who, turns->count);
}

/* Those that do not agree are not kept, and may be many. */
static bool agree(void *subject, const struct rank_turns *turns) {
    struct look *look = subject;
    struct ranks *ranks = look->task.ranks;
    ranks->ended = ranks->ended || ++look->asks > ASKS * look->task.most;
    return !ranks->ended && some_agree(look->view.ranking, turns);
}

/* Whether the search may go through a few nodes only. */
static bool glances(const struct ranking *ranking) {
    const size_t nodes = ranking->packing->task->most_nodes;
    return nodes > 0 && nodes < NODES_MANY;
}

/* A sweep; asked: those that stand are asked whether they can.  False where it came to no end. */
static bool sweep_once(struct look *look, bool asked, struct rank_turns *turns, bool *fits) {
    const struct ranking *ranking = look->view.ranking;
    look->task.ranks->ended = false;
    look->task.rest = mirror_rest(look->mirror);
    look->task.agree = asked ? agree : NULL;
    look->task.subject = look;
    look->asks = 0;
    look->task.most = asked ? (ranking->packing->task->hasty ? SWEPT_ASKED_LEAST : SWEPT_ASKED)
                      : glances(ranking) ? SWEPT_LEAST
                                         : SWEPT_MOST;
    return sweep_find(&look->task, turns, fits);
}

/* Whether all fit is known, and where they do was tried; *end: what that comes to. */
static bool looked(struct look *look, const struct trial *trial, enum ranked_end *end) {
    struct rank_turns turns;
    bool fits = false;
    *end = RANKED_SILENT;
    if (!look_list(look) || !sweep_once(look, false, &turns, &fits))
        return true;
    *end = fits ? RANKED_BOUND : RANKED_NONE;
    if (!fits || !trial->take || trial->take(trial->subject, &turns))
        return true;
    return look->view.minded && !look_late(look->task.ranks) &&
           sweep_once(look, true, &turns, &fits) && fits && trial->take(trial->subject, &turns);
}

/* The marked ones only.  False without memory. */
static bool list_marked(const struct berths *berths, struct berths *marked) {
    bool good = true;
    for (size_t i = 0; i < berths->count && good; i++)
        if (berths->list[i].mark < INFINITY)
            good = berths_add(marked, &berths->list[i]);
    return good;
}

/* The posts that any packing may have, and how much of them. */
static bool keep_marked(struct look *look, size_t c, int rank) {
    const struct sweep_task *task = &look->task;
    const struct berths *each = &look->each[c][rank];
    struct posts *posts = &look->posts[c][rank], left = {.list = NULL};
    struct berths marked = {.list = NULL};
    bool good = list_marked(&task->berths[c][rank], &marked);
    for (size_t i = 0; i < each->count && good; i++) {
        const struct berth *berth = &each->list[i];
        struct post post = posts->list[berth->post];
        double from, to;
        if (!outline_marked(berth, &task->near, &task->far, &marked, &from) ||
            !mirror_marked(look->mirror, c, rank, berth, &to))
            continue;
        post.along.lo = length_greater(post.along.lo, from - SAME);
        post.along.hi = length_lesser(post.along.hi, to + SAME);
        good = post.along.lo > post.along.hi || posts_add(&left, &post);
    }
    free(marked.list);
    free(posts->list);
    *posts = left;
    return good;
}

/* All that can stand, from the near end and then from the far end: what either leaves out the other
 * one has not to look at.  False where that would take long. */
static bool mark(struct look *look, int round) {
    struct sweep_task *task = &look->task;
    task->agree = NULL;
    task->most = round == 0 ? SWEPT_MARKED : SWEPT_MARKED / 4;
    task->rest = mirror_rest(look->mirror);
    struct sweep *ahead = sweep_mark(task);
    struct mirror *mirror = ahead ? mirror_mark(task, ahead) : NULL;
    sweep_forget(ahead);
    if (!mirror)
        return false;
    mirror_forget(look->mirror);
    look->mirror = mirror;
    return true;
}

/* What is left in smaller pieces: up the slope, which tells most, and now and then of the lines;
 * where nothing is left out first of these only, as there are many.  False: there is no more to be
 * said. */
static bool closer(struct look *look, int round) {
    struct ranks *ranks = look->task.ranks;
    const bool marked = mark(look, round), lines = round % 3 == 0,
               up = round > 0 ? round != 3 : marked;
    bool split = false, good = !ranks->failed;
    ranks->ended = false;
    for (size_t c = 0; c < ranks->class_count && good && !look_late(ranks); c++)
        for (size_t rank = 0; rank < ranks->ranks && good; rank++)
            good =
                (!marked || keep_marked(look, c, (int)rank)) &&
                (!up || posts_split(&look->view, c, POSTS_UP, &look->posts[c][rank], &split)) &&
                (!lines || posts_split(&look->view, c, POSTS_LINES, &look->posts[c][rank], &split));
    return good && !ranks->ended && split;
}

static bool begin_closer(struct look *look) {
    const struct ranks *ranks = look->task.ranks;
    bool good = true;
    for (size_t c = 0; c < ranks->class_count && good; c++)
        for (size_t rank = 0; rank < ranks->ranks && good; rank++) {
            const size_t count = ranking_spots(look->view.ranking, c).count;
            for (size_t i = 0; i < count && good; i++)
                good = posts_of(&look->view, c, (int)rank, i, &look->posts[c][rank]);
        }
    return good;
}

/* Ever closer, as long as they fit as it is, and nothing that is tried does. */
static enum ranked_end look_closer(struct look *look, const struct trial *trial) {
    const int most = glances(look->view.ranking) ? ROUNDS_LEAST : ROUNDS_MOST;
    enum ranked_end end;
    if (!begin_closer(look))
        return RANKED_SILENT;
    for (int round = 0; !looked(look, trial, &end); round++) {
        look->task.ranks->ended = false;
        if (round == most || look->task.ranks->failed || look_late(look->task.ranks) ||
            !closer(look, round))
            return RANKED_SILENT;
    }
    return end;
}

static void forget(struct look *look) {
    for (size_t c = 0; c < look->task.ranks->class_count; c++)
        for (int rank = 0; rank < RANK_COUNT; rank++) {
            free(look->posts[c][rank].list);
            free(look->each[c][rank].list);
            free(look->task.berths[c][rank].list);
        }
    mirror_forget(look->mirror);
    free(look->task.near.list);
    free(look->task.far.list);
    free(look);
}

enum ranked_end ranking_sweep(struct ranking *ranking, const struct trial *trial) {
    struct look *look = calloc(1, sizeof *look);
    if (!look)
        return RANKED_SILENT;
    struct ranks *ranks = &ranking->ranks;
    look->view = view_of(ranking);
    look->task.ranks = ranks;
    look->task.beyond = 2 * look->view.beyond;
    for (size_t c = 0; c < ranks->class_count; c++)
        look->task.level[c] = ranking->packing->task->parcels[ranking->first[c]].level;
    look->task.narrows = ranking->how == RANKED_LOOSE && look->view.minded;
    look->task.stacks = look->task.narrows && look->view.stacks;
    look->closer =
        ranking->how == RANKED_LOOSE && look->view.minded && !ranking->packing->task->hasty;
    enum ranked_end end = RANKED_SILENT;
    if (look->closer)
        end = look_closer(look, trial);
    else
        looked(look, trial, &end);
    forget(look);
    return end;
}
