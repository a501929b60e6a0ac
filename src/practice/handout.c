/* What a trainee is handed: the survey in words, and a blank answer. */
#include "practice.h"

#include <string.h>

enum { WIDTH = 80 };

static const char *inches(char buffer[LENGTH_TEXT], double length) {
    return length_text(buffer, length, 1.0 / 32, MEASURE_IN);
}

static const char *zero_side(const struct roof *roof) {
    return roof->corner == CORNER_LEFT ? "LEFT" : "RIGHT";
}

static const char *other_side(const struct roof *roof) {
    return roof->corner == CORNER_LEFT ? "RIGHT" : "LEFT";
}

static void write_rule(FILE *stream) {
    for (int i = 0; i < WIDTH; i++) {
        fputc('=', stream);
    }
    fputc('\n', stream);
}

static void write_head(const struct practice *practice, FILE *stream) {
    const struct roof *roof = practice->roof;
    write_rule(stream);
    char which[40];
    snprintf(which, sizeof which, "level %u, number %u", practice->level, practice->seed);
    fprintf(stream, "PRACTICE ROOF%*s\n", WIDTH - (int)strlen("PRACTICE ROOF"), which);
    write_rule(stream);
    fprintf(stream,
            "You stand at the eave and face the ridge. The zero corner is on the %s. Every\n"
            "length along the eave counts from the %s rake, every height up the roof from\n"
            "the eave, on the shingles. All figures are inches.\n",
            zero_side(roof), zero_side(roof));
}

static void write_face(const struct roof *roof, FILE *stream) {
    char a[LENGTH_TEXT], b[LENGTH_TEXT], c[LENGTH_TEXT], d[LENGTH_TEXT];
    double keep[EDGE_KIND_COUNT] = {0};
    for (size_t i = 0; i < roof->edge_count; i++) {
        keep[roof->edges[i].kind] = roof->edges[i].setback;
    }
    fprintf(stream, "\nTHE FACE\n  along the eave %s; up the roof, eave to ridge, %s\n",
            inches(a, roof->width), inches(b, roof->slope));
    fprintf(stream, "  frames keep clear: eave %s, ridge %s, zero rake %s, other rake %s\n",
            inches(a, keep[EDGE_EAVE]), inches(b, keep[EDGE_RIDGE]), inches(c, keep[EDGE_NEAR]),
            inches(d, keep[EDGE_FAR]));
    if (roof->course_count > 1) {
        fprintf(stream, "  butt edges: the first at %s, then one every %s; each may be off by %s\n",
                inches(a, roof->courses[0]), inches(b, roof->courses[1] - roof->courses[0]),
                inches(c, roof->course_tolerance));
    }
}

/* What is unlike its neighbours. */
static void write_oddities(const struct roof *roof, size_t number, FILE *stream) {
    const struct rafter *rafter = &roof->rafters[number];
    char a[LENGTH_TEXT], b[LENGTH_TEXT];
    if (rafter->plies > 1) {
        const bool away = rafter->to - rafter->at > rafter->at - rafter->from;
        fprintf(stream, ", doubled: the second ply is on its %s",
                away ? other_side(roof) : zero_side(roof));
    }
    if (!rafter->sound) {
        fputs(", BAD: no lag goes into it", stream);
    }
    if (rafter->lean != 0) {
        fprintf(stream, ", crooked: at the ridge it is at %s",
                inches(a, rafter->at + rafter->lean * roof->slope));
    }
    for (size_t i = 0; i < roof->keepout_count; i++) {
        if (roof->keepouts[i].rafter == number) {
            fprintf(stream, ", %s from %s to %s up: no lag there", roof->keepouts[i].why,
                    inches(a, roof->keepouts[i].y0), inches(b, roof->keepouts[i].y1));
        }
    }
}

