/* The parts of a roof, each built from its part of the survey.  Every builder reports its faults to
 * reader->problems and goes on; the caller asks problems in the end.  FAULT: no memory.  What a
 * builder stored is freed with the roof, whatever came of it.
 */
#ifndef RUDDLE_ROOF_BUILD_H
#define RUDDLE_ROOF_BUILD_H

#include "reader.h"
#include "roof.h"

/* The butt edges.  Needs roof->slope. */
enum outcome courses_build(const struct reader *reader, const struct survey_courses *survey,
                           struct roof *roof);

/* The members, sorted, and their targets.  Needs roof->width. */
enum outcome rafters_build(const struct reader *reader, const struct survey_rafters *survey,
                           struct roof *roof);

/* The vents.  Needs roof->width and roof->slope. */
enum outcome vents_build(const struct reader *reader, const struct survey_vent *survey,
                         size_t count, struct roof *roof);

/* One kit, read from its own file in its own measure, turned for the corner. */
void kit_build(const struct reader *reader, const struct survey_kit *survey, enum corner corner,
               struct kit *kit);

/* The brackets and where they are wanted.  Needs kits and edges.  `hardware` as roof_options. */
enum outcome place_build(const struct reader *reader, const struct survey *survey,
                         const enum hardware *const hardware[ROW_COUNT], struct roof *roof);

/* Refuses every key of the list that was written: none of them is handled by this version. */
void refuse_later_keys(const struct reader *reader, const char *const *keys, size_t count);

#endif
