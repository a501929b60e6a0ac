/* Bores through the roof near a port of a bracket. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define KEEP_RAFTER 0.75 /* inches */

enum { PIPES_MOST = ROOF_PIPES_MOST * ROOF_BRACKETS_MOST };

/* The bracket of that name; the first one, with a fault told, where there is none. */
static size_t find_bracket(const struct reader *reader, const char *name, const struct roof *roof) {
    for (size_t i = 0; i < roof->bracket_count && name != NULL; i++)
        if (strcmp(roof->brackets[i].name, name) == 0)
            return i;
    reader_refuse(reader, "bracket", name, "the name of a bracket under place, such as %s",
                  roof->bracket_count > 0 && roof->brackets[0].name[0] != '\0'
                      ? roof->brackets[0].name
                      : "A");
    return 0;
}

static void read_pipe(const struct reader *reader, const struct survey_pipe *survey,
                      const struct roof *roof, struct pipe *pipe) {
    struct reader flashing = reader_group(reader, "flashing");
    double port[2];
    reader_text(reader, "name", survey->name, pipe->name, sizeof pipe->name);
    pipe->bracket = find_bracket(reader, survey->bracket, roof);
    reader_tuple(reader, "port", &survey->port, SIGN_ANY, 2, port);
    pipe->port_x = port[0];
    pipe->port_y = port[1];
    if (roof->corner == CORNER_RIGHT && roof->bracket_count > 0)
        pipe->port_x = roof_kit(roof, pipe->bracket)->width - port[0];
    pipe->reach = reader_length(reader, "reach", survey->reach, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    pipe->bore = reader_length(reader, "bore", survey->bore, SIGN_ABOVE_ZERO, READER_REQUIRED);
    pipe->keep_rafter =
        reader_length(reader, "keep_rafter", survey->keep_rafter, SIGN_NOT_NEGATIVE, KEEP_RAFTER);
    if (survey->flashing == NULL)
        reader_refuse(&flashing, "", "",
                      "the flashing that the pipe comes through (the key is missing)");
    else
        flashing_build(reader, survey->flashing, &pipe->flashing);
    if (survey->flashing != NULL && survey->flashing->allowable != NULL)
        reader_refuse(&flashing, "allowable", "",
                      "a flashing without this key: it is for the lags of a kit");
    if (survey->flashing != NULL && pipe->bore >= pipe->flashing.width)
        reader_refuse(reader, "bore", survey->bore, "a bore inside its flashing, which is %s wide",
                      reader_shown(reader, pipe->flashing.width).text);
}

/* Names are told apart within one bracket: a hole is called BRACKET-pipe-NAME. */
static void refuse_doubled_name(const struct reader *reader, const struct pipe *pipes,
                                size_t index) {
    for (size_t j = 0; j < index && pipes[index].name[0] != '\0'; j++)
        if (pipes[j].bracket == pipes[index].bracket &&
            strcmp(pipes[j].name, pipes[index].name) == 0) {
            reader_refuse(reader, "name", pipes[index].name,
                          "a name of its own, such as cold (pipes[%zu] has this one)", j + 1);
            return;
        }
}

static void refuse_crowd(const struct reader *reader, const struct roof *roof, size_t index) {
    size_t own = 0;
    for (size_t j = 0; j <= index; j++)
        own += roof->pipes[j].bracket == roof->pipes[index].bracket;
    if (own == ROOF_PIPES_MOST + 1)
        reader_refuse(reader, "bracket", roof->brackets[roof->pipes[index].bracket].name,
                      "at most %d pipes for one bracket", ROOF_PIPES_MOST);
}

enum outcome pipes_build(const struct reader *reader, const struct survey_pipe *survey,
                         size_t count, struct roof *roof) {
    if (count > PIPES_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu pipes", count);
        reader_refuse(reader, "pipes", found, "at most %d pipes", PIPES_MOST);
        return OUTCOME_DONE;
    }
    roof->pipes = calloc(count + 1, sizeof *roof->pipes);
    if (roof->pipes == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < count; i++) {
        struct reader inside = reader_entry(reader, "pipes", i);
        read_pipe(&inside, &survey[i], roof, &roof->pipes[i]);
        if (roof->bracket_count == 0)
            continue; /* refused already */
        refuse_doubled_name(&inside, roof->pipes, i);
        refuse_crowd(&inside, roof, i);
    }
    roof->pipe_count = count;
    return OUTCOME_DONE;
}
