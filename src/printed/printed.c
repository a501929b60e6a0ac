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

enum outcome printed_write(const struct printed *printed, FILE *stream) {
    struct press counting = {.printed = printed, .size = drawing_page(printed->paper)};
    struct press press = counting;
    size_t pages = 0;
    enum outcome outcome = run(&counting, &press.pages);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    press.surface = paint_pdf(stream, press.size.width, press.size.height, printed->drawing->roof);
    press.cr = cairo_create(press.surface);
    paint_set_up(press.cr);
    outcome = run(&press, &pages);
    const enum outcome ended = paint_end(press.surface, press.cr);
    return outcome == OUTCOME_DONE ? ended : outcome;
}
