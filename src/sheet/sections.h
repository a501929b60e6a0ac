/* The sections of a sheet, in the order in which sheet.c writes them. */
#ifndef RUDDLE_SHEET_SECTIONS_H
#define RUDDLE_SHEET_SECTIONS_H

#include "page.h"
#include "problem.h"

#include <stdbool.h>

/* The STOP box: what keeps people alive comes before any figure. */
void caution_write(struct page *page);

/* ON THE GROUND: frame against kit, strut cutting, drill bits, what to carry.
 * FAULT: no memory. */
enum outcome ground_write(struct page *page);

/* What to carry, counts and spares; a step of ON THE GROUND. */
void carry_write(struct page *page);

/* The pilot bit and the flag on it; a step of ON THE GROUND. */
void carry_write_bits(struct page *page);

/* The struts to cut and drill, and the bars to cut them from; steps of ON THE GROUND.
 * FAULT: no memory. */
enum outcome struts_write(struct page *page);

/* What the survey does not say, what it says with doubt, and what stands under the frames. */
void doubts_write(struct page *page);

/* What the lags, struts and rafters are asked and hold; nothing where loads were not given. */
void strength_write(struct page *page);

/* The lags and struts that do not carry; false where there are none. */
bool strength_write_weak(struct page *page);

/* ON THE ROOF: chalk, then drill. */
void onroof_write(struct page *page);

/* The corner check: steps of ON THE ROOF where a corner was measured. */
void corner_write(struct page *page);

/* Its later half: close, probe, drill, lift. */
void drilling_write(struct page *page);

/* The pipe holes, kept apart from the lag holes: chalk them; close them (ticks of a step); probe
 * and bore them; list them in a closest fit.  Each writes nothing on a roof without pipes. */
void pipes_write(struct page *page);
void pipes_write_closing(struct page *page);
void pipes_write_boring(struct page *page);
void pipes_write_closest(struct page *page);

/* Where the ports are on the real frame; ticks of a step. */
void pipes_write_ports(struct page *page, size_t bracket);

/* What stands in the way of a layout, in trade words (no readings). */
void closest_write_reasons(struct page *page);

/* Which frames can stand together; nothing where nobody has looked. */
void together_write(struct page *page);

/* The readings of a closest fit, as information only. */
void closest_write_table(struct page *page);

#endif
