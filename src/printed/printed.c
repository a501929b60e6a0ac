#include "printed.h"

#include "press.h"
#include "setting.h"

static void take(void *subject, const struct piece *piece) {
    setting_take(subject, piece);
}

/* Sets the whole sheet; *pages is how many pages it takes. */
static enum outcome run(struct press *press, size_t *pages) {
    const struct sheet_taker taker = {take, press};
    press_begin(press);
    const struct telling *telling = press->printed->telling;
    const enum outcome outcome = telling != NULL ? telling->tell(telling->subject, &taker)
                                                 : sheet_tell(press->printed->answer, &taker);
    if (outcome == OUTCOME_DONE && !press->drawn) {
        press_drawing(press);
    }
    press_end(press);
    *pages = press->page;
    return outcome == OUTCOME_DONE && !letters_measured(press->printed->drawing->letters)
               ? OUTCOME_FAULT
               : outcome;
}

/* Finds how high the stretches are at press->leading, and then how many pages the sheet takes. */
static enum outcome count_pages(const struct press *press, size_t *pages) {
    struct press measuring = *press;
    measuring.measuring = true;
    stretches_free(press->stretches);
    enum outcome outcome = run(&measuring, pages);
    if (outcome == OUTCOME_DONE) {
        struct press counting = *press;
        outcome = measuring.failed ? OUTCOME_FAULT : run(&counting, pages);
    }
    return outcome;
}

/* Takes the widest leading among those that need the fewest pages: a few lines left over would have
 * a page to themselves. */
static enum outcome choose_leading(struct press *press) {
    static const double leadings[] = {13, 12.5, 12, 11.5}; /* of letters of 9.5 points */
    enum outcome outcome = OUTCOME_DONE;
    double best = leadings[0];
    for (size_t i = 0; outcome == OUTCOME_DONE && i < sizeof leadings / sizeof leadings[0]; i++) {
        size_t pages = 0;
        press->leading = leadings[i];
        outcome = count_pages(press, &pages);
        if (i == 0 || pages < press->pages) {
            best = leadings[i];
            press->pages = pages;
        }
    }
    press->leading = best;
    return outcome == OUTCOME_DONE ? count_pages(press, &press->pages) : outcome;
}

static enum outcome print(struct press *press, FILE *stream) {
    size_t pages = 0;
    press->surface =
        paint_pdf(stream, press->size.width, press->size.height, press->printed->drawing->roof);
    press->cr = cairo_create(press->surface);
    paint_set_up(press->cr);
    const enum outcome outcome = run(press, &pages);
    const enum outcome ended = paint_end(press->surface, press->cr);
    return outcome == OUTCOME_DONE ? ended : outcome;
}

enum outcome printed_write(const struct printed *printed, FILE *stream) {
    struct stretches stretches = {0};
    struct press press = {
        .printed = printed, .size = drawing_page(printed->paper), .stretches = &stretches};
    enum outcome outcome = choose_leading(&press);
    if (outcome == OUTCOME_DONE) {
        outcome = print(&press, stream);
    }
    stretches_free(&stretches);
    return outcome;
}
