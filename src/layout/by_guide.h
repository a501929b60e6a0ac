/* The search by stands, wherever they say anything: where all of them are known they may have the
 * last word; where something leans, and with pipes, they lead to a layout and bound it.  Private to
 * this folder.
 */
#ifndef RUDDLE_BY_GUIDE_H
#define RUDDLE_BY_GUIDE_H

#include "by_stands.h"

/* As by_stands, for any roof and any terms; nothing is answered where stands say nothing. */
enum outcome by_guide(const struct roof *roof, const struct terms *terms,
                      struct stands_answer *answer);

#endif
