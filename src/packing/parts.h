/* Parts of brackets: their boxes, their struts and the flashings at the ends of these.  Private to
 * this folder. */
#ifndef RUDDLE_PARTS_H
#define RUDDLE_PARTS_H

#include "node.h"

/* One end of a part: of a high one the larger of both, of a low one the lesser. */
struct end {
    double fixed, rel;
};

/* Two brackets in spots, at places. */
struct seats {
    const struct spot *spot[2];
    double at[2][AXIS_COUNT];
};

/* One of them. */
struct seat {
    const struct spot *spot;
    double at[AXIS_COUNT];
};
struct seats seats_of(const struct seat *seats, size_t a, size_t b);

const struct parcel *parts_parcel(const struct packing_task *task, size_t b);
const struct arm *parts_arm(const struct parcel *parcel, const struct spot *spot, int row);

/* An end of one of a crossing's two parts in a spot; of what is in nobody's way one that reaches
 * nowhere. */
struct end parts_end(const struct packing_task *task, const struct crossing *crossing, int which,
                     const struct spot *spot, int axis, bool high, enum drawing drawing);
/* Where a row's line may lie with its bracket between two Y: on so many strips, or on parts of
 * them. */
enum { LINE_STRIPS_MOST = 8 };
size_t parts_line_strips(const struct parcel *parcel, const struct arm *arm, struct interval up,
                         struct interval strips[LINE_STRIPS_MOST]);
/* The first strip that goes as far up as y. */
size_t parts_first_strip(const struct strips *strips, double y);
/* The same, whatever it is on; and with the bracket at y. */
struct interval parts_lines_within(const struct arm *arm, struct interval up);
struct interval parts_lines(const struct arm *arm, double y);
/* Whether it is known where rows' lines may lie for nothing more lacked. */
bool parts_free(const struct spot *spot);
/* Up the slope, from the line of a part that is no box to that end. */
double parts_off(const struct packing_task *task, const struct crossing *crossing, int which,
                 bool high);
/* How far apart the rule between such parts wants them; -INFINITY: there is none. */
double parts_gap(const struct packing_task *task, const struct crossing *crossing);
/* What an inch that they lack of being apart counts. */
double parts_weight(const struct crossing *crossing);
/* What an inch by which an end gives way lacks at the least, a high one downwards: of a foot's lag
 * along the eave, of a row's line up the slope; INFINITY where nothing gives way. */
double parts_worth(const struct packing_task *task, const struct crossing *crossing, int which,
                   const struct spot *spot, int axis, bool high);
/* The least that ends of a bracket's spots come to: of a high end downwards, of a low one upwards.
 */
struct end parts_mildest(const struct packing *packing, const struct crossing *crossing, int which,
                         int axis, bool high, enum drawing drawing);
/* The least worth of an end in any of them. */
double parts_least_worth(const struct packing *packing, const struct crossing *crossing, int which,
                         int axis, bool high);
/* Which of a crossing's two comes first in a way. */
int parts_first(enum way way);

/* The seats of all brackets in their spots. */
void parts_sit(const struct packing *packing, const struct places *places,
               struct seat seats[ROOF_BRACKETS_MOST]);
/* The seats of two brackets in their spots; and with the first of them in that one. */
struct seats parts_seats(const struct packing *packing, const struct places *places, size_t a,
                         size_t b);
struct seats parts_seats_in(const struct packing *packing, const struct places *places, size_t a,
                            const struct spot *one, size_t b);
/* How far one part reaches into the other in a way; and how much closer they are than the rule lets
 * them be. */
double parts_depth(const struct packing_task *task, const struct crossing *crossing,
                   const struct seats *seats, enum way way);
double parts_excess(const struct packing_task *task, const struct crossing *crossing,
                    const struct seats *seats, enum way way);

/* What they lack in a way once they are as far apart as the level asks, the least where several ask
 * the same end to give way; INFINITY: they cannot be. */
double parts_lack(const struct packing_task *task, const struct crossing *crossing,
                  const struct seats *seats, enum way way);

/* settle.c: the least that all parts lack together, with what the rows' lines lack more because of
 * that, and where the lines then lie, NAN where that does not matter; INFINITY where that was not
 * found. */
double packing_settle_lines(const struct packing_task *task, const struct seat *seats,
                            double lines[ROOF_BRACKETS_MOST][ROW_COUNT]);

/* agree.c: whether rows' lines can lie so that no part is in the way of another, where each is only
 * known to be clear of every other one with its line wherever that is best; and where they then
 * lie, NAN where that does not matter.  False where that was not found in time, or without memory.
 */
bool packing_lines_agree(const struct packing_task *task, const struct seat *seats,
                         double lines[ROOF_BRACKETS_MOST][ROW_COUNT]);

/* Whether those brackets can stand up the slope, each in its spot at its X, so that there are lines
 * that agree. */
bool packing_some_agree(const struct packing *packing, const struct seat *seats, const size_t *who,
                        size_t count);

/* How far parts of a bracket in a spot end beyond its sides, or may, and as much more as its level
 * keeps others away; at least 0. */
double parts_beyond(const struct parcel *parcel, const struct spot *spot);

/* Two boxes, before the first of the crossings of two brackets; false where there is none: arms are
 * not looked at, or they are further apart than these reach. */
bool parts_begin(const struct packing_task *task, const struct seats *seats, size_t a, size_t b,
                 struct crossing *crossing);
/* The next one between whose parts there is a rule; false: that was the last one. */
bool parts_next(const struct packing_task *task, const struct seats *seats,
                struct crossing *crossing);

#endif
