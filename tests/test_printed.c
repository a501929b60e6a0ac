/* The printed sheet: the same bytes, the words of the text sheet, and no others. */
#include "../src/printed/stretches.h"
#include "../src/sheet/words.h"
#include "answered.h"
#include "printed.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdlib.h>
#include <string.h>

static enum outcome write_printed(const void *subject, FILE *stream) {
    return printed_write(subject, stream);
}

static char *print(const struct answer *answer, enum paper paper, size_t *size) {
    struct problems problems = {0};
    struct drawing *drawing = NULL;
    assert_int_equal(drawing_make(answer, paper, &drawing, &problems), OUTCOME_DONE);
    const struct printed printed = {.answer = answer, .drawing = drawing, .paper = paper};
    char *bytes = answered_bytes(write_printed, &printed, size);
    drawing_free(drawing);
    return bytes;
}

static void same_bytes_twice_in_one_process(void **state) {
    (void)state;
    static struct sheet_answer made;
    size_t sizes[2];
    answer_make(&made, 2);
    char *one = print(&made.answer, PAPER_LETTER, &sizes[0]);
    char *other = print(&made.answer, PAPER_LETTER, &sizes[1]);
    assert_int_equal(sizes[0], sizes[1]);
    assert_memory_equal(one, other, sizes[0]);
    assert_memory_equal(one, "%PDF-", 5);
    free(one);
    free(other);
}

/* What the pieces hold, one after the other, blanks squeezed. */
struct told {
    char text[60000];
    size_t used;
    size_t headings, steps, boxes;
};

static void put(struct told *told, const char *text) {
    for (; *text != '\0' && told->used + 2 < sizeof told->text; text++) {
        const bool blank = *text == ' ' || *text == '\n';
        if (!blank || (told->used > 0 && told->text[told->used - 1] != ' ')) {
            told->text[told->used++] = blank ? ' ' : *text;
        }
    }
    told->text[told->used] = '\0';
}

static void take(void *subject, const struct piece *piece) {
    struct told *told = subject;
    assert_null(words_kept_off(piece->text));
    told->headings += piece->kind == PIECE_HEADING;
    told->steps += piece->kind == PIECE_STEP;
    told->boxes += piece->kind == PIECE_BOX_EDGE;
    if (piece->kind == PIECE_STEP) {
        assert_int_equal(piece->step, told->steps);
    }
    put(told, piece->text);
    put(told, " ");
}

/* Each piece that is told stands on the text sheet, whose lines are cut and boxed. */
static void pieces_are_the_words_of_the_text_sheet(void **state) {
    (void)state;
    static struct sheet_answer made;
    static struct told told, sheet;
    memset(&told, 0, sizeof told);
    memset(&sheet, 0, sizeof sheet);
    answer_make(&made, 2);
    const struct sheet_taker taker = {take, &told};
    assert_int_equal(sheet_tell(&made.answer, &taker), OUTCOME_DONE);
    assert_int_equal(told.headings, 2);
    assert_int_equal(told.boxes, 4);
    assert_true(told.steps >= 12);
    char *text = answer_sheet(&made);
    put(&sheet, text);
    assert_in_order(told.text,
                    (const char *const[]){"Result WORKS", "STOP. Tick every line", SHEET_GROUND,
                                          "Tape the REAL frame", SHEET_ROOF, "Chalk a big 0",
                                          "leg lands 2-1/8\" RIGHT of this lag", "Only now: FILL."},
                    8);
    const char *const same[] = {"leg lands 2-1/8\" RIGHT of this lag", "Only now: FILL.",
                                "5' 4\" (64)", "room to miss 1/8\" (foot's reach to its leg)"};
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        assert_int_equal(count_of(told.text, same[i]), count_of(sheet.text, same[i]));
    }
    free(text);
}

/* A step of 40 points of words and its first heading's 100 stay together: 140.  The second heading
 * has 60 of its own, and the next step, of 90, has more than words: it may part from its heading.
 * What is open when the page is turned, at 500, ends there, and nothing follows it. */
static void a_step_stays_with_its_first_heading(void **state) {
    (void)state;
    const struct {
        bool step;
        double y;
    } starts[] = {{true, 100}, {false, 140}, {false, 240}, {true, 300}, {false, 390}};
    const double wanted[] = {140, 100, 60, 90, 110};
    struct stretches stretches = {0};
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(stretches_begin(&stretches, starts[i].step, starts[i].y), OUTCOME_DONE);
    }
    stretches_end(&stretches, 500);
    stretches_end(&stretches, 900);
    assert_int_equal(stretches_begin(&stretches, true, 50), OUTCOME_DONE);
    for (size_t i = 0; i < 5; i++) {
        assert_true(stretches_height(&stretches, i) == wanted[i]);
    }
    assert_true(stretches_height(&stretches, 6) == 0);
    stretches_free(&stretches);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_bytes_twice_in_one_process),
        cmocka_unit_test(pieces_are_the_words_of_the_text_sheet),
        cmocka_unit_test(a_step_stays_with_its_first_heading),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
