/* Strength: whether the lags, struts and rafters under the frames carry what hangs on them.
 *
 * It screens, it never certifies: wherever one of its figures is shown, that is said beside it.
 * Formulas and sources are in lag.h, beam.h, loads.h, wind.h, lumber.h and docs/strength.md.
 */
#ifndef RUDDLE_STRENGTH_H
#define RUDDLE_STRENGTH_H

#include "lag.h"
#include "loads.h"
#include "lumber.h"
#include "problem.h"
#include "roof.h"
#include "wind.h"

#include <stdbool.h>
#include <stddef.h>

struct marks;
struct verdict;

/* Metric files: what one of theirs is in ours. */
#define STRENGTH_PSF_PER_KPA 20.885434233150127 /* 1000 Pa x 0.3048^2 m2 / 4.4482216152605 N */
#define STRENGTH_PSI_PER_MPA 145.03773773020923 /* 1e6 Pa x 0.0254^2 m2 / 4.4482216152605 N */
#define STRENGTH_MPH_PER_MPS 2.2369362920544023 /* 1 / 0.44704 */
#define STRENGTH_FT_PER_M (1 / 0.3048)          /* exact */
#define STRENGTH_N_PER_LB 4.4482216152605       /* exact */

/* What a kit says for strength alone; one for each of roof.kits, in their order. */
struct kit_loads {
    double centre_dry_in[3];     /* weight.centre_dry, turned like kit.centre; default kit.centre */
    double strut_section_in3;    /* strut.section; 0: not given, struts are not judged */
    double strut_stress_psi;     /* strut.stress; likewise */
    double side_in;              /* lag.side.thickness, above 0; default kit.lag_through */
    double side_psi;             /* lag.side.bearing; default LAG_STEEL_SHEET_PSI */
    double foot_toe_in;          /* foot.toe, above 0; default 1 */
    double foot_lag_factor;      /* foot.lag_factor; 0: not given */
    double allowable_lateral_lb; /* flashing.allowable of a test report, used as it stands; 0: not
                                    given */
    double allowable_uplift_lb;  /* likewise */
};

enum wind_given { WIND_GIVEN_NONE, WIND_GIVEN_UPLIFT, WIND_GIVEN_SPEED };

/* The rafters of the roof, all alike. */
struct loads_rafter {
    enum lumber_size size;
    enum species species;
    double bearing_in; /* up the slope from the eave to the lower support */
    double span_in;    /* horizontal */
    double dead_psf;   /* of horizontal projection */
};

/* The `loads` of a roof file: every default filled in. */
struct loads {
    double snow_psf; /* of horizontal projection, balanced, on the roof */
    enum wind_given wind;
    double uplift_psf; /* off the roof, strength level; from speed and coefficient if so given */
    double speed_mph, height_ft, coefficient; /* as given with a speed; otherwise 0 */
    enum exposure exposure;
    bool has_rafter; /* false: the wood is reckoned at LUMBER_UNKNOWN_GRAVITY, rafters not judged */
    struct loads_rafter rafter;
    double sheathing_in, roofing_in;
    bool gap;                     /* they count as nothing between metal and rafter */
    const struct kit_loads *kits; /* kit_count of them; borrowed */
    size_t kit_count;
};

/* A kit's lag in this roof's rafters, C_D = 1. */
struct strength_lag {
    struct lag_screw screw;
    struct lag_seat seat;
    struct lag_yield yield;
    double gravity;
    double withdrawal_lb; /* W p_t */
    double lateral_lb;    /* Z, along the grain */
};

/* LAG_GOOD, or why the kit's lag cannot be reckoned with (a roof file that asks for strength is
 * then refused); *lag is written only if LAG_GOOD. */
enum lag_fault strength_lag_find(const struct kit *kit, const struct kit_loads *kit_loads,
                                 const struct loads *loads, struct strength_lag *lag);

enum strength_kind { STRENGTH_LAG, STRENGTH_STRUT, STRENGTH_RAFTER, STRENGTH_KIND_COUNT };
const char *strength_kind_word(enum strength_kind kind);

enum { STRENGTH_NONE = -1 };

/* One part under its worst combination. */
struct strength_item {
    enum strength_kind kind;
    int bracket; /* rafters: the first frame that bears on it or stands over it */
    int row;     /* enum row; rafters: STRENGTH_NONE */
    int mark;    /* lags: index into marks.list; otherwise STRENGTH_NONE */
    int rafter;  /* index into roof.rafters; struts: STRENGTH_NONE */
    enum combination combination;
    double demand, capacity;  /* lags: lb, of pull and shear together; others: bending, psi */
    double ratio;             /* demand / capacity; over 1 it does not carry */
    double before;            /* rafters: the worst ratio without any frame; otherwise 0 */
    double pull_lb, shear_lb; /* lags: what the demand is made of */
    const char *clause;       /* static text */
};

struct strength {
    struct strength_item *items; /* lags in the order of marks, then struts, then rafters */
    size_t count;
    double worst;        /* ratio over lags and struts; 0 without any */
    double worst_rafter; /* likewise over rafters */
    bool carries;        /* no lag or strut over 1 */
    bool struts_judged;  /* false: a strut has no section or stress to judge by */
    bool rafters_judged; /* false: the file says nothing of its rafters, or they are trusses, whose
                            chords only their maker can judge */
    bool complete;       /* false: a row that breaks hard rules (no lag, too few) was left out */
};

/* Judges marks under every combination.  verdict is check_marks' on the same marks: the plies, legs
 * and clamps that it inferred are used.  BAD_INPUT: a kit's lag cannot be reckoned with
 * (strength_lag_find says why) or has no weight.  FAULT: no memory.  *strength is untouched unless
 * DONE; owned by the caller. */
enum outcome strength_judge(const struct roof *roof, const struct marks *marks,
                            const struct verdict *verdict, const struct loads *loads,
                            struct strength **strength);

void strength_free(struct strength *strength); /* accepts NULL */

#endif