static void write_rafters(const struct roof *roof, FILE *stream) {
    char a[LENGTH_TEXT], b[LENGTH_TEXT];
    fprintf(stream,
            "\nRAFTERS: the middle of each at the eave, from the %s rake. A ply is %s\n"
            "thick, and its middle may be off by %s\n",
            zero_side(roof), inches(a, 2 * roof->plies[0].half),
            inches(b, roof->rafters[0].tolerance));
    for (size_t i = 0; i < roof->rafter_count; i++) {
        fprintf(stream, "  %3zu  %s", i + 1, inches(a, roof->rafters[i].at));
        write_oddities(roof, i, stream);
        fputc('\n', stream);
    }
}

static void write_vents(const struct roof *roof, FILE *stream) {
    char a[LENGTH_TEXT], b[LENGTH_TEXT], c[LENGTH_TEXT], d[LENGTH_TEXT];
    fputs(roof->vent_count > 0 ? "\nVENTS, by the flange that lies under the shingles\n" : "",
          stream);
    for (size_t i = 0; i < roof->vent_count; i++) {
        const struct vent *vent = &roof->vents[i];
        const struct box *box = &vent->flange;
        fprintf(stream, "  %s: along the eave %s to %s, up the roof %s to %s\n", vent->name,
                inches(a, box->x0), inches(b, box->x1), inches(c, box->y0), inches(d, box->y1));
        fprintf(stream, "    flashings and struts keep %s from it, frames %s\n",
                inches(a, vent->keep_flashing), inches(b, vent->keep_bracket));
    }
}

static void write_hardware(const struct roof *roof, const struct bracket *frame, FILE *stream) {
    const struct kit *kit = roof_kit(roof, 0);
    char a[LENGTH_TEXT], b[LENGTH_TEXT], c[LENGTH_TEXT];
    const bool feet =
        frame->hardware[ROW_TOP] == HARDWARE_FEET || frame->hardware[ROW_BOTTOM] == HARDWARE_FEET;
    const bool strut =
        frame->hardware[ROW_TOP] == HARDWARE_STRUT || frame->hardware[ROW_BOTTOM] == HARDWARE_STRUT;
    if (feet) {
        fprintf(stream,
                "  feet: one a leg. Its lag is %s to either side of the leg's middle, and may\n"
                "    slide %s either way. It takes up %s above and below its line\n",
                inches(a, kit->foot_reach), inches(b, kit->foot_slot), inches(c, kit->foot_half));
    }
    if (strut) {
        char d[LENGTH_TEXT];
        fprintf(stream,
                "  strut: one lag in every good rafter from its first lag to its last, at most %s\n"
                "    apart. It takes up %s above and below its line, and ends %s beyond its\n"
                "    outermost lag or clamp\n",
                inches(a, kit->span), inches(b, kit->strut_half), inches(c, kit->strut_end));
        fprintf(stream,
                "    a clamp a leg, %s to either side of the leg's middle: %s or more from\n"
                "    every lag, and at most %s beyond the end lags; longest bar %s\n",
                inches(a, kit->grip), inches(b, kit->lag_clear), inches(c, kit->overhang),
                inches(d, kit->stock[kit->stock_count - 1]));
    }
    fprintf(stream, "  lag: its middle keeps %s from the faces of its ply\n",
            inches(a, kit->lag_edge));
}

static void write_flashing(const struct flashing *flashing, FILE *stream) {
    char a[LENGTH_TEXT], b[LENGTH_TEXT], c[LENGTH_TEXT];
    fprintf(stream, "  flashing: %s along, %s up the roof; its hole is %s above its lower edge\n",
            inches(a, flashing->width), inches(b, flashing->height), inches(c, flashing->hole_up));
    fprintf(stream,
            "    the lower edge sits on a butt edge or up to %s above it; the hub reaches %s\n",
            inches(a, flashing->edge[1]), inches(b, flashing->block));
    fprintf(stream,
            "    above the hole and ends %s below the next butt edge; the top passes the\n"
            "    second butt edge above by %s. No two flashings overlap, nor two struts\n",
            inches(a, flashing->clear), inches(b, flashing->lap));
}

