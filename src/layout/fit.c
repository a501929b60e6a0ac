/* As many brackets as fit.  Brackets that can stand together can do so without one of them, so a
 * set is only looked at if what it was grown from can; and what counts is how many of a kind there
 * are, not which, as it does not matter here where they are wanted. */
#include "fit.h"

#include "company.h"
#include "length.h"
#include "rungs.h"
#include "solve.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum fits { FITS_NO, FITS_YES, FITS_UNKNOWN };
/* Answers that are kept; more are asked for again. */
enum { KNOWN_MOST = 512 };
/* Of the time this part is kept for who clashes with whom. */
#define SHARE_BLAME 0.1
/* Of the time that is left, what finding one out may take. */
#define SHARE_ASK 0.5
#define SHARE_SCOUT 0.125

struct known {
    unsigned char of_kind[ROOF_BRACKETS_MOST];
    enum fits fits;
};

struct fitting {
    const struct roof *roof;
    const struct layout_options *options;
    struct problems *problems;
    double end_s, soon_s; /* deadlines: of the sets asked for now, of the packing under way */
    size_t kinds[ROOF_BRACKETS_MOST];          /* the first bracket that is held in the same ways */
    struct stands *stands[ROOF_BRACKETS_MOST]; /* owned, of a kind; NULL: not listed */
    struct known *known;                       /* owned */
    struct rack *rack;                         /* owned; NULL without memory */
    size_t known_count;
    bool good;            /* no fault so far */
    bool open;            /* something was not found out in time */
    struct layout *found; /* owned: of the most brackets that one was found of, or NULL */
    bool found_of[ROOF_BRACKETS_MOST]; /* which those are */
    size_t found_count;
    struct fit *fit;
};

static bool has_pipe(const struct roof *roof, size_t bracket) {
    for (size_t p = 0; p < roof->pipe_count; p++)
        if (roof->pipes[p].bracket == bracket)
            return true;
    return false;
}

static size_t kind_of(const struct roof *roof, size_t b) {
    for (size_t a = 0; a < b && !has_pipe(roof, b); a++)
        if (roof_same_hardware(roof, a, b) && !has_pipe(roof, a))
            return a;
    return b;
}

static double now(const struct fitting *fitting) {
    return solve_now(fitting->options->steps);
}

static bool out_of_time(void *subject) {
    const struct fitting *fitting = subject;
    if (fitting->options->steps)
        *fitting->options->steps += PACKING_LOOK;
    return now(fitting) >= fitting->soon_s;
}

/* The company's own roof, with the stands of its brackets where all are listed. */
static bool crowd_of(const struct fitting *fitting, const struct company *company,
                     struct stands *stands[ROOF_BRACKETS_MOST], struct crowd *crowd) {
    *crowd = (struct crowd){.roof = &company->roof,
                            .stands = stands,
                            .lenient = true,
                            .most = INFINITY,
                            .least = -INFINITY,
                            .stop = out_of_time,
                            .subject = (void *)fitting};
    for (size_t i = 0; i < company->roof.bracket_count; i++) {
        stands[i] = fitting->stands[fitting->kinds[company->members[i]]];
        if (!stands[i] || stands[i]->crowded)
            return false;
    }
    return true;
}

/* Whether the brackets alone, their lags left aside, find no room: then nothing does. */
static bool no_packing(struct fitting *fitting, const struct company *company) {
    double levels[ROOF_BRACKETS_MOST];
    struct stands *stands[ROOF_BRACKETS_MOST];
    struct rungs_packing packing;
    struct cuts cuts = {.list = NULL};
    struct crowd crowd;
    if (!crowd_of(fitting, company, stands, &crowd))
        return false;
    crowd.cuts = &cuts;
    for (size_t i = 0; i < ROOF_BRACKETS_MOST; i++)
        levels[i] = -LENGTH_TOLERANCE; /* as far down as a rule holds */
    if (rungs_pack(&crowd, levels, true, &packing) != OUTCOME_DONE)
        fitting->good = false;
    rungs_packing_free(&packing);
    cuts_free(&cuts);
    return packing.end == PACKING_NONE;
}

/* Where it is of more brackets than any before. */
static void keep_layout(struct fitting *fitting, const struct company *company,
                        struct layout *layout) {
    const size_t count = company->roof.bracket_count;
    if (count <= fitting->found_count) {
        layout_free(layout);
        return;
    }
    layout_free(fitting->found);
    fitting->found = layout;
    fitting->found_count = count;
    memset(fitting->found_of, false, sizeof fitting->found_of);
    for (size_t i = 0; i < count; i++)
        fitting->found_of[company->members[i]] = true;
}

/* The layout of those that are kept, where it was found of just these. */
static void hand_over(struct fitting *fitting) {
    struct fit *fit = fitting->fit;
    if (memcmp(fitting->found_of, fit->kept, sizeof fit->kept) == 0)
        fit->layout = fitting->found;
    else
        layout_free(fitting->found);
}

