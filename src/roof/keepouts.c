/* Stretches of a rafter where no lag may go. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>

enum { KEEPOUTS_MOST = 400 };

static void read_keepout(const struct reader *reader, const struct survey_keepout *survey,
                         size_t rafters, const struct roof *roof, struct keepout *keepout) {
    keepout->rafter =
        reader_count(reader, "rafter", survey->rafter != NULL ? survey->rafter : "", rafters, 1) -
        1;
    keepout->y0 = reader_length(reader, "from", survey->from, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    keepout->y1 = reader_length(reader, "to", survey->to, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    if (keepout->y1 <= keepout->y0 + LENGTH_TOLERANCE)
        reader_refuse(reader, "to", survey->to, "a height above from, which is %s",
                      reader_shown(reader, keepout->y0).text);
    else if (keepout->y1 > roof->slope + LENGTH_TOLERANCE)
        reader_refuse(reader, "to", survey->to, "a height on the face, whose ridge is at %s",
                      reader_shown(reader, roof->slope).text);
    if (survey->why != NULL)
        reader_text(reader, "why", survey->why, keepout->why, sizeof keepout->why);
}

enum outcome keepouts_build(const struct reader *reader, const struct survey_roof *survey,
                            struct roof *roof) {
    size_t count = survey->keepouts_count;
    if (count > KEEPOUTS_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu keepouts", count);
        reader_refuse(reader, "keepouts", found, "at most %d keepouts", KEEPOUTS_MOST);
        return OUTCOME_DONE;
    }
    roof->keepouts = calloc(count + 1, sizeof *roof->keepouts);
    if (roof->keepouts == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < count; i++) {
        struct reader inside = reader_entry(reader, "keepouts", i);
        size_t rafters = survey->rafters != NULL ? survey->rafters->list_count : 0;
        read_keepout(&inside, &survey->keepouts[i], rafters, roof, &roof->keepouts[i]);
    }
    roof->keepout_count = count;
    return OUTCOME_DONE;
}
