#include "places.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

double places_reading(const struct answer *answer, double x, double y) {
    return roof_reading(answer->roof, answer->from, x, y) + answer->burn;
}

static enum side other_side(enum side side) {
    return side == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR;
}

double places_other_reading(const struct answer *answer, double x, double y) {
    return roof_reading(answer->roof, other_side(answer->from), x, y) + answer->burn;
}

const char *places_rake(const struct answer *answer) {
    return words_side(answer->roof, answer->from);
}

const char *places_other_rake(const struct answer *answer) {
    return words_side(answer->roof, other_side(answer->from));
}

const char *places_edge(const struct roof *roof) {
    return roof->outlined ? "edge" : "rake";
}

bool places_leans(const struct roof *roof, enum side side) {
    enum edge_kind kind = side == SIDE_NEAR ? EDGE_NEAR : EDGE_FAR;
    for (size_t i = 0; i < roof->edge_count; i++) {
        if (roof->edges[i].kind == kind &&
            fabs(roof->edges[i].ny) * roof->slope > LENGTH_TOLERANCE) {
            return true;
        }
    }
    return false;
}

const char *places_height_up(const struct roof *roof, enum side side, char buffer[LENGTH_TEXT],
                             double y) {
    return page_length(roof, buffer, roof_height_reading(roof, side, y));
}

const char *places_height(const struct answer *answer, char buffer[LENGTH_TEXT], double y) {
    return places_height_up(answer->roof, answer->from, buffer, y);
}

bool places_heights_differ(const struct roof *roof, double y) {
    char near[LENGTH_TEXT], far[LENGTH_TEXT];
    places_height_up(roof, SIDE_NEAR, near, y);
    places_height_up(roof, SIDE_FAR, far, y);
    return strcmp(near, far) != 0;
}

size_t places_mark_along(const struct answer *answer, const struct line *line, size_t i) {
    size_t along = answer->from == SIDE_NEAR ? i : line->seat->count - 1 - i;
    return line->seat->first_mark + along;
}

/* True where line a is chalked before line b. */
static bool chalked_before(const struct answer *answer, const struct line *a,
                           const struct line *b) {
    if (a->seat->y < b->seat->y || a->seat->y > b->seat->y) {
        return a->seat->y < b->seat->y;
    }
    const struct mark *list = answer->marks->list;
    double x_a = list[places_mark_along(answer, a, 0)].x;
    double x_b = list[places_mark_along(answer, b, 0)].x;
    return answer->from == SIDE_NEAR ? x_a < x_b : x_a > x_b;
}

size_t places_lines(const struct answer *answer, struct line lines[PLACES_LINES_MOST]) {
    size_t count = 0;
    for (size_t bracket = 0; bracket < answer->roof->bracket_count; bracket++) {
        for (int row = 0; row < ROW_COUNT; row++) {
            struct line line = {bracket, (enum row)row, &answer->verdict->rows[bracket][row]};
            if (line.seat->count == 0) {
                continue;
            }
            size_t at = count++;
            for (; at > 0 && chalked_before(answer, &line, &lines[at - 1]); at--) {
                lines[at] = lines[at - 1];
            }
            lines[at] = line;
        }
    }
    return count;
}

void places_order(const struct answer *answer, size_t *order) {
    struct line lines[PLACES_LINES_MOST];
    size_t used = 0;
    if (answer->marks == NULL || answer->verdict == NULL) {
        return;
    }
    const size_t count = places_lines(answer, lines);
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < lines[i].seat->count; j++) {
            order[used++] = places_mark_along(answer, &lines[i], j);
        }
    }
    for (size_t i = 0; i < answer->marks->count; i++) {
        if (answer->marks->list[i].row == ROW_PIPE) {
            order[used++] = i;
        }
    }
}

/* Which hole of its line, or of its pipe, a mark is: from 1, in order of x. */
static size_t hole_number(const struct marks *marks, size_t mark) {
    const struct mark *named = &marks->list[mark];
    size_t number = 1;
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *other = &marks->list[i];
        if (other->bracket == named->bracket && other->row == named->row &&
            other->pipe == named->pipe &&
            (other->x < named->x || (i < mark && other->x <= named->x))) {
            number++;
        }
    }
    return number;
}