static enum fits lay_out(struct fitting *fitting, const struct company *company, double until_s) {
    struct layout_options options = *fitting->options;
    struct layout *layout = NULL;
    options.limit_s = until_s - now(fitting);
    options.any = true;
    options.known = NULL;
    options.model_path = NULL;
    options.limits = NULL;
    options.rack = fitting->rack;
    if (!(options.limit_s > 0))
        return FITS_UNKNOWN;
    if (layout_find(&company->roof, &options, &layout, fitting->problems) != OUTCOME_DONE) {
        fitting->good = false;
        return FITS_UNKNOWN;
    }
    const enum fits fits =
        layout->marks && length_holds(layout->forgiveness) ? FITS_YES
        : layout->state == LAYOUT_IMPOSSIBLE || !length_holds(layout->bound_forgiveness)
            ? FITS_NO
            : FITS_UNKNOWN;
    if (fits == FITS_YES)
        keep_layout(fitting, company, layout);
    else
        layout_free(layout);
    return fits;
}

static enum fits find_out(struct fitting *fitting, const bool *with, double share) {
    size_t members[ROOF_BRACKETS_MOST], count = 0;
    struct company company;
    enum fits fits = FITS_UNKNOWN;
    for (size_t b = 0; b < fitting->roof->bracket_count; b++)
        if (with[b])
            members[count++] = b;
    if (count == 0)
        return FITS_YES;
    const double now_s = now(fitting), until_s = now_s + (fitting->end_s - now_s) * share;
    fitting->soon_s = (now_s + until_s) / 2;
    if (company_of(fitting->roof, NULL, members, count, &company))
        fits = no_packing(fitting, &company) ? FITS_NO : lay_out(fitting, &company, until_s);
    else
        fitting->good = false;
    company_free(&company);
    return fits;
}

/* Whether there are as many of every kind in it. */
static bool covers(const struct known *all, const struct known *some) {
    for (size_t k = 0; k < ROOF_BRACKETS_MOST; k++)
        if (all->of_kind[k] < some->of_kind[k])
            return false;
    return true;
}

/* What is known of a larger set that can stand, or of a smaller one that cannot, is known of it. */
static bool is_known(const struct fitting *fitting, struct known *asked) {
    bool tried = false;
    for (size_t i = 0; i < fitting->known_count; i++) {
        const struct known *known = &fitting->known[i];
        const bool larger = covers(known, asked), smaller = covers(asked, known);
        if ((known->fits == FITS_YES && larger) || (known->fits == FITS_NO && smaller)) {
            asked->fits = known->fits;
            return true;
        }
        tried = tried || (larger && smaller);
    }
    return tried;
}

static struct known count_kinds(const struct fitting *fitting, const bool *with) {
    struct known asked = {.fits = FITS_UNKNOWN};
    for (size_t b = 0; b < fitting->roof->bracket_count; b++)
        if (with[b])
            asked.of_kind[fitting->kinds[b]]++;
    return asked;
}

/* Whether those can stand together, found out in that share of the time left where it is not known.
 * What took a whole share without an end is not tried again. */
static enum fits ask(struct fitting *fitting, const bool *with, double share) {
    struct known asked = count_kinds(fitting, with);
    if (is_known(fitting, &asked) || now(fitting) >= fitting->end_s)
        return asked.fits;
    if (fitting->good)
        asked.fits = find_out(fitting, with, share);
    const bool kept = asked.fits != FITS_UNKNOWN || share >= SHARE_ASK;
    if (kept && fitting->known_count < KNOWN_MOST)
        fitting->known[fitting->known_count++] = asked;
    return asked.fits;
}

static bool is_hopeless(const struct fitting *fitting, size_t b) {
    struct known alone = {.of_kind = {0}};
    alone.of_kind[fitting->kinds[b]] = 1;
    return is_known(fitting, &alone) && alone.fits == FITS_NO;
}

/* Whether so many more of the next ones can, those left out that cannot stand at all. */
static bool can_with_next(struct fitting *fitting, const bool *with, size_t next, size_t more) {
    bool all[ROOF_BRACKETS_MOST];
    memcpy(all, with, sizeof all);
    for (; next < fitting->roof->bracket_count && more > 0; next++) {
        all[next] = !is_hopeless(fitting, next);
        more -= all[next];
    }
    return more == 0 && ask(fitting, all, SHARE_SCOUT) == FITS_YES;
}

/* From what can stand on to how many more of the next ones can at once: two, four, eight ..., then
 * halfway to where they no longer can.  Each of them then can as it comes, without being asked for.
 */
static void scout(struct fitting *fitting, const bool *with, size_t next) {
    size_t low = 1, high = 2;
    while (can_with_next(fitting, with, next, high)) {
        low = high;
        high *= 2;
    }
    while (high - low > 1) {
        const size_t middle = (low + high) / 2;
        *(can_with_next(fitting, with, next, middle) ? &low : &high) = middle;
    }
}

