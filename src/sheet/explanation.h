/* What the parts of an explanation share. */
#ifndef RUDDLE_SHEET_EXPLANATION_H
#define RUDDLE_SHEET_EXPLANATION_H

#include "explain.h"
#include "page.h"

/* For each rule the least finding about the scope alone; NULL where it has none. */
struct scope_findings {
    const struct finding *least[RULE_COUNT];
};
void scope_find(const struct verdict *verdict, const struct scope *scope,
                struct scope_findings *findings);

/* The other one of a pair that a finding is about, seen from the scope: "vent soil stack", "lag
 * hole A-top-2"; false where there is none. */
enum { EXPLANATION_OTHER = 200 };
bool scope_other(const struct roof *roof, const struct marks *marks, const struct scope *scope,
                 const struct finding *finding, char other[EXPLANATION_OTHER]);

/* What stands in the way of a roof that does not work, and what would free it. */
void freeing_write(struct page *page, const struct explanation *explanation);

/* One change in a sentence of the trade: "find the rafters 7/32\" closer". */
enum { FREEING_TEXT = 300 };
void freeing_tell(const struct roof *roof, const struct change *change, char text[FREEING_TEXT]);

#endif
