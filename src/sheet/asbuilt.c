/* The record for the job folder.  YAML, one fact a line, so that a person reads it and a program
 * can; `____` is for the crew to fill in. */
#include "places.h"
#include "revised.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

static double shown(const struct roof *roof, double inches) {
    return roof->measure == MEASURE_MM ? inches * LENGTH_MM_PER_INCH : inches;
}

/* A text between double quotes. */
static void quote(const char *text, FILE *stream) {
    fputc('"', stream);
    for (; *text != '\0'; text++) {
        if (*text == '"' || *text == '\\')
            fputc('\\', stream);
        fputc((unsigned char)*text < ' ' ? ' ' : *text, stream);
    }
    fputc('"', stream);
}

static void write_planned(const struct answer *answer, size_t m, FILE *stream) {
    const struct roof *roof = answer->roof;
    const struct mark *mark = &answer->marks->list[m];
    char name[PLACES_NAME];
    fputs("  - hole: ", stream);
    quote(places_hole_name(roof, answer->marks, m, name), stream);
    fprintf(stream, "\n    planned: [%.4f, %.4f]\n", shown(roof, mark->x), shown(roof, mark->y));
}

static void write_pipe(const struct answer *answer, size_t m, FILE *stream) {
    write_planned(answer, m, stream);
    fputs("    actual: [____, ____]\n    bored: ____ # clear, or wood\n", stream);
}

static void write_lag(const struct answer *answer, size_t m, FILE *stream) {
    const struct roof *roof = answer->roof;
    const struct mark *mark = &answer->marks->list[m];
    const size_t ply = answer->verdict->seats[m].ply;
    const bool done = answer->done && answer->done[m];
    write_planned(answer, m, stream);
    if (done)
        fprintf(stream, "    actual: [%.4f, %.4f]\n", shown(roof, mark->x), shown(roof, mark->y));
    else
        fputs("    actual: [____, ____]\n", stream);
    if (ply != SIZE_MAX) {
        const struct rafter *rafter = &roof->rafters[roof->plies[ply].rafter];
        fprintf(stream, "    rafter: %zu\n    ply: %zu of %zu, from the zero corner\n",
                roof->plies[ply].rafter + 1, ply - rafter->first_ply + 1, rafter->ply_count);
    }
    fprintf(stream, "    drill found: %s\n", done ? "solid" : "____ # solid, edge or missed");
}

static void write_dead(const struct answer *answer, const struct hole *hole, FILE *stream) {
    static const char *const words[] = {
        [DRILL_WOOD] = "solid", [DRILL_EDGE] = "edge", [DRILL_AIR] = "missed"};
    const struct roof *roof = answer->roof;
    fprintf(stream,
            "  - at: [%.4f, %.4f]\n    drill found: %s\n    covered by: ", shown(roof, hole->x),
            shown(roof, hole->y), words[hole->found]);
    if (hole->cover == REVISE_PATCH)
        fprintf(stream, "the patch flashing of drilled hole %zu\n", hole->patch + 1);
    else {
        char name[PLACES_NAME];
        fprintf(stream, "the flashing of %s\n",
                places_hole_name(roof, answer->marks, (size_t)hole->cover, name));
    }
    fputs("    sealed and seen by: ____\n", stream);
}

static void write_frame(const struct answer *answer, size_t bracket, FILE *stream) {
    const struct kit *kit = roof_kit(answer->roof, bracket);
    fputs("  - frame: ", stream);
    quote(answer->roof->brackets[bracket].name, stream);
    fprintf(stream, "\n    bottom fitting gap: ____ # planned %.4f to %.4f\n",
            shown(answer->roof, kit->gap[0]), shown(answer->roof, kit->gap[1]));
    const bool metric = answer->roof->measure == MEASURE_MM;
    if (kit->has_weight)
        fprintf(stream, "    filled weight: ____ # reckoned %.0f %s\n",
                kit->filled_lb * (metric ? UNIT_KG_PER_LB : 1), metric ? "kg" : "lb");
    else
        fputs("    filled weight: ____\n", stream);
}

enum outcome revised_write_asbuilt(const struct revised_answer *answer, FILE *stream) {
    const struct answer *of = &answer->answer;
    const struct revised *revised = answer->revised;
    size_t dead = 0;
    fputs("# As built. Fill in every ____ and keep this in the job folder.\nroof: ", stream);
    quote(of->roof->name, stream);
    fprintf(stream, "\nfingerprint: \"%s\"\nmeasure: %s # places: along the eave, up the roof\n",
            of->fingerprint, of->roof->measure == MEASURE_MM ? "mm" : "in");
    if (of->status != STATUS_OK)
        fputs("# NOT A LAYOUT TO DRILL BY: no layout was found that keeps every rule.\n", stream);
    fputs("lags:\n", stream);
    for (size_t m = 0; of->marks && m < of->marks->count; m++)
        if (of->marks->list[m].row != ROW_PIPE)
            write_lag(of, m, stream);
    fputs(of->roof->pipe_count > 0 ? "pipe holes:\n" : "", stream);
    for (size_t m = 0; of->marks && m < of->marks->count; m++)
        if (of->marks->list[m].row == ROW_PIPE)
            write_pipe(of, m, stream);
    for (size_t i = 0; i < revised->hole_count; i++) {
        if (revised->holes[i].fate == FATE_KEPT)
            continue;
        fputs(dead++ == 0 ? "dead holes:\n" : "", stream);
        write_dead(of, &revised->holes[i], stream);
    }
    fputs("frames:\n", stream);
    for (size_t b = 0; b < of->roof->bracket_count; b++)
        write_frame(of, b, stream);
    fputs("hose test:\n  date: ____\n  minutes: ____\n  dry inside: ____\ncrew: ____\nchecker: "
          "____\ninstalled on: ____\nsnug again after the first season, planned: ____\nsnugged "
          "again on: ____\n",
          stream);
    return OUTCOME_DONE;
}