/* Goes through the brackets in the file's order, each with before without: the first set of a size
 * that is met keeps the earliest.  Late only what is known already is gone through, once. */
static void grow(struct fitting *fitting, bool *with, size_t count, size_t next) {
    struct fit *fit = fitting->fit;
    const size_t left = fitting->roof->bracket_count - next;
    if (count > fit->count || (count == 0 && fit->count == 0)) {
        memcpy(fit->kept, with, sizeof fit->kept);
        fit->count = count;
    }
    if (left == 0 || count + left <= fit->count || !fitting->good)
        return;
    with[next] = true;
    const size_t known = fitting->known_count;
    const enum fits fits = ask(fitting, with, SHARE_ASK);
    if (fits == FITS_YES && fitting->known_count > known)
        scout(fitting, with, next + 1);
    fitting->open = fitting->open || fits == FITS_UNKNOWN;
    if (fits == FITS_YES)
        grow(fitting, with, count + 1, next + 1);
    with[next] = false;
    if (fits == FITS_YES && now(fitting) >= fitting->end_s)
        fitting->open = fitting->open || count + left - 1 > fit->count;
    else
        grow(fitting, with, count, next + 1);
}

static void note_clash(struct fit *fit, const bool *with) {
    struct fit_clash clash = {.count = 0};
    for (size_t b = 0; b < fit->bracket_count; b++)
        clash.count += with[b];
    memcpy(clash.with, with, sizeof clash.with);
    for (size_t i = 0; i < fit->clash_count; i++)
        if (memcmp(fit->clashes[i].with, clash.with, sizeof clash.with) == 0)
            return;
    if (fit->clash_count < FIT_CLASHES_MOST)
        fit->clashes[fit->clash_count++] = clash;
}

/* Leaves out of a set that cannot stand together, the last first, whoever is not to blame. */
static void find_clash(struct fitting *fitting, bool *with) {
    for (size_t b = fitting->fit->bracket_count; b-- > 0;) {
        if (!with[b])
            continue;
        with[b] = false;
        with[b] = ask(fitting, with, SHARE_ASK) != FITS_NO;
    }
    note_clash(fitting->fit, with);
}

/* Every bracket that is left off, with those kept. */
static void blame(struct fitting *fitting) {
    const struct fit *fit = fitting->fit;
    for (size_t b = 0; b < fit->bracket_count && fitting->good; b++) {
        bool with[ROOF_BRACKETS_MOST];
        if (fit->kept[b])
            continue;
        memcpy(with, fit->kept, sizeof with);
        with[b] = true;
        if (ask(fitting, with, SHARE_ASK) == FITS_NO)
            find_clash(fitting, with);
    }
}

static void list_kinds(struct fitting *fitting) {
    const struct roof *roof = fitting->roof;
    const bool listed = stands_guide(roof); /* leniently: what does not fit so does not at all */
    for (size_t b = 0; b < roof->bracket_count && fitting->good; b++) {
        fitting->kinds[b] = kind_of(roof, b);
        const struct stands_ask asked = {.roof = roof,
                                         .bracket = b,
                                         .lenient = true,
                                         .rack = fitting->rack,
                                         .stop = out_of_time,
                                         .subject = fitting};
        if (listed && fitting->kinds[b] == b)
            fitting->good =
                stands_find(&asked, -LENGTH_TOLERANCE, &fitting->stands[b]) == OUTCOME_DONE;
    }
}

enum outcome fit_find(const struct roof *roof, const struct layout_options *options,
                      struct fit *fit, struct problems *problems) {
    const double begin_s = solve_now(options->steps);
    struct fitting fitting = {.roof = roof,
                              .options = options,
                              .problems = problems,
                              .end_s = begin_s + options->limit_s * (1 - SHARE_BLAME),
                              .known = calloc(KNOWN_MOST, sizeof *fitting.known),
                              .rack = rack_new(),
                              .fit = fit};
    fitting.soon_s = fitting.end_s;
    *fit = (struct fit){.bracket_count = roof->bracket_count};
    for (size_t b = 0; b < roof->bracket_count; b++)
        snprintf(fit->names[b], sizeof fit->names[b], "%s", roof->brackets[b].name);
    fitting.good = fitting.known != NULL;
    list_kinds(&fitting);
    if (fitting.good) {
        bool with[ROOF_BRACKETS_MOST] = {false};
        grow(&fitting, with, 0, 0);
    }
    fit->proved = !fitting.open;
    fitting.end_s = begin_s + options->limit_s;
    if (fitting.good)
        blame(&fitting);
    solve_close();
    hand_over(&fitting);
    for (size_t b = 0; b < roof->bracket_count; b++)
        stands_free(fitting.stands[b]);
    rack_free(fitting.rack);
    free(fitting.known);
    if (!fitting.good)
        fit_free(fit);
    return fitting.good ? OUTCOME_DONE : OUTCOME_FAULT;
}

void fit_free(struct fit *fit) {
    layout_free(fit->layout);
    fit->layout = NULL;
}
