/* Joints and cutouts between the shingles of a course: a pattern that repeats, or one by one. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>

#define KEEP_JOINT 2.0 /* inches; common practice, no source */
#define TAB_LEAST 4.0  /* inches; there is no tab as narrow as that */

static void read_cutouts(const struct reader *reader, const struct survey_joints *survey,
                         struct cutouts *cutouts) {
    if (!reader_has(reader, "tab")) {
        if (survey->stagger != NULL)
            reader_refuse(reader, "stagger", survey->stagger, "a tab beside it, such as 12");
        if (survey->first_cutout != NULL)
            reader_refuse(reader, "first_cutout", survey->first_cutout,
                          "a tab beside it, such as 12");
        return;
    }
    cutouts->tab = reader_length(reader, "tab", survey->tab, SIGN_ABOVE_ZERO, READER_REQUIRED);
    if (cutouts->tab < TAB_LEAST - LENGTH_TOLERANCE)
        reader_refuse(reader, "tab", survey->tab, "a tab at least %s wide, such as 12",
                      reader_shown(reader, TAB_LEAST).text);
    const double usual = cutouts->tab > 0 ? cutouts->tab / 2 : 0;
    cutouts->stagger = reader_length(reader, "stagger", survey->stagger, SIGN_NOT_NEGATIVE, usual);
    if (cutouts->stagger > cutouts->tab + LENGTH_TOLERANCE)
        reader_refuse(reader, "stagger", survey->stagger, "at most one tab, which is %s",
                      reader_shown(reader, cutouts->tab).text);
    cutouts->first = reader_length(reader, "first_cutout", survey->first_cutout, SIGN_NOT_NEGATIVE,
                                   READER_REQUIRED);
}

static void read_joint(const struct reader *reader, const struct survey_joint *survey,
                       const struct roof *roof, struct joint *joint) {
    const struct span face = plane_span(roof);
    const size_t courses = roof->course_count > 0 ? roof->course_count : ROOF_COURSES_MOST;
    joint->course =
        reader_count(reader, "course", survey->course != NULL ? survey->course : "", courses, 1);
    joint->x = reader_length(reader, "at", survey->at, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    if (joint->x > face.most + LENGTH_TOLERANCE)
        reader_refuse(reader, "at", survey->at, "a place on the face, which ends at %s",
                      reader_shown(reader, face.most).text);
}

static enum outcome read_list(const struct reader *reader, const struct survey_joints *survey,
                              struct roof *roof) {
    const size_t count = survey->list_count;
    if (count > ROOF_JOINTS_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu joints", count);
        reader_refuse(reader, "list", found, "at most %d joints", ROOF_JOINTS_MOST);
        return OUTCOME_DONE;
    }
    roof->joints = calloc(count + 1, sizeof *roof->joints);
    if (roof->joints == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < count; i++) {
        const struct reader inside = reader_entry(reader, "list", i);
        read_joint(&inside, &survey->list[i], roof, &roof->joints[i]);
    }
    roof->joint_count = count;
    return OUTCOME_DONE;
}

enum outcome joints_build(const struct reader *reader, const struct survey_joints *survey,
                          struct roof *roof) {
    static const struct survey_joints none;
    struct reader inside = reader_group(reader, "joints");
    if (survey == NULL)
        survey = &none;
    else if (!reader_has(&inside, "tab") && survey->list_count == 0)
        reader_refuse(&inside, "", "", "a tab with its first_cutout, or a list of joints");
    roof->keep_joint = reader_length(&inside, "keep", survey->keep, SIGN_NOT_NEGATIVE, KEEP_JOINT);
    read_cutouts(&inside, survey, &roof->cutouts);
    return read_list(&inside, survey, roof);
}
