/* What stands in the way of a roof that does not work, and which single changes free it. */
#include "explanation.h"

#include "broken.h"
#include "carrying.h"
#include "words.h"

#include <assert.h>

/* One length each. */
static const char *const eases[RELAXED_COUNT] = {
    [RELAXED_LAG_EDGE] = "let every lag lie %s nearer to a face of its rafter",
    [RELAXED_RAFTERS] = "find the rafters %s closer than now: probe both faces",
    [RELAXED_COURSE_EDGE] = "let flashings sit up to %s further up from their butt edge",
    [RELAXED_COURSE_BLOCK] = "let hubs come %s nearer to the next butt edge",
    [RELAXED_LAP] = "let flashings pass the second butt edge by %s less",
    [RELAXED_COURSES] = "find the butt edges %s closer than now: tape each of them",
    [RELAXED_JOINTS] = "let the sides of flashings come %s nearer to joints and cutouts",
    [RELAXED_VENT_FLASHING] = "let flashings and struts come %s nearer to vents",
    [RELAXED_VENT_BRACKET] = "let frames come %s nearer to vents",
    [RELAXED_SETBACK] = "let frames come %s nearer to the edges of the roof",
    [RELAXED_ROW] = "hold the legs up to %s beyond where they are made to be held",
    [RELAXED_CLEARANCE] = "leave a wrench %s less room at the bottom fitting",
    [RELAXED_FOOT_REACH] = "feet with %s more slot to either side",
    [RELAXED_PIPE_BAY] = "let pipe holes come %s nearer to rafters, struts and feet",
    [RELAXED_PIPE_REACH] = "let pipe holes lie %s further from their ports",
    [RELAXED_APART] = "let frames stand %s nearer to each other",
    [RELAXED_CLAMP_CLEAR] = "clamps that may come %s nearer to a lag",
    [RELAXED_CLAMP_OVERHANG] = "clamps that may sit %s further beyond the end lags",
    [RELAXED_SPAN] = "struts that span %s more from lag to lag",
    [RELAXED_STOCK] = "bars %s longer",
};

static const char *hardware_name(enum hardware hardware) {
    return hardware == HARDWARE_STRUT ? "struts" : "feet";
}

static void tell_vent(const struct roof *roof, const struct change *change, const char *by,
                      char text[FREEING_TEXT]) {
    const char *name = roof->vents[change->which].name;
    const char *way = change->way == WAY_UP ? "up the roof"
                      : change->way == WAY_DOWN
                          ? "down the roof"
                          : words_side(roof, change->way == WAY_NEAR ? SIDE_NEAR : SIDE_FAR);
    if (change->way == WAY_COUNT) {
        snprintf(text, FREEING_TEXT, "vent %s gone altogether", name);
    } else {
        snprintf(text, FREEING_TEXT, "vent %s moved %s %s", name, by, way);
    }
}