const char *places_hole_name(const struct roof *roof, const struct marks *marks, size_t mark,
                             char buffer[PLACES_NAME]) {
    const struct mark *named = &marks->list[mark];
    const char *frame = roof->brackets[named->bracket].name;
    size_t number = hole_number(marks, mark);
    if (named->row == ROW_PIPE) {
        const char *pipe = roof->pipes[named->pipe].name;
        int used = snprintf(buffer, PLACES_NAME, "%s-pipe-%s", frame, pipe);
        if (number > 1 && used > 0 && used < PLACES_NAME) {
            snprintf(buffer + used, (size_t)(PLACES_NAME - used), "-%zu", number);
        }
        return buffer;
    }
    snprintf(buffer, PLACES_NAME, "%s-%s-%zu", roof->brackets[named->bracket].name,
             roof_row_word(named->row), number);
    return buffer;
}

void sheet_hole_name(const struct roof *roof, const struct marks *marks, size_t mark, char *name,
                     size_t size) {
    char buffer[PLACES_NAME];
    snprintf(name, size, "%s", places_hole_name(roof, marks, mark, buffer));
}

const char *places_short_name(const struct answer *answer, size_t mark, char buffer[PLACES_NAME]) {
    places_hole_name(answer->roof, answer->marks, mark, buffer);
    size_t frame = strlen(answer->roof->brackets[answer->marks->list[mark].bracket].name);
    if (strlen(buffer) > PLACES_SHORT) {
        memmove(buffer, buffer + frame + 1, strlen(buffer + frame + 1) + 1);
    }
    return buffer;
}

/* Which of its rafter's plies it is, from the zero corner, counted from 0; the targets do not say,
 * for plies that are not sound are none.  SIZE_MAX where the target is the whole member. */
static size_t place_of(const struct rafter *rafter, const struct ply *ply) {
    double width = rafter->to - rafter->from;
    if (rafter->plies < 2 || length_holds(2 * ply->half - width)) {
        return SIZE_MAX;
    }
    return (size_t)fmax(0, (ply->at - rafter->from) / width * (double)rafter->plies);
}

/* The name of a ply by its place among its rafter's, seen as one faces the ridge. */
static void name_ply(const struct roof *roof, const struct ply *ply, char buffer[PLACES_NAME]) {
    const struct rafter *rafter = &roof->rafters[ply->rafter];
    size_t place = place_of(rafter, ply);
    if (rafter->plies < 2) {
        buffer[0] = '\0';
    } else if (place == SIZE_MAX) {
        snprintf(buffer, PLACES_NAME, ", middle of the bonded plies");
    } else if (rafter->plies == 2 || (rafter->plies == 3 && place != 1)) {
        enum side side = place == 0 ? SIDE_NEAR : SIDE_FAR;
        snprintf(buffer, PLACES_NAME, ", %s ply", words_side(roof, side));
    } else if (rafter->plies == 3) {
        snprintf(buffer, PLACES_NAME, ", middle ply");
    } else {
        snprintf(buffer, PLACES_NAME, ", ply %zu of %zu from the %s", place + 1, rafter->plies,
                 words_side(roof, SIDE_NEAR));
    }
}

const char *places_rafter(const struct answer *answer, size_t mark, char buffer[PLACES_NAME]) {
    const struct roof *roof = answer->roof;
    size_t ply = answer->verdict->seats[mark].ply;
    if (ply == SIZE_MAX) {
        snprintf(buffer, PLACES_NAME, "no sound rafter");
        return buffer;
    }
    char of_ply[PLACES_NAME];
    name_ply(roof, &roof->plies[ply], of_ply);
    snprintf(buffer, PLACES_NAME, "rafter %zu%.64s", roof->plies[ply].rafter + 1, of_ply);
    return buffer;
}

const struct finding *places_least_at_mark(const struct answer *answer, size_t mark) {
    const struct finding *least = NULL;
    for (size_t i = 0; i < answer->verdict->count; i++) {
        const struct finding *finding = &answer->verdict->findings[i];
        bool named = finding->mark == (int)mark || finding->other_mark == (int)mark;
        if (named && check_rule_counted(finding->rule) &&
            (least == NULL || finding->margin < least->margin)) {
            least = finding;
        }
    }
    return least;
}

const struct finding *places_least_of_frame(const struct answer *answer, size_t bracket) {
    const struct finding *least = NULL;
    for (size_t i = 0; i < answer->verdict->count; i++) {
        const struct finding *finding = &answer->verdict->findings[i];
        bool named = finding->bracket == (int)bracket || finding->other_bracket == (int)bracket;
        if (named && check_rule_counted(finding->rule) &&
            (least == NULL || finding->margin < least->margin)) {
            least = finding;
        }
    }
    return least;
}

enum hardware places_hardware(const struct answer *answer, const struct line *line) {
    return answer->marks->brackets[line->bracket].hardware[line->row];
}

size_t places_leg_number(const struct roof *roof, const struct kit *kit, size_t leg) {
    return roof->corner == CORNER_LEFT ? leg + 1 : kit->leg_count - leg;
}
