/* Lag screws in the narrow face of a rafter: pull, shear, both at once, distances, pilot holes.
 *
 * Source, unless a line says otherwise: National Design Specification for Wood Construction (NDS),
 * 2018 edition, Chapter 12 and Appendices I and L; allowable stress design.  Forces in lb, lengths
 * in inches, stresses in psi.  Dry wood, ordinary heat (C_M = C_t = 1), side grain.  This screens,
 * it never certifies.
 */
#ifndef RUDDLE_LAG_H
#define RUDDLE_LAG_H

#include <stdbool.h>

/* A hex lag screw as the standard lists it.  Tables L2 and I1. */
struct lag_screw {
    double diameter_in; /* D, of the shank */
    double root_in;     /* D_r, of the thread's root: D of the yield equations (12.3.7.1) */
    double tip_in;      /* E, the tapered tip, which holds nothing */
    double yield_psi;   /* F_yb, bending yield of the steel */
};

/* Finds the listed screw of that diameter: 1/4, 5/16, 3/8, 1/2.  false: none; *screw untouched. */
bool lag_find(double diameter_in, struct lag_screw *screw);

/* Least length of thread, tip included: min(6, L/2 + 1/2), never more than L.  Table L2. */
double lag_thread_in(double length_in);

/* How a lag sits in its rafter. */
struct lag_seat {
    double embedment_in; /* from the rafter's top to the point of the screw */
    double thread_in;    /* p_t: thread in the wood, tip left out (12.2.1.2) */
    double bearing_in;   /* l_m: embedment less half the tip (12.3.5.3), within the rafter */
};

enum lag_fault {
    LAG_GOOD,
    LAG_UNLISTED,   /* no listed screw has that diameter */
    LAG_NO_WOOD,    /* it never reaches the rafter, or only with its tip */
    LAG_SHALLOW,    /* less than 4 diameters in the rafter, tip left out (12.1.4.6) */
    LAG_TOO_DEEP,   /* more thread than the rafter is deep */
    LAG_NO_GRAVITY, /* specific gravity outside 0.31 ... 0.73, where the formula holds */
    LAG_FAULT_COUNT
};

/* What is wrong, for people; never NULL. */
const char *lag_fault_text(enum lag_fault fault);

/* Seats a lag: length_in of screw, above_in of it taken by metal, roofing and sheathing.  depth_in
 * of the rafter; 0: not known, no limit.  *seat is written only if LAG_GOOD. */
enum lag_fault lag_seat_find(const struct lag_screw *screw, double length_in, double above_in,
                             double depth_in, struct lag_seat *seat);

/* Withdrawal from side grain, W = 1800 G^1.5 D^0.75, lb for each inch of p_t, C_D = 1.
 * Eq. 12.2-1; holds for 0.31 <= G <= 0.73. */
double lag_withdrawal_lb_per_in(double gravity, double diameter_in);
bool lag_gravity_holds(double gravity);

/* Dowel bearing strength of wood for D >= 1/4, rounded to 50 psi: along the grain 11200 G, across
 * 6100 G^1.45 / sqrt(D).  Table 12.3.3, note.  At an angle to the grain, Eq. 12.3-11. */
double lag_bearing_along_psi(double gravity);
double lag_bearing_across_psi(double gravity, double diameter_in);
double lag_bearing_angle_psi(double along_psi, double across_psi, double angle_deg);

/* Steel that a side member may be of; NDS Table 12K, note 2. */
#define LAG_STEEL_SHEET_PSI 61850.0 /* A653 grade 33 sheet */
#define LAG_STEEL_PLATE_PSI 87000.0 /* A36, 1/4 in and more */

/* A joint in single shear. */
struct lag_joint {
    double root_in, yield_psi; /* of the screw: D_r, which is D of these equations, and F_yb */
    double main_psi, main_in;  /* bearing strength and l_m of the rafter */
    double side_psi, side_in;  /* of the metal under the head */
    double angle_deg;          /* between load and grain, the largest of both members: 0 ... 90 */
    double gap_in;             /* of nothing between the two members' faces */
};

