/* For each rule the words of what it needs and what is there; see broken.h. */
#ifndef RUDDLE_SHEET_TELL_H
#define RUDDLE_SHEET_TELL_H

#include "broken.h"

typedef void tell_rule(const struct scene *scene, struct broken *broken);

tell_rule tell_wood, tell_course_edge, tell_course_block, tell_lap, tell_joints, tell_foot_reach,
    tell_row, tell_clearance;
tell_rule tell_vent_flashing, tell_vent_bracket, tell_setback, tell_strut_clear, tell_apart;
tell_rule tell_pipe_bay, tell_pipe_reach, tell_pipe_complete;
tell_rule tell_strut_clamp, tell_strut_span, tell_strut_stock, tell_row_line, tell_complete;

/* The flashing that a mark lies under: its kit's, or its pipe's own. */
const struct flashing *tell_flashing(const struct scene *scene, int mark);

/* Needs a gap between two things; what is there, negative where they overlap. */
void tell_gap(const struct scene *scene, struct broken *broken, double needed, double found);

/* Moving the first clear of the second by that much, along the axis on which least is missing. */
void tell_move_clear(const struct scene *scene, struct broken *broken, const struct box *own,
                     const struct box *other, double inches);

/* What a strut covers. */
struct box tell_strut_box(const struct scene *scene, int bracket, int row);

/* Puts "short by" (inches, positive) into broken->by. */
void tell_by(const struct scene *scene, struct broken *broken, double inches);

#endif
