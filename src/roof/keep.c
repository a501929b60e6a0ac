/* A roof without some of its brackets. */
#include "build.h"
#include "roof.h"

void roof_keep(struct roof *roof, const bool *kept) {
    size_t places[ROOF_BRACKETS_MOST] = {0}, count = 0, pipes = 0;
    for (size_t b = 0; b < roof->bracket_count; b++)
        if (kept[b]) {
            places[b] = count;
            roof->brackets[count++] = roof->brackets[b];
        }
    for (size_t p = 0; p < roof->pipe_count; p++)
        if (kept[roof->pipes[p].bracket]) {
            roof->pipes[pipes] = roof->pipes[p];
            roof->pipes[pipes].bracket = places[roof->pipes[p].bracket];
            pipes++;
        }
    roof->bracket_count = count;
    roof->pipe_count = pipes;
}

enum outcome roof_warn(struct roof *roof, const char *text) {
    return doubt_add(roof, "%s", text);
}
