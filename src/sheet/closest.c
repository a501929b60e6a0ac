/* Sheets that must not be drilled by, and the broken rules of anybody's layout. */
#include "broken.h"
#include "page.h"
#include "places.h"
#include "reasons.h"
#include "sections.h"
#include "words.h"

#include <stdio.h>

static void write_broken(struct page *page) {
    const struct answer *answer = page->answer;
    size_t number = 0;
    for (size_t i = 0; i < answer->verdict->count; i++) {
        const struct finding *finding = &answer->verdict->findings[i];
        if (length_holds(finding->margin)) {
            continue;
        }
        struct broken broken;
        struct scene scene = {answer->roof, answer->marks, answer->verdict, finding};
        broken_describe(&scene, &broken);
        page_line(page, 6, "%4zu. %s: %s", ++number, broken.where, words_rule(finding->rule));
        page_line(page, 6, "      needs %s; has %s%s%s", broken.needs, broken.has,
                  broken.by[0] != '\0' ? "; " : "", broken.by);
    }
}

void closest_write_reasons(struct page *page) {
    const struct answer *answer = page->answer;
    char said[PAGE_TEXT];
    if (answer->verdict != NULL && answer->marks != NULL && !answer->verdict->holds) {
        page_blank(page);
        page_line(page, 2, "WHAT STANDS IN THE WAY");
        write_broken(page);
    }
    (void)strength_write_weak(page);
    if (answer->layout->reason_count > 0) {
        page_blank(page);
        page_line(page, 2, answer->marks == NULL ? "WHY" : "WHAT WAS STRUCK OUT ON THE WAY");
    }
    for (size_t i = 0; i < answer->layout->reason_count; i++) {
        words_say(answer->roof, answer->layout->reasons[i].text, said, sizeof said);
        page_line(page, 4, "  - %s", said);
    }
    together_write(page);
}

static void write_frame(struct page *page, size_t bracket) {
    const struct answer *answer = page->answer;
    const struct standing *standing = &answer->marks->brackets[bracket];
    const struct kit *kit = roof_kit(answer->roof, bracket);
    double x = answer->from == SIDE_NEAR ? standing->x : standing->x + kit->width;
    char along[LENGTH_TEXT], up[LENGTH_TEXT];
    page_line(page, 6, "  X   frame %s, lower %s corner", answer->roof->brackets[bracket].name,
              places_rake(answer));
    page_line(page, 6, "      %-14s  %-27s %s", "",
              page_length(answer->roof, along, places_reading(answer, x, standing->y)),
              places_height(answer, up, standing->y));
}

static void write_lag(struct page *page, size_t mark) {
    const struct answer *answer = page->answer;
    const struct mark *at = &answer->marks->list[mark];
    char name[PLACES_NAME], along[LENGTH_TEXT], up[LENGTH_TEXT];
    page_line(page, 6, "  X   %-14s  %-27s %s", places_short_name(answer, mark, name),
              page_length(answer->roof, along, places_reading(answer, at->x, at->y)),
              places_height(answer, up, at->y));
}

void closest_write_table(struct page *page) {
    const struct answer *answer = page->answer;
    struct line lines[PLACES_LINES_MOST];
    size_t count = places_lines(answer, lines);
    char head[LENGTH_TEXT];
    page_heading(page, "DO NOT DRILL     DO NOT DRILL     DO NOT DRILL");
    page_line(page, 0, "Where the closest fit would lie, for whoever lays this roof out again.");
    page_line(page, 0, "%s Nothing here is to be chalked.",
              answer->verdict->holds ? "It does not carry, as told above."
                                     : "It breaks the rules listed above.");
    page_blank(page);
    snprintf(head, sizeof head, "from the %s %s", places_rake(answer), places_edge(answer->roof));
    page_line(page, 6, "      %-14s  %-27s %s", "", head, "up the roof");
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        write_frame(page, i);
    }
    for (size_t i = 0; i < count; i++) {
        page_line(page, 4, "  frame %s, %s line", answer->roof->brackets[lines[i].bracket].name,
                  roof_row_word(lines[i].row));
        for (size_t j = 0; j < lines[i].seat->count; j++) {
            write_lag(page, places_mark_along(answer, &lines[i], j));
        }
    }
    pipes_write_closest(page);
    page_rule(page, '=');
    page_line(page, 0, "DO NOT DRILL     DO NOT DRILL     DO NOT DRILL     DO NOT DRILL");
}

size_t sheet_write_broken(const struct roof *roof, const struct marks *marks,
                          const struct verdict *verdict, FILE *stream) {
    size_t broken = 0;
    for (size_t i = 0; i < verdict->count; i++) {
        struct scene scene = {roof, marks, verdict, &verdict->findings[i]};
        if (length_holds(scene.finding->margin)) {
            continue;
        }
        char line[BROKEN_LINE];
        broken_line(&scene, line);
        fprintf(stream, "%s\n", line);
        broken++;
    }
    return broken;
}

void sheet_write_reasons(const struct verdict *verdict, const struct strength *strength,
                         FILE *stream) {
    bool broken[RULE_COUNT] = {false};
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        broken[finding->rule] = broken[finding->rule] || !length_holds(finding->margin);
    }
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        if (broken[rule]) {
            fprintf(stream, "why %s: %s\n", words_rule((enum rule)rule),
                    reasons_why((enum rule)rule));
        }
    }
    if (strength != NULL && !strength->carries) {
        fprintf(stream, "why strength: %s\n", reasons_why_strength());
    }
}