/* The format is one of the table above. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static void tell_rule(const struct change *change, const char *by, char text[FREEING_TEXT]) {
    snprintf(text, FREEING_TEXT, eases[change->relaxed], by);
}
#pragma GCC diagnostic pop

void freeing_tell(const struct roof *roof, const struct change *change, char text[FREEING_TEXT]) {
    char by[LENGTH_TEXT];
    page_fine(roof, by, change->by);
    switch (change->kind) {
    case CHANGE_RULE:
        tell_rule(change, by, text);
        break;
    case CHANGE_VENT:
        tell_vent(roof, change, by, text);
        break;
    case CHANGE_SISTER:
        snprintf(text, FREEING_TEXT, "a sound sister, full length, on the %s side of rafter %zu",
                 words_side(roof, change->way == WAY_NEAR ? SIDE_NEAR : SIDE_FAR),
                 change->which + 1);
        break;
    case CHANGE_HARDWARE:
        snprintf(text, FREEING_TEXT, "%s on the top line and %s on the bottom line",
                 hardware_name(change->hardware[ROW_TOP]),
                 hardware_name(change->hardware[ROW_BOTTOM]));
        break;
    case CHANGE_TAPE:
        snprintf(text, FREEING_TEXT, "a tape marked twice as fine");
        break;
    default:
        snprintf(text, FREEING_TEXT,
                 "nothing but strength stands in the way: fewer pounds, more lags, or other "
                 "hardware");
        break;
    }
}

static void write_in_the_way(struct page *page, const struct answer *answer) {
    bool headed = false;
    for (size_t i = 0; answer->verdict != NULL && i < answer->verdict->count; i++) {
        const struct finding *finding = &answer->verdict->findings[i];
        if (length_holds(finding->margin)) {
            continue;
        }
        const struct scene scene = {answer->roof, answer->marks, answer->verdict, finding};
        char line[BROKEN_LINE];
        broken_line(&scene, line);
        page_line(page, 4, "  - %.900s", line);
        headed = true;
    }
    for (size_t i = 0; answer->strength != NULL && i < answer->strength->count; i++) {
        const struct strength_item *item = &answer->strength->items[i];
        if (item->kind != STRENGTH_RAFTER && item->ratio > 1) {
            char text[CARRYING_TEXT];
            carrying_tell(answer->roof, answer->marks, item, text);
            page_line(page, 4, "  - %s", text);
            headed = true;
        }
    }
    for (size_t i = 0; !headed && i < answer->layout->reason_count; i++) {
        char text[PAGE_TEXT / 2];
        words_say(answer->roof, answer->layout->reasons[i].text, text, sizeof text);
        page_line(page, 4, "  - %s", text);
    }
}

static size_t count_of(const struct changes *changes, enum freed freed) {
    size_t count = 0;
    for (size_t i = 0; i < changes->count; i++) {
        count += changes->list[i].freed == freed;
    }
    return count;
}

static void write_freed(struct page *page, const struct changes *changes, enum freed freed) {
    size_t sisters = 0;
    for (size_t i = 0; i < changes->count; i++) {
        const struct change *change = &changes->list[i];
        if (change->freed != freed) {
            continue;
        }
        if (change->kind == CHANGE_SISTER && freed != FREED_YES) {
            sisters++;
            continue;
        }
        char text[FREEING_TEXT];
        freeing_tell(page->answer->roof, change, text);
        const bool rough = freed == FREED_YES && !change->least &&
                           (change->kind == CHANGE_RULE || change->kind == CHANGE_VENT);
        page_line(page, 4, "  - %s%s", text, rough ? " (less may do)" : "");
    }
    if (sisters > 0) {
        page_line(page, 4, "  - a sister on %zu other side%s of rafters, one at a time", sisters,
                  sisters == 1 ? "" : "s");
    }
}

void freeing_write(struct page *page, const struct explanation *explanation) {
    const struct changes *changes = explanation->changes;
    page_blank(page);
    page_line(page, 0, "WHAT STANDS IN THE WAY");
    write_in_the_way(page, &explanation->answer);
    page_blank(page);
    if (count_of(changes, FREED_YES) > 0) {
        page_line(page, 0,
                  "WHAT WOULD FREE IT: each alone, proved by laying the roof out again. Whether it "
                  "may be done is for code, kit and engineer to say.");
        write_freed(page, changes, FREED_YES);
    } else {
        page_line(page, 0, "NOTHING THAT WAS TRIED frees it alone.");
    }
    if (count_of(changes, FREED_NO) > 0) {
        page_blank(page);
        page_line(page, 0, "Does not free it alone, proved likewise:");
        write_freed(page, changes, FREED_NO);
    }
    if (count_of(changes, FREED_UNKNOWN) > 0) {
        page_blank(page);
        page_line(page, 0, "Not decided in the time given:");
        write_freed(page, changes, FREED_UNKNOWN);
    }
    if (changes->left > 0) {
        page_blank(page);
        page_line(page, 0, "NOT TRIED: %zu more, as the time ran out; --limit gives more.",
                  changes->left);
    }
}
