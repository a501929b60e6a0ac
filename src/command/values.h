/* The values of options: which are wanted, and what each sets. */
#ifndef RUDDLE_VALUES_H
#define RUDDLE_VALUES_H

#include "options.h"

#include <stdbool.h>

/* What is wanted behind an option, with an example; "no value" of one that takes none. */
const char *value_wanted(enum option_code code);

/* Sets what an option says; false where its value is none.  `value` is NULL of one that takes
 * none; texts are kept, not copied. */
bool value_take(enum option_code code, const char *value, struct command_line *line);

#endif
