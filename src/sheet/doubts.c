/* What stands at the top of a sheet because somebody has to look: what was not checked, doubts
 * about the survey, timbers that an engineer must see. */
#include "page.h"
#include "places.h"
#include "sections.h"
#include "warnings.h"
#include "words.h"

#include <math.h>

static const double degree = 3.14159265358979323846 / 180;

/* Of the lines to chalk; the ridge where there are none. */
static double highest_line(const struct answer *answer) {
    double highest = answer->marks == NULL ? answer->roof->slope : 0;
    for (size_t i = 0; answer->marks != NULL && i < answer->marks->count; i++) {
        if (answer->marks->list[i].row != ROW_PIPE) {
            highest = fmax(highest, answer->marks->list[i].y);
        }
    }
    return highest;
}

/* Half a degree at the corner moves a line's readings by the line's height times tan(0.5 degree).
 */
static void write_unchecked_corner(struct page *page) {
    char text[LENGTH_TEXT];
    page_fine(page->answer->roof, text, highest_line(page->answer) * tan(0.5 * degree));
    page_line(page, 2,
              "! SQUARE NOT CHECKED: a zero corner half a degree out moves the readings of the "
              "top line by %s.",
              text);
}

static void write_warning(void *taker, const char *text) {
    struct page *page = taker;
    char said[PAGE_TEXT];
    words_say(page->answer->roof, text, said, sizeof said);
    page_line(page, 2, "! %s", said);
}

void doubts_write(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    if (!roof->square_checked && !roof->outlined) {
        write_unchecked_corner(page);
    }
    if (!roof->courses_checked) {
        page_line(page, 2,
                  "! COURSES NOT CHECKED: the butt edges are reckoned from the first one, none was "
                  "taped higher up.");
    }
    if (roof->found == FOUND_SOUNDED) {
        page_line(page, 2, "! RAFTERS SOUNDED ONLY: probe both faces before any hole is drilled.");
    }
    warnings_tell(roof, answer->marks, answer->strength, write_warning, page);
}
