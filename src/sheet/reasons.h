/* Why each rule is there and where it comes from, for people: the one table, beside words.h. */
#ifndef RUDDLE_SHEET_REASONS_H
#define RUDDLE_SHEET_REASONS_H

#include "check.h"

/* One plain sentence: "Water runs down between two shingles: ...". */
const char *reasons_why(enum rule rule);

/* Where the figure or the habit comes from, without a full stop. */
const char *reasons_source(enum rule rule);

/* The same of strength. */
const char *reasons_why_strength(void);
const char *reasons_source_strength(void);

#endif
