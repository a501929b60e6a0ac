#include "answer.h"

#include "sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ID_MOST = 2 * ROOF_NAME_MOST + 32 };

/* A hole with the texts that it points to. */
struct hole {
    struct ruddle_mark mark;
    char id[ID_MOST];
    char bracket[ROOF_NAME_MOST + 1];
};

struct ruddle_answer {
    char *json; /* owned */
    double forgiveness;
    struct hole *holes; /* owned */
    size_t count;
};

static void take_hole(const struct answered *answered, size_t i, struct hole *hole) {
    const struct roof *roof = answered->roof;
    const struct mark *mark = &answered->marks->list[i];
    const struct seat *seat = &answered->verdict->seats[i];
    const size_t course = verdict_course(answered->verdict, answered->marks, i);
    sheet_hole_name(roof, answered->marks, i, hole->id, sizeof hole->id);
    memcpy(hole->bracket, roof->brackets[mark->bracket].name, sizeof hole->bracket);
    hole->mark = (struct ruddle_mark){
        .id = hole->id,
        .bracket = hole->bracket,
        .row = roof_row_word(mark->row),
        .x = mark->x,
        .y = mark->y,
        .rafter = seat->ply < roof->ply_count ? roof->plies[seat->ply].rafter + 1 : 0,
        .course = course <= roof->course_count ? course : 0,
    };
}

static enum outcome take_holes(const struct answered *answered, struct ruddle_answer *answer) {
    answer->holes = calloc(answered->marks->count + 1, sizeof *answer->holes);
    if (answer->holes == NULL) {
        return OUTCOME_FAULT;
    }
    answer->count = answered->marks->count;
    for (size_t i = 0; i < answer->count; i++) {
        take_hole(answered, i, &answer->holes[i]);
    }
    return OUTCOME_DONE;
}

static enum outcome take_json(const struct answered *answered, struct ruddle_answer *answer) {
    size_t size = 0;
    FILE *stream = open_memstream(&answer->json, &size);
    if (stream == NULL) {
        return OUTCOME_FAULT;
    }
    const enum outcome outcome = answered->write_json(answered->subject, stream);
    const bool whole = ferror(stream) == 0;
    return fclose(stream) == 0 && whole ? outcome : OUTCOME_FAULT;
}

enum outcome answer_make(const struct answered *answered, struct ruddle_answer **answer) {
    struct ruddle_answer *made = calloc(1, sizeof *made);
    if (made == NULL) {
        return OUTCOME_FAULT;
    }
    enum outcome outcome = take_json(answered, made);
    made->forgiveness = NAN;
    if (outcome == OUTCOME_DONE && answered->verdict != NULL) {
        made->forgiveness = answered->verdict->least;
        outcome = take_holes(answered, made);
    }
    if (outcome == OUTCOME_DONE) {
        *answer = made;
    } else {
        ruddle_answer_free(made);
    }
    return outcome;
}

const char *ruddle_answer_json(const struct ruddle_answer *answer) {
    return answer->json;
}

double ruddle_answer_forgiveness(const struct ruddle_answer *answer) {
    return answer->forgiveness;
}

size_t ruddle_answer_marks(const struct ruddle_answer *answer) {
    return answer->count;
}

const struct ruddle_mark *ruddle_answer_mark(const struct ruddle_answer *answer, size_t mark) {
    return mark < answer->count ? &answer->holes[mark].mark : NULL;
}

void ruddle_answer_free(struct ruddle_answer *answer) {
    if (answer != NULL) {
        free(answer->json);
        free(answer->holes);
        free(answer);
    }
}
