/* The plan as files: the same that a survey of a real roof comes to. */
#include "plan.h"

#include "length.h"
#include "practice.h"

static void put(FILE *stream, const char *before, int eighths, const char *after) {
    char text[LENGTH_TEXT];
    fprintf(stream, "%s%s%s", before, length_text(text, eighths / 8.0, 1.0 / 8, MEASURE_IN), after);
}

static void put_pair(FILE *stream, const char *before, int one, int other, const char *after) {
    put(stream, before, one, ", ");
    put(stream, "", other, after);
}

static void write_rafters(const struct plan *plan, FILE *stream) {
    fputs("rafters:\n  list:\n", stream);
    for (int i = 0; i < plan->rafter_count; i++) {
        const struct plan_rafter *rafter = &plan->rafters[i];
        put(stream, "    - {at: ", rafter->at, "");
        if (rafter->again != rafter->at) {
            put(stream, ", again: ", rafter->again, "");
        }
        if (rafter->doubled) {
            fprintf(stream, ", plies: 2, sister: %s", rafter->away ? "away" : "toward");
        }
        fputs(rafter->bad ? ", sound: no}\n" : "}\n", stream);
    }
    if (plan->keepout > 0) {
        fprintf(stream, "keepouts:\n  - {rafter: %d, ", plan->keepout);
        put(stream, "from: ", plan->keepout_from, ", ");
        put(stream, "to: ", plan->keepout_to, ", why: splice}\n");
    }
}

static void write_vents(const struct plan *plan, FILE *stream) {
    fputs(plan->vent_count > 0 ? "vents:\n" : "", stream);
    for (int i = 0; i < plan->vent_count; i++) {
        const struct plan_vent *vent = &plan->vents[i];
        fprintf(stream, "  - {name: %s, kind: %s, ", vent->name, vent->kind);
        put_pair(stream, "at: [", vent->x, vent->y, "], ");
        put_pair(stream, "size: [", vent->width, vent->height, "]}\n");
    }
}

void plan_write_roof(const struct plan *plan, FILE *stream) {
    fprintf(stream, "roof: Practice roof, level %u, number %u\n", plan->level, plan->seed);
    fprintf(stream, "corner: %s\n", plan->right ? "right" : "left");
    put(stream, "plane: {width: ", plan->width, ", ");
    put(stream, "slope: ", plan->slope, ", ");
    fprintf(stream, "pitch: %d/12}\n", plan->rise);
    fputs("setback: {eave: 12, ridge: 18, near: 12, far: 12}\n", stream);
    put(stream, "courses: {first: ", plan->first, ", ");
    put(stream, "exposure: ", plan->exposure, "}\n");
    write_rafters(plan, stream);
    write_vents(plan, stream);
    fputs("place:\n  - {name: A, kit: " PRACTICE_KIT ", ", stream);
    put_pair(stream, "want: [", plan->want_x, plan->want_y, "], ");
    fprintf(stream, "top: %s, bottom: %s}\n", plan->strut[0] ? "strut" : "feet",
            plan->strut[1] ? "strut" : "feet");
}

void plan_write_kit(const struct plan *plan, FILE *stream) {
    fputs("# Invented: no maker's part.\nkit: practice frame\nbracket:\n", stream);
    put(stream, "  width: ", plan->frame_width, "\n");
    put(stream, "  height: ", plan->frame_height, "\n");
    put_pair(stream, "  legs: [", plan->legs[0], plan->legs[1], "]\n");
    put_pair(stream, "  top: [", plan->top[0], plan->top[1], "]\n");
    put_pair(stream, "  bottom: [", plan->bottom[0], plan->bottom[1], "]\n");
    fputs("  bottom_bracket: {gap: [1, 1 1/2], depth: 2, wrench: 1/2}\n"
          "  standoff: 4\n"
          "foot: {reach: 1 1/2, slot: 3/4, half: 1}\n"
          "strut: {half: 7/8, grip: 1 1/4, lag_clear: 1 1/2, end: 1, overhang: 6, span: 50,\n"
          "  stock: [120, 240]}\n"
          "flashing: {width: 9, height: 12, hole_up: 3 1/4, block: 1, edge: [0, 1], clear: 1/4,\n"
          "  lap: 1/2}\n"
          "lag: {diameter: 5/16, length: 4, through: 1/2}\n",
          stream);
}
