/* The holes as a table for a spreadsheet or a program: RFC 4180, lines ended by CR LF. */
#include "sheet.h"

#include "markup.h"
#include "page.h"
#include "places.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* A text, always quoted. */
static void put_text(FILE *stream, const char *text, const char *after) {
    markup_put_quoted(stream, text);
    fputs(after, stream);
}

/* In the file's measure. */
static void put_length(FILE *stream, const struct roof *roof, double inches, const char *after) {
    const double unit = roof->measure == MEASURE_MM ? LENGTH_MM_PER_INCH : 1;
    fprintf(stream, "%.6f%s", length_settled(inches * unit), after);
}

/* What holds there: strut or feet; the name of a pipe. */
static const char *held_by(const struct answer *answer, const struct mark *mark) {
    return mark->row == ROW_PIPE
               ? answer->roof->pipes[mark->pipe].name
               : roof_hardware_word(answer->marks->brackets[mark->bracket].hardware[mark->row]);
}

static void put_readings(const struct answer *answer, const struct mark *mark, FILE *stream) {
    const struct roof *roof = answer->roof;
    char text[LENGTH_TEXT];
    put_text(stream, places_rake(answer), ",");
    put_text(stream, page_length(roof, text, places_reading(answer, mark->x, mark->y)), ",");
    put_text(stream, places_height(answer, text, mark->y), ",");
    put_length(stream, roof, mark->x, ",");
    put_length(stream, roof, mark->y, ",");
    put_text(stream, roof->measure == MEASURE_MM ? "mm" : "in", ",");
}

static void put_hole(const struct answer *answer, size_t index, size_t number, FILE *stream) {
    const struct mark *mark = &answer->marks->list[index];
    const size_t ply = answer->verdict->seats[index].ply;
    const struct finding *least = places_least_at_mark(answer, index);
    const char *stamp = sheet_stamp(answer);
    char name[PLACES_NAME];
    put_text(stream, stamp == NULL ? "WORKS" : stamp, ",");
    fprintf(stream, "%zu,", number);
    put_text(stream, places_hole_name(answer->roof, answer->marks, index, name), ",");
    put_text(stream, answer->roof->brackets[mark->bracket].name, ",");
    put_text(stream, roof_row_word(mark->row), ",");
    put_text(stream, held_by(answer, mark), ",");
    if (mark->row != ROW_PIPE && ply != SIZE_MAX) {
        fprintf(stream, "%zu", answer->roof->plies[ply].rafter + 1);
    }
    fputc(',', stream);
    put_readings(answer, mark, stream);
    if (least != NULL) {
        put_length(stream, answer->roof, least->margin, "");
    }
    fputs("\r\n", stream);
}

enum outcome sheet_write_csv(const struct answer *answer, FILE *stream) {
    const bool has_marks = answer->marks != NULL && answer->verdict != NULL;
    const size_t count = has_marks ? answer->marks->count : 0;
    size_t *order = calloc(count + 1, sizeof *order);
    if (order == NULL) {
        return OUTCOME_FAULT;
    }
    fputs("result,number,hole,frame,line,held by,rafter,from,along,up,x,y,measure,room to miss\r\n",
          stream);
    if (has_marks) {
        places_order(answer, order);
    }
    for (size_t i = 0; i < count; i++) {
        put_hole(answer, order[i], i + 1, stream);
    }
    free(order);
    return OUTCOME_DONE;
}
