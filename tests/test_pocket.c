/* The page for the phone: all the words of the sheet in their order, nothing from elsewhere, and
 * nobody's text as markup. */
#include "../src/sheet/cells.h"
#include "../src/sheet/words.h"
#include "answered.h"
#include "pocket.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdlib.h>
#include <string.h>

static enum outcome write_pocket(const void *subject, FILE *stream) {
    return pocket_write(subject, stream);
}

static char *page_of(const struct answer *answer, size_t *size) {
    struct problems problems = {0};
    struct drawing *drawing = NULL;
    assert_int_equal(drawing_make(answer, PAPER_LETTER, &drawing, &problems), OUTCOME_DONE);
    const struct pocket pocket = {.answer = answer, .drawing = drawing};
    char *bytes = answered_bytes(write_pocket, &pocket, size);
    drawing_free(drawing);
    return bytes;
}

static void same_bytes_twice_in_one_process(void **state) {
    (void)state;
    static struct sheet_answer made;
    size_t sizes[2];
    answer_make(&made, 2);
    char *one = page_of(&made.answer, &sizes[0]);
    char *other = page_of(&made.answer, &sizes[1]);
    assert_int_equal(sizes[0], sizes[1]);
    assert_memory_equal(one, other, sizes[0]);
    free(one);
    free(other);
}

/* ---- Words ---------------------------------------------------------------------------------- */

/* What a reader sees of markup: no tags, entities as what they stand for, one blank between words.
 * In place. */
static void strip(char *markup) {
    static const struct {
        const char *entity;
        char sign;
    } entities[] = {{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&#39;", '\''}};
    size_t used = 0;
    for (const char *at = markup; *at != '\0'; at++) {
        char sign = *at == '\n' ? ' ' : *at;
        if (*at == '<') {
            at = strchr(at, '>');
            assert_non_null(at);
            continue;
        }
        for (size_t i = 0; *at == '&' && i < sizeof entities / sizeof entities[0]; i++) {
            if (strncmp(at, entities[i].entity, strlen(entities[i].entity)) == 0) {
                sign = entities[i].sign;
                at += strlen(entities[i].entity) - 1;
                break;
            }
        }
        if (sign != ' ' || (used > 0 && markup[used - 1] != ' ')) {
            markup[used++] = sign;
        }
    }
    markup[used] = '\0';
}

/* The words of the page are followed from one piece of the sheet to the next. */
struct reading {
    const char *at;
    size_t found;
};

/* A column as the page has it: boxes, choices and blanks are no words there. */
static void hold_words(struct reading *reading, const char *text) {
    char words[CELL_TEXT];
    size_t used = 0;
    if (strstr(text, SHEET_FOUND) != NULL || strstr(text, SHEET_BORED) != NULL) {
        return;
    }
    text += strncmp(text, "[ ] ", 4) == 0 ? 4 : 0;
    for (; *text != '\0' && *text != '_'; text++) {
        if (*text != ' ' || (used > 0 && words[used - 1] != ' ')) {
            words[used++] = *text;
        }
    }
    words[used] = '\0';
    const char *found = strstr(reading->at, words);
    if (found == NULL) {
        fail_msg("not on the page, or not there: %s", words);
        return;
    }
    reading->at = found + used;
    reading->found++;
}

static void take(void *subject, const struct piece *piece) {
    static struct cells cells;
    cells_part(piece->text, &cells);
    for (size_t i = 0; i < cells.count; i++) {
        hold_words(subject, cells.list[i].text);
    }
}

/* Each column of each piece, in the sheet's order, and not a word of the files among them. */
static void hold_page(const struct answer *answer) {
    char *page = page_of(answer, NULL);
    char *body = strstr(page, "<main>");
    assert_non_null(body);
    char *script = strstr(body, "<script>");
    assert_non_null(script);
    *script = '\0';
    strip(body);
    struct reading reading = {.at = body};
    const struct sheet_taker taker = {take, &reading};
    assert_int_equal(sheet_tell(answer, &taker), OUTCOME_DONE);
    assert_true(reading.found > 30);
    const char *off = words_kept_off(body);
    if (off != NULL) {
        fail_msg("a word of files is on the page: %.40s", off);
    }
    free(page);
}

static void all_words_of_the_sheet_are_on_the_page_in_order(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 2);
    hold_page(&made.answer);
    answer_make(&made, 1);
    answer_add_pipes(&made);
    hold_page(&made.answer);
    answer_break(&made);
    hold_page(&made.answer);
}

static void a_page_of_what_fails_is_stamped(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    char *page = page_of(&made.answer, NULL);
    assert_silent_on(page, "class=\"stamp\"");
    assert_says(page, "<span class=\"fig\"><b>5&#39; 4&quot;</b> <i>(64)</i></span>");
    free(page);
    answer_break(&made);
    page = page_of(&made.answer, NULL);
    assert_says(page, "<p class=\"stamp\">DO NOT DRILL: closest fit (does NOT work)</p>");
    assert_silent_on(page, "class=\"way\"");
    assert_silent_on(page, "#roof\">");
    free(page);
}

/* ---- What strangers write ------------------------------------------------------------------- */

static void names_are_harmless(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    strcpy(made.roof.name, "<b onload=\"x\">&'</title>");
    strcpy(made.roof.zero, "</script><img src=x> \xff\xe2\x80\xae");
    char *page = page_of(&made.answer, NULL);
    assert_says(page, "<h1>&lt;b onload=&quot;x&quot;&gt;&amp;&#39;&lt;/title&gt;</h1>");
    assert_says(page, "&lt;/script&gt;&lt;img src=x&gt; ??");
    assert_silent_on(page, "<b o");
    assert_silent_on(page, "<img");
    assert_int_equal(count_of(page, "</title>"), count_of(page, "<title>"));
    assert_int_equal(count_of(page, "<script"), 1);
    assert_int_equal(count_of(page, "</script"), 1);
    /* A name in Hebrew or Arabic would turn the figures beside it: every element runs one way. */
    assert_says(page, "* { box-sizing: border-box; direction: ltr; unicode-bidi: bidi-override; }");
    free(page);
}

/* The one address is the name of SVG, which nothing fetches. */
static void nothing_comes_from_elsewhere(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    char *page = page_of(&made.answer, NULL);
    assert_says(page, "default-src 'none'");
    assert_int_equal(count_of(page, "://"), 1);
    assert_int_equal(count_of(page, "xmlns=\"http://www.w3.org/2000/svg\""), 1);
    const char *const off[] = {" src=", "url(", "@import", "<link", "<iframe", "fetch(", "XMLHttp"};
    for (size_t i = 0; i < sizeof off / sizeof off[0]; i++) {
        assert_silent_on(page, off[i]);
    }
    free(page);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_bytes_twice_in_one_process),
        cmocka_unit_test(all_words_of_the_sheet_are_on_the_page_in_order),
        cmocka_unit_test(a_page_of_what_fails_is_stamped),
        cmocka_unit_test(names_are_harmless),
        cmocka_unit_test(nothing_comes_from_elsewhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