/* The six ways that such a joint yields: the rafter crushes (I_m), the side member crushes (I_s),
 * the screw turns in both without bending (II), it bends in the side member and crushes the rafter
 * (III_m), it bends in the rafter and crushes the side member (III_s), it bends in both (IV). */
enum lag_mode {
    LAG_MODE_IM,
    LAG_MODE_IS,
    LAG_MODE_II,
    LAG_MODE_IIIM,
    LAG_MODE_IIIS,
    LAG_MODE_IV,
    LAG_MODE_COUNT
};
const char *lag_mode_word(enum lag_mode mode);

struct lag_yield {
    double mode_lb[LAG_MODE_COUNT]; /* Z of each, already over R_d, C_D = 1 */
    enum lag_mode governs;
    double least_lb; /* of that mode: the reference lateral value Z */
};

/* Yield of a joint by the general dowel equations with a gap (AWC Technical Report 12, from
 * memory): P = (sqrt(B^2 - 4AC) - B) / 2A, the same as NDS Table 12.3.1A at no gap; over the
 * reduction term R_d of Table 12.3.1B. */
struct lag_yield lag_yield(const struct lag_joint *joint);

/* R_d.  D_r >= 1/4: 4, 3.6, 3.2 (modes I, II, III and IV) times K_theta = 1 + angle/360; below it
 * K_D K_theta with K_D = 10 D_r + 0.5 (2.2 at most 0.17 in).  Table 12.3.1B and its note 1. */
double lag_reduction(enum lag_mode mode, double root_in, double angle_deg);

/* Pull and shear at once: Z'_alpha = (W'p) Z' / ((W'p) cos^2 alpha + Z' sin^2 alpha), alpha from
 * the wood's surface.  Eq. 12.4-1.  A lag that is pressed (pull below 0) holds by shear alone.
 *
 * Not monotone in the pull: while W'p > 2 Z', a little pull beside a given shear *lowers* the
 * ratio, as the resultant turns toward the stronger direction.  So no combination of loads may be
 * left out because another has more pull. */
struct lag_combined {
    double angle_deg;   /* alpha */
    double demand_lb;   /* the resultant */
    double capacity_lb; /* Z'_alpha */
    double ratio;       /* shear cos(alpha) / Z' + pull sin(alpha) / W'p */
};
struct lag_combined lag_combined(double pull_lb, double shear_lb, double withdrawal_lb,
                                 double lateral_lb);

/* Distances for D >= 1/4, softwood.  NDS 12.5.1. */
enum lag_load {
    LAG_LOAD_PULL,        /* withdrawal only: Table 12.5.1E */
    LAG_LOAD_TENSION,     /* along the grain toward the member's end */
    LAG_LOAD_COMPRESSION, /* along the grain away from it */
    LAG_LOAD_ACROSS,      /* across the grain */
};
struct lag_distances {
    double edge_in;                   /* least; across the grain: the unloaded edge */
    double loaded_edge_in;            /* across the grain; otherwise the same as edge_in */
    double end_full_in, end_least_in; /* full value, and the least that counts at all */
    double row_full_in, row_least_in; /* spacing along the grain, in a row */
};
/* bearing_in: l_m, which decides whether a row's neighbours widen the edge (l/D > 6);
 * row_spacing_in: between rows, 0 with one row. */
struct lag_distances lag_distances(enum lag_load load, double diameter_in, double bearing_in,
                                   double row_spacing_in);

/* C_delta = actual / full, at most 1; 0 below the least.  12.5.1.2. */
double lag_geometry_factor(double actual_in, double full_in, double least_in);

/* Lead hole for the thread, in inches: 65-85, 60-75 or 40-70 % of D for G > 0.6, 0.5 < G <= 0.6,
 * G <= 0.5 (12.1.4.2; the classes' limits from memory).  The shank's part is bored at D.  None is
 * required where D <= 3/8, G <= 0.5 and the load is mainly withdrawal (12.1.4.3). */
struct lag_pilot {
    double from_in, to_in;
};
struct lag_pilot lag_pilot(double gravity, double diameter_in);

#endif
