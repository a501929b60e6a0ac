/* What the layout puts on the roof. */
#include "draw.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

static const struct flashing *flashing_of(const struct canvas *canvas, const struct mark *mark) {
    return mark->row == ROW_PIPE ? &canvas->roof->pipes[mark->pipe].flashing
                                 : &roof_kit(canvas->roof, mark->bracket)->flashing;
}

static void draw_flashing(struct canvas *canvas, const struct mark *mark) {
    const struct flashing *flashing = flashing_of(canvas, mark);
    const double low = mark->y - flashing->hole_up;
    const struct box box =
        draw_box(canvas, (struct box){mark->x - flashing->width / 2, low,
                                      mark->x + flashing->width / 2, low + flashing->height});
    picture_box(canvas->picture, LAYER_FLASHINGS, &draw_flashing_style, box);
    placer_avoid(&canvas->placer, box);
}

/* Labels had better not hide an outline. */
static void avoid_sides(struct canvas *canvas, struct box box) {
    placer_avoid(&canvas->placer, (struct box){box.x0 - 1, box.y0, box.x0 + 1, box.y1});
    placer_avoid(&canvas->placer, (struct box){box.x1 - 1, box.y0, box.x1 + 1, box.y1});
    placer_avoid(&canvas->placer, (struct box){box.x0, box.y0 - 1, box.x1, box.y0 + 1});
    placer_avoid(&canvas->placer, (struct box){box.x0, box.y1 - 1, box.x1, box.y1 + 1});
}

static void draw_frame(struct canvas *canvas, size_t bracket) {
    static const struct style leg_style = {INK_DARK, INK_NONE, 0.9, DASH_LONG};
    const struct standing *at = &canvas->answer->marks->brackets[bracket];
    const struct kit *kit = roof_kit(canvas->roof, bracket);
    const struct box box = {at->x, at->y, at->x + kit->width, at->y + kit->height};
    picture_box(canvas->picture, LAYER_FRAMES, &draw_frame_style, draw_box(canvas, box));
    placer_outline(&canvas->placer, draw_box(canvas, box));
    avoid_sides(canvas, draw_box(canvas, box));
    for (size_t i = 0; i < kit->leg_count; i++) {
        const double x = at->x + kit->legs[i];
        picture_line(canvas->picture, LAYER_FRAMES, &leg_style, draw_place(canvas, x, box.y0),
                     draw_place(canvas, x, box.y1));
    }
}

static void draw_strut(struct canvas *canvas, const struct line *line) {
    const struct kit *kit = roof_kit(canvas->roof, line->bracket);
    const struct row_seat *seat = line->seat;
    const struct box box = draw_box(canvas, (struct box){seat->from, seat->y - kit->strut_half,
                                                         seat->to, seat->y + kit->strut_half});
    picture_box(canvas->picture, LAYER_STRUTS, &draw_strut_style, box);
    placer_avoid(&canvas->placer, box);
    for (size_t i = 0; i < kit->leg_count; i++) {
        const struct point clamp = draw_place(canvas, seat->clamps[i], seat->y);
        draw_clamp(canvas->picture, LAYER_STRUTS, clamp);
        placer_avoid(&canvas->placer,
                     (struct box){clamp.x - 3, clamp.y - 3, clamp.x + 3, clamp.y + 3});
    }
}

/* From the lag to the leg that it carries. */
static void draw_foot(struct canvas *canvas, size_t mark) {
    const struct mark *at = &canvas->answer->marks->list[mark];
    const size_t leg = canvas->answer->verdict->seats[mark].leg;
    if (leg == SIZE_MAX) {
        return;
    }
    const double x = canvas->answer->marks->brackets[at->bracket].x +
                     roof_kit(canvas->roof, at->bracket)->legs[leg];
    const struct point end = draw_place(canvas, x, at->y);
    picture_line(canvas->picture, LAYER_FEET, &draw_foot_style, draw_place(canvas, at->x, at->y),
                 end);
    picture_line(canvas->picture, LAYER_FEET, &draw_foot_style, (struct point){end.x, end.y - 4},
                 (struct point){end.x, end.y + 4});
}

void draw_frames(struct canvas *canvas) {
    const struct answer *answer = canvas->answer;
    struct line lines[PLACES_LINES_MOST];
    if (canvas->holes == 0) {
        return;
    }
    const size_t count = places_lines(answer, lines);
    for (size_t i = 0; i < answer->marks->count; i++) {
        draw_flashing(canvas, &answer->marks->list[i]);
    }
    for (size_t i = 0; i < canvas->roof->bracket_count; i++) {
        draw_frame(canvas, i);
    }
    for (size_t i = 0; i < count; i++) {
        if (places_hardware(answer, &lines[i]) == HARDWARE_STRUT) {
            draw_strut(canvas, &lines[i]);
            continue;
        }
        for (size_t j = 0; j < lines[i].seat->count; j++) {
            draw_foot(canvas, places_mark_along(answer, &lines[i], j));
        }
    }
}
