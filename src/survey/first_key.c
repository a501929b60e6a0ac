/* What kind of file it is, from its first key alone. */
#include "bytes.h"
#include "survey.h"

#include <stdlib.h>
#include <string.h>
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

static bool read_first(const struct bytes *bytes) {
    yaml_parser_t parser;
    if (bytes_tag_line(bytes) > 0 || yaml_parser_initialize(&parser) != 1) {
        return false;
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes->data, bytes->size);
    const bool is_kit = first_is_kit(&parser);
    yaml_parser_delete(&parser);
    return is_kit;
}

bool survey_is_kit(const char *path) {
    char reason[BYTES_REASON];
    struct bytes bytes = {0};
    struct problems problems = {0};
    const bool is_kit = bytes_read(path, &bytes, reason) == OUTCOME_DONE &&
                        bytes_check(&bytes, path, &problems) == OUTCOME_DONE && read_first(&bytes);
    problems_free(&problems);
    free(bytes.data);
    return is_kit;
}
