/* The parts of a roof, each built from its part of the survey.  Every builder reports its faults to
 * reader->problems and goes on; the caller asks problems in the end.  FAULT: no memory.  What a
 * builder stored is freed with the roof, whatever came of it.
 */
#ifndef RUDDLE_ROOF_BUILD_H
#define RUDDLE_ROOF_BUILD_H

#include "reader.h"
#include "roof.h"

/* The face: width, slope and pitch, its corners and its edges with their setbacks. */
enum outcome plane_build(const struct reader *reader, const struct survey_roof *survey,
                         struct roof *roof);

/* The corners of an outline, counter-clockwise from the lowest (the one nearer the corner of two).
 * roof->corners stays NULL where the outline was refused.  `reader` stands in the plane. */
enum outcome outline_build(const struct reader *reader, const struct survey_plane *survey,
                           struct roof *roof);

/* The face's least and greatest x, at whatever height; NaN where it was refused. */
struct span {
    double least, most;
};
struct span plane_span(const struct roof *roof);

/* The butt edges.  Needs roof->slope. */
enum outcome courses_build(const struct reader *reader, const struct survey_courses *survey,
                           struct roof *roof);

/* The joints and cutouts between the shingles; survey may be NULL.  `reader` stands in the courses.
 * Needs the face and the butt edges. */
enum outcome joints_build(const struct reader *reader, const struct survey_joints *survey,
                          struct roof *roof);

/* The members, sorted, their targets and the stretches to keep out of.  Needs the face. */
enum outcome rafters_build(const struct reader *reader, const struct survey_roof *survey,
                           struct roof *roof);
enum outcome keepouts_build(const struct reader *reader, const struct survey_roof *survey,
                            struct roof *roof);

/* The vents.  Needs the face. */
enum outcome vents_build(const struct reader *reader, const struct survey_vent *survey,
                         size_t count, struct roof *roof);

/* One kit, read from its own file in its own measure, turned for the corner. */
void kit_build(const struct reader *reader, const struct survey_kit *survey, enum corner corner,
               struct kit *kit);

/* What the same file says for strength alone.  Needs the kit. */
void kit_loads_build(const struct reader *reader, const struct survey_kit *survey,
                     enum corner corner, const struct kit *kit, struct kit_loads *loads);

/* The group `loads`, if there is one: then every kit in use has to have a weight and a lag that can
 * be reckoned with.  Needs kits and brackets. */
enum outcome loads_build(const struct reader *reader, const struct survey *survey,
                         struct roof *roof);

/* A group `flashing`, of a kit or of a pipe; survey may be NULL. */
void flashing_build(const struct reader *reader, const struct survey_flashing *survey,
                    struct flashing *flashing);

/* The brackets and where they are wanted.  Needs kits and edges.  `hardware` as roof_options. */
enum outcome place_build(const struct reader *reader, const struct survey *survey,
                         const enum hardware *const hardware[ROW_COUNT], struct roof *roof);

/* The pipes, turned for the corner.  Needs brackets and kits. */
enum outcome pipes_build(const struct reader *reader, const struct survey_pipe *survey,
                         size_t count, struct roof *roof);

/* Adds a warning; cut to fit.  It speaks as a sheet does: no near and far. */
__attribute__((format(printf, 2, 3))) enum outcome doubt_add(struct roof *roof, const char *format,
                                                             ...);

/* Warns of what looks wrong in a roof that is whole. */
enum outcome doubts_note(const struct reader *reader, struct roof *roof);

/* Refuses every key of the list that was written: none of them is handled by this version. */
void refuse_later_keys(const struct reader *reader, const char *const *keys, size_t count);

#endif
