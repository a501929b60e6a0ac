/* Setting: one piece of the sheet in type. */
#ifndef RUDDLE_PRINTED_SETTING_H
#define RUDDLE_PRINTED_SETTING_H

#include "press.h"

void setting_take(struct press *press, const struct piece *piece);

#endif
