#include "reasons.h"

#include <assert.h>

#define PRACTICE "common practice, no source"
#define DRAWING "the kit's own drawing"

static const struct {
    const char *why, *source;
} reasons[RULE_COUNT] = {
    [RULE_WOOD] = {"A lag close to a face splits the rafter, and one between two plies holds in "
                   "neither.",
                   "1.5 diameters of the lag: National Design Specification for Wood Construction "
                   "2018, Table 12.5.1C"},
    [RULE_COURSE_EDGE] = {"Hanging over the butt edge a flashing catches wind and water; too high "
                          "it leaves the course uncovered.",
                          PRACTICE},
    [RULE_COURSE_BLOCK] = {"The next shingle has to lie flat, and it cannot on top of the hub.",
                           PRACTICE},
    [RULE_LAP] = {"Water that runs in between two shingles has to land on the flashing, not behind "
                  "it.",
                  PRACTICE},
    [RULE_JOINTS] = {"Water that runs down a joint or a cutout has to land on the flashing, well "
                     "inside its sides.",
                     PRACTICE},
    [RULE_VENT_FLASHING] = {"Of two flanges that overlap only one can shed water.", PRACTICE},
    [RULE_VENT_BRACKET] = {"A vent has to breathe and to be reached, and a flue gets hot.",
                           PRACTICE "; a flue's manual goes before it"},
    [RULE_SETBACK] =
        {"People have to get past, wind pulls hardest at the edges, and a flashing has "
         "to end on the roof.",
         "what is required here, as the survey says; for how such paths are drawn IRC "
         "2018 R324.6, which is about photovoltaic arrays"},
    [RULE_ROW] = {"The leg is made to be held there and nowhere else.", DRAWING},
    [RULE_CLEARANCE] = {"The bottom fitting needs its whole gap, and a wrench has to get in.",
                        DRAWING},
    [RULE_FOOT_REACH] = {"Beyond the end of its slot a foot no longer meets its leg.", DRAWING},
    [RULE_PIPE_BAY] =
        {"A pipe hole cut into a rafter weakens it where it is needed, and the pipe "
         "has to pass the hardware.",
         "what may be bored at all: IRC 2018 R802.7 (from memory); the width kept is " PRACTICE},
    [RULE_PIPE_REACH] = {"The pipe has to get from its hole to its port.",
                         "the collector's manual"},
    [RULE_STRUT_CLEAR] = {"A strut cannot be laid over a vent, off the roof or through the next "
                          "frame.",
                          PRACTICE},
    [RULE_APART] = {"Flashings that overlap do not shed water, and between two frames a hand and a "
                    "wrench need room.",
                    PRACTICE},
    [RULE_STRUT_CLAMP] =
        {"A clamp and a lag's head need room side by side, and a clamp well beyond "
         "the last lag bends the strut.",
         DRAWING},
    [RULE_STRUT_SPAN] =
        {"With too much between two lags the strut sags, and one rafter carries what two "
         "should.",
         DRAWING},
    [RULE_STRUT_STOCK] = {"There is no longer bar to cut it from.", "the kit"},
    [RULE_ROW_LINE] = {"One chalk line is snapped for all of them, and the bar is straight.",
                       "how it is done on the roof"},
    [RULE_COMPLETE] = {"Every leg has to be held, and a strut on one lag turns.", DRAWING},
};

const char *reasons_why(enum rule rule) {
    assert((unsigned)rule < RULE_COUNT);
    return reasons[rule].why;
}

const char *reasons_source(enum rule rule) {
    assert((unsigned)rule < RULE_COUNT);
    return reasons[rule].source;
}

const char *reasons_why_strength(void) {
    return "Lags in good wood that carry more than they may are worse than none.";
}

const char *reasons_source_strength(void) {
    return "each formula with its clause in docs/strength.md";
}
