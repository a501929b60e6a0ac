#include "cutlist.h"

#include "length.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* The best way found to cut the pieces of one set. */
struct cutting {
    double stock;     /* total length bought; INFINITY where the set cannot be cut */
    unsigned bars;    /* how many */
    unsigned first;   /* the set of pieces on the bar that holds the lowest piece */
    double first_bar; /* the stock of that bar */
};

/* The shortest stock that holds pieces of that total, or INFINITY. */
static double shortest_stock(const struct cut_order *order, double total, size_t count) {
    double shortest = INFINITY;
    double needed = total + order->kerf * (double)(count > 0 ? count - 1 : 0);
    for (size_t i = 0; i < order->stock_count; i++) {
        if (length_holds(order->stock[i] - needed) && order->stock[i] < shortest) {
            shortest = order->stock[i];
        }
    }
    return shortest;
}

static bool is_better(double stock, unsigned bars, const struct cutting *than) {
    if (stock < than->stock - LENGTH_TOLERANCE) {
        return true;
    }
    return stock <= than->stock + LENGTH_TOLERANCE && bars < than->bars;
}

/* The stock for each set of pieces on one bar, by dropping the set's lowest piece. */
static void price_bars(const struct cut_order *order, const double *lengths, size_t count,
                       double *bar) {
    for (unsigned set = 1; set < 1u << count; set++) {
        double total = 0;
        size_t pieces = 0;
        for (size_t i = 0; i < count; i++) {
            if ((set >> i & 1u) != 0) {
                total += lengths[i];
                pieces++;
            }
        }
        bar[set] = shortest_stock(order, total, pieces);
    }
}

/* Best cutting of every set: one bar holds its lowest piece; every choice of what else lies on that
 * bar is tried, what is left being a smaller set, already cut at its best. */
static void cut_every_set(const double *bar, size_t count, struct cutting *best) {
    best[0] = (struct cutting){0, 0, 0, 0};
    for (unsigned set = 1; set < 1u << count; set++) {
        unsigned lowest = set & (~set + 1u);
        unsigned others = set ^ lowest;
        best[set] = (struct cutting){INFINITY, 0, 0, 0};
        for (unsigned extra = others;; extra = (extra - 1u) & others) {
            unsigned first = extra | lowest;
            if (isfinite(bar[first])) {
                const struct cutting *rest = &best[set ^ first];
                double stock = bar[first] + rest->stock;
                if (is_better(stock, rest->bars + 1, &best[set])) {
                    best[set] = (struct cutting){stock, rest->bars + 1, first, bar[first]};
                }
            }
            if (extra == 0) {
                break;
            }
        }
    }
}

/* Reads the best cutting of all pieces back into the list. */
static void take_bars(const struct cutting *best, const size_t *piece, size_t count,
                      struct cutlist *list) {
    unsigned set = (1u << count) - 1u;
    while (set != 0) {
        const struct cutting *cutting = &best[set];
        for (size_t i = 0; i < count; i++) {
            if ((cutting->first >> i & 1u) != 0) {
                list->bar_of[piece[i]] = list->bar_count;
            }
        }
        list->bars[list->bar_count++].stock = cutting->first_bar;
        set ^= cutting->first;
    }
}

/* piece: indices of the pieces that some stock is long enough for. */
static enum outcome cut_exact(const struct cut_order *order, const size_t *piece, size_t count,
                              struct cutlist *list) {
    size_t sets = (size_t)1 << count;
    double lengths[CUTLIST_EXACT_MOST];
    double *bar = calloc(sets, sizeof *bar);
    struct cutting *best = calloc(sets, sizeof *best);
    enum outcome outcome = OUTCOME_FAULT;
    if (bar == NULL || best == NULL) {
        goto done;
    }
    for (size_t i = 0; i < count; i++) {
        lengths[i] = order->pieces[piece[i]];
    }
    price_bars(order, lengths, count, bar);
    cut_every_set(bar, count, best);
    take_bars(best, piece, count, list);
    list->exact = true;
    outcome = OUTCOME_DONE;
done:
    free(best);
    free(bar);
    return outcome;
}

/* Total length and number of the pieces already on a bar. */
static double on_bar(const struct cut_order *order, const struct cutlist *list, size_t bar,
                     size_t *count) {
    double total = 0;
    *count = 0;
    for (size_t i = 0; i < list->count; i++) {
        if (list->bar_of[i] == bar) {
            total += order->pieces[i];
            ++*count;
        }
    }
    return total;
}

/* The first bar with room for the piece, a new one if none has. */
static size_t first_fit(const struct cut_order *order, struct cutlist *list, double piece) {
    for (size_t bar = 0; bar < list->bar_count; bar++) {
        size_t count = 0;
        double total = on_bar(order, list, bar, &count);
        if (isfinite(shortest_stock(order, total + piece, count + 1))) {
            return bar;
        }
    }
    return list->bar_count++;
}

/* Sorts piece, longest first; equal ones by index. */
static void sort_longest_first(const struct cut_order *order, size_t *piece, size_t count) {
    for (size_t i = 1; i < count; i++) {
        size_t moved = piece[i];
        size_t j = i;
        for (; j > 0 && order->pieces[piece[j - 1]] < order->pieces[moved]; j--) {
            piece[j] = piece[j - 1];
        }
        piece[j] = moved;
    }
}

static void cut_first_fit(const struct cut_order *order, size_t *piece, size_t count,
                          struct cutlist *list) {
    sort_longest_first(order, piece, count);
    for (size_t i = 0; i < count; i++) {
        list->bar_of[piece[i]] = first_fit(order, list, order->pieces[piece[i]]);
    }
    for (size_t bar = 0; bar < list->bar_count; bar++) {
        size_t pieces = 0;
        double total = on_bar(order, list, bar, &pieces);
        list->bars[bar].stock = shortest_stock(order, total, pieces);
    }
}

static void weigh_left_overs(const struct cut_order *order, struct cutlist *list) {
    for (size_t bar = 0; bar < list->bar_count; bar++) {
        size_t count = 0;
        double total = on_bar(order, list, bar, &count);
        double left = list->bars[bar].stock - total - order->kerf * (double)count;
        list->bars[bar].left_over = left > 0 ? left : 0;
    }
}

enum outcome cutlist_make(const struct cut_order *order, struct cutlist **list) {
    enum outcome outcome = OUTCOME_FAULT;
    struct cutlist *made = calloc(1, sizeof *made);
    size_t *piece = calloc(order->count + 1, sizeof *piece);
    size_t count = 0;
    if (made == NULL || piece == NULL) {
        goto done;
    }
    made->bars = calloc(order->count + 1, sizeof *made->bars);
    made->bar_of = calloc(order->count + 1, sizeof *made->bar_of);
    made->count = order->count;
    if (made->bars == NULL || made->bar_of == NULL) {
        goto done;
    }
    for (size_t i = 0; i < order->count; i++) {
        made->bar_of[i] = SIZE_MAX;
        if (isfinite(shortest_stock(order, order->pieces[i], 1))) {
            piece[count++] = i;
        }
    }
    if (count <= CUTLIST_EXACT_MOST) {
        outcome = cut_exact(order, piece, count, made);
    } else {
        cut_first_fit(order, piece, count, made);
        outcome = OUTCOME_DONE;
    }
    weigh_left_overs(order, made);
    if (outcome == OUTCOME_DONE) {
        *list = made;
        made = NULL;
    }
done:
    free(piece);
    cutlist_free(made);
    return outcome;
}

void cutlist_free(struct cutlist *list) {
    if (list == NULL) {
        return;
    }
    free(list->bars);
    free(list->bar_of);
    free(list);
}
