/* What `ruddle --help` and `ruddle COMMAND --help` print. */
#ifndef RUDDLE_HELP_H
#define RUDDLE_HELP_H

extern const char help_program[];
extern const char help_layout[];
extern const char help_check[];
extern const char help_compare[];
extern const char help_explain[];
extern const char help_revise[];
extern const char help_fleet[];
extern const char help_survey[];
extern const char help_practice[];

#endif