static void write_frame(const struct roof *roof, FILE *stream) {
    const struct bracket *frame = &roof->brackets[0];
    const struct kit *kit = roof_kit(roof, 0);
    char a[LENGTH_TEXT], b[LENGTH_TEXT], c[LENGTH_TEXT], d[LENGTH_TEXT];
    fprintf(stream, "\nFRAME %s, %s along the eave and %s up the roof\n", frame->name,
            inches(a, kit->width), inches(b, kit->height));
    fprintf(stream, "  wanted: its lower %s corner at %s from the zero rake, %s up the roof\n",
            zero_side(roof), inches(a, frame->want_x), inches(b, frame->want_y));
    fprintf(stream, "  legs: middles at %s and %s from its %s side\n", inches(a, kit->legs[0]),
            inches(b, kit->legs[1]), zero_side(roof));
    fprintf(stream, "  top line, %s, meets them %s to %s above the frame's lower edge\n",
            roof_hardware_word(frame->hardware[ROW_TOP]), inches(a, kit->window[ROW_TOP][0]),
            inches(b, kit->window[ROW_TOP][1]));
    fprintf(stream, "  bottom line, %s, %s to %s above it\n",
            roof_hardware_word(frame->hardware[ROW_BOTTOM]), inches(a, kit->window[ROW_BOTTOM][0]),
            inches(b, kit->window[ROW_BOTTOM][1]));
    fprintf(stream,
            "  the bottom line's hardware stays %s above the frame's lower edge: a gap of\n",
            inches(a, kit->gap[1] + kit->depth + kit->wrench));
    fprintf(stream, "    %s, the bottom fitting's %s, and %s for the wrench\n",
            inches(b, kit->gap[1]), inches(c, kit->depth), inches(d, kit->wrench));
    write_hardware(roof, frame, stream);
    write_flashing(&kit->flashing, stream);
}

enum outcome practice_write_survey(const struct practice *practice, FILE *stream) {
    const struct roof *roof = practice->roof;
    char a[LENGTH_TEXT];
    write_head(practice, stream);
    write_face(roof, stream);
    write_rafters(roof, stream);
    write_vents(roof, stream);
    write_frame(roof, stream);
    fprintf(stream,
            "\nWHAT IS ASKED\n"
            "  Where the frame's lower %s corner goes, how high each line runs, and where\n"
            "  on it each lag hole is. %d points are for the rules. If all of them\n"
            "  hold, %d are for room to miss (more than %s earns nothing) and %d for few\n"
            "  holes and a frame close to where it is wanted.\n",
            zero_side(roof), GRADE_RULES, GRADE_ROOM, inches(a, roof->enough), GRADE_ECONOMY);
    return OUTCOME_DONE;
}

enum outcome practice_write_blank(const struct practice *practice, FILE *stream) {
    const struct roof *roof = practice->roof;
    fprintf(stream,
            "# The answer to the practice roof of level %u, number %u. Fill in every length, add\n"
            "# a line for each further lag hole, take away what is too many, then:\n"
            "#   ruddle practice --grade answer.yaml\n"
            "# x: from the %s rake; y: up the roof.\n"
            "practice: %u/%u\n"
            "brackets:                    # the frame: its lower %s corner\n"
            "  - {name: %s, x: , y: }\n"
            "marks:                       # the lag holes\n",
            practice->level, practice->seed, zero_side(roof), practice->level, practice->seed,
            zero_side(roof), roof->brackets[0].name);
    for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
        for (int i = 0; i < 2; i++) {
            fprintf(stream, "  - {bracket: %s, row: %s, x: , y: }\n", roof->brackets[0].name,
                    roof_row_word(row));
        }
    }
    return OUTCOME_DONE;
}
