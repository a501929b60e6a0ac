/* What kind of file it is, from its first key alone. */
#include "survey.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <yaml.h>

/* Steps through the events up to the first text, which is a key where it comes first in a group. */
static bool first_is_kit(yaml_parser_t *parser) {
    yaml_event_t event;
    bool in_group = false, is_kit = false, over = false;
    while (!over && yaml_parser_parse(parser, &event) == 1) {
        const bool start =
            event.type == YAML_STREAM_START_EVENT || event.type == YAML_DOCUMENT_START_EVENT;
        over = !start && (in_group || event.type != YAML_MAPPING_START_EVENT);
        is_kit = in_group && event.type == YAML_SCALAR_EVENT &&
                 strcmp((const char *)event.data.scalar.value, "kit") == 0;
        in_group = event.type == YAML_MAPPING_START_EVENT;
        yaml_event_delete(&event);
    }
    return is_kit;
}

static bool read_first(FILE *stream) {
    yaml_parser_t parser;
    if (yaml_parser_initialize(&parser) != 1) {
        return false;
    }
    yaml_parser_set_input_file(&parser, stream);
    const bool is_kit = first_is_kit(&parser);
    yaml_parser_delete(&parser);
    return is_kit;
}

bool survey_is_kit(const char *path) {
    struct stat status;
    /* O_NONBLOCK: opening a pipe that nobody writes to must not wait. */
    const int file = open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    const bool plain = file >= 0 && fstat(file, &status) == 0 && S_ISREG(status.st_mode);
    FILE *stream = plain ? fdopen(file, "r") : NULL;
    if (stream == NULL) {
        if (file >= 0) {
            close(file);
        }
        return false;
    }
    const bool is_kit = read_first(stream);
    fclose(stream);
    return is_kit;
}
