/* The roof: a survey made sane.  Every length in inches, every default filled in, every rule on
 * what a sane survey is already held; what could not be sane was refused with its line.
 *
 * Axes.  x runs from the reference corner along the eave, y up the roof on its surface, square to
 * the eave.  NEAR is the corner's rake, FAR the other.  Kits count x from the bracket's left side
 * whatever the corner; here they are already turned, so that x always grows away from the corner.
 */
#ifndef RUDDLE_ROOF_H
#define RUDDLE_ROOF_H

#include "length.h"
#include "lumber.h"
#include "problem.h"
#include "survey.h"
#include "wind.h"

#include <stdbool.h>
#include <stddef.h>

/* Limits on a roof; beyond them a survey is refused. */
enum {
    ROOF_RAFTERS_MOST = 200,
    ROOF_PLIES_MOST = 6, /* of one member */
    ROOF_COURSES_MOST = 1000,
    ROOF_VENTS_MOST = 100,
    ROOF_BRACKETS_MOST = 64,
    ROOF_LEGS_MOST = 12,
    ROOF_PIPES_MOST = 8, /* of one bracket */
    ROOF_STOCK_MOST = 16,
    ROOF_JOINTS_MOST = 1000, /* measured one by one */
    ROOF_NAME_MOST = 64,     /* bytes of a name, without its NUL; longer ones are refused */
};

enum side { SIDE_NEAR, SIDE_FAR, SIDE_COUNT };
enum corner { CORNER_LEFT, CORNER_RIGHT };
/* Lines of a bracket; a pipe's hole stands outside them. */
enum row { ROW_TOP, ROW_BOTTOM, ROW_COUNT, ROW_PIPE = ROW_COUNT };
enum hardware { HARDWARE_STRUT, HARDWARE_FEET };
enum found { FOUND_PROBED, FOUND_ATTIC, FOUND_SOUNDED };

/* The words of the file format: "near", "top", "strut" ...; never NULL. */
const char *roof_side_word(enum side side);
const char *roof_row_word(enum row row);
const char *roof_hardware_word(enum hardware hardware);

enum edge_kind { EDGE_EAVE, EDGE_RIDGE, EDGE_NEAR, EDGE_FAR, EDGE_KIND_COUNT };

/* One straight edge of the face.  The inside is where nx*x + ny*y - offset >= 0; (nx, ny) has
 * length 1, so that the left side is the distance to the edge. */
struct edge {
    enum edge_kind kind;
    double nx, ny, offset;
    double setback; /* brackets stay this far inside */
};

/* Where the shingles of a course leave a line open beside each other: a cutout between two tabs, or
 * a joint between two shingles.  Flashings keep off those of the course above their own. */
struct joint {
    size_t course; /* from 1: it lies between butt edges `course` and `course` + 1 */
    double x;
};
struct cutouts {
    double tab;     /* from one cutout to the next along a course; 0: none are known */
    double stagger; /* how much further from the corner they lie from course to course */
    double first;   /* x of one of them in the first course */
};

/* One target for a lag: a sound ply, or a whole bonded member. */
struct ply {
    size_t rafter;    /* index into rafters */
    double at;        /* x of its middle at the eave, y = 0 */
    double lean;      /* x gained for each inch up the roof: its middle is at + lean * y */
    double half;      /* half its thickness along x (of the member if bonded) */
    double tolerance; /* how far off its middle may be */
    double reach[2];  /* y between which a lag may lie: inside a short sister, uphill of the wall
                         line; -ROOF_ENDLESS and ROOF_ENDLESS where nothing limits it */
};
#define ROOF_ENDLESS 1e9 /* inches */

/* A stretch of a rafter where no lag may go: a splice, a notch, a knot, a wire. */
struct keepout {
    size_t rafter; /* index into rafters */
    double y0, y1;
    char why[ROOF_NAME_MOST + 1];
};

/* One member, from the corner outwards (sorted by x, so the index + 1 is what people count). */
struct rafter {
    double at;         /* x of the middle of the original ply at the eave */
    double lean;       /* as ply.lean */
    double from, to;   /* x of its outer faces at the eave, all plies together */
    bool sound;        /* never lag into it otherwise */
    bool awaits_probe; /* taken for unsound only because holes left its place open: see revise.h */
    double tolerance;  /* as ply.tolerance */
    size_t plies;      /* how many lie side by side */
    size_t first_ply;  /* its targets are plies[first_ply ... first_ply + ply_count - 1], by x */
    size_t ply_count;  /* 0 if not sound; 1 if single or bonded */
};

/* A hole already drilled that has to stay a lag of its row. */
struct given {
    size_t bracket; /* index into brackets */
    enum row row;
    size_t ply;  /* index into plies */
    double x, y; /* of the hole: on the tape or not */
};

/* A rectangle, sides along the axes. */
struct box {
    double x0, y0, x1, y1;
};

enum vent_kind {
    VENT_PLUMBING,
    VENT_FLUE,
    VENT_EXHAUST,
    VENT_ATTIC,
    VENT_SKYLIGHT,
    VENT_BLANK,
    VENT_KIND_COUNT
};
const char *roof_vent_word(enum vent_kind kind);

struct vent {
    char name[ROOF_NAME_MOST + 1];
    enum vent_kind kind;
    struct box flange;    /* as it lies under the shingles */
    double tall;          /* above the roof */
    double keep_flashing; /* least gap to a flashing or strut */
    double keep_bracket;  /* least gap to a bracket */
};

struct flashing {
    double width, height; /* along the eave, up the slope */
    double hole_up;       /* from its lower edge to its hole */
    double block;         /* half the height of the raised part round the hole */
    double edge[2];       /* its lower edge sits this far above its course's edge */
    double clear, lap;
};

/* The hardware.  x in a kit counts from the bracket's side that is nearer the corner. */
struct kit {
    char name[ROOF_NAME_MOST + 1];
    double width, height;
    double legs[ROOF_LEGS_MOST]; /* rising */
    size_t leg_count;
    double window[ROW_COUNT][2];  /* where up its legs a row may meet it */
    double gap[2], depth, wrench; /* of the bottom bracket */
    double standoff;
    double foot_reach, foot_slot, foot_half;
    double strut_half, grip, lag_clear, strut_end, overhang, span;
    bool every_rafter;
    double stock[ROOF_STOCK_MOST]; /* rising */
    size_t stock_count;
    struct flashing flashing;
    double lag_diameter, lag_length, lag_through, lag_edge;
    bool has_weight;
    double dry_lb, filled_lb; /* filled_lb = dry + fill_gallons (US) of water */
    double fill_gallons;
    double centre[3]; /* centre of gravity filled: x, y, height off the roof */
    bool has_prices;
    double price_foot, price_clamp, price_lag, price_flashing; /* each, in any currency */
    double price_strut_in;                                     /* an inch of strut */
};

struct bracket {
    char name[ROOF_NAME_MOST + 1];
    size_t kit; /* index into kits */
    double want_x, want_y;
    enum hardware hardware[ROW_COUNT];
};

/* A bore through the roof that must miss the rafters, near a port of its bracket. */
struct pipe {
    char name[ROOF_NAME_MOST + 1];
    size_t bracket;
    double port_x, port_y; /* from the bracket's near lower corner */
    double reach;          /* how far off the port it may come up, along x and along y */
    double bore;           /* diameter of the hole */
    double keep_rafter;    /* least wood-free width beside the bore */
    struct flashing flashing;
};

/* Fresh water; tables of its density say 8.345 at 40 F and 8.338 at 60 F. */
#define ROOF_WATER_LB_PER_GALLON 8.34

/* Metric files: what one of theirs is in ours. */
#define UNIT_PSF_PER_KPA 20.885434233150127 /* 1000 Pa x 0.3048^2 m2 / 4.4482216152605 N */
#define UNIT_PSI_PER_MPA 145.03773773020923 /* 1e6 Pa x 0.0254^2 m2 / 4.4482216152605 N */
#define UNIT_MPH_PER_MPS 2.2369362920544023 /* 1 / 0.44704 */
#define UNIT_FT_PER_M (1 / 0.3048)          /* exact */
#define UNIT_N_PER_LB 4.4482216152605       /* exact */
#define UNIT_KG_PER_LB 0.45359237           /* exact since 1959 */

/* What a kit says for strength alone; one for each of roof.kits, in their order. */
struct kit_loads {
    double centre_dry_in[3];     /* weight.centre_dry, turned like kit.centre; default kit.centre */
    double strut_section_in3;    /* strut.section; 0: not given, struts are not judged */
    double strut_stress_psi;     /* strut.stress; likewise */
    double side_in;              /* lag.side.thickness, above 0; default kit.lag_through */
    double side_psi;             /* lag.side.bearing; default 61 850 */
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

struct point {
    double x, y;
};

struct warning {
    char text[200];
};

/* A corner of the face as it was measured: along the eave, up the rake, and across; all 0 where it
 * was not. */
struct triangle {
    double along, up, diagonal;
};

struct roof {
    char name[ROOF_NAME_MOST + 1];
    char zero[160]; /* the edges that the tape hooks on; empty if not given */
    enum measure measure;
    enum corner corner;
    double width, slope, pitch_rad;
    struct edge *edges; /* of a convex face, all of them */
    size_t edge_count;
    struct point *corners; /* of the face, counter-clockwise from the eave's near end; edge i runs
                              from corner i to corner i + 1 */
    size_t corner_count;
    double rake_rad[SIDE_COUNT]; /* angle at the eave between x and each rake; pi/2 if square */
    struct triangle triangles[SIDE_COUNT]; /* of the two eave corners */
    bool square_checked, courses_checked;  /* measured, not assumed */
    bool outlined;                         /* the face came as an outline */
    bool trusses;                          /* framing: trusses */
    bool has_wall_line;
    double wall_line; /* y of the wall plate's outer face; plies' reach allows for it */
    double *courses;  /* butt edges, rising; courses[k - 1] is E(k) of the rules */
    size_t course_count;
    double course_tolerance;
    struct cutouts cutouts;
    struct joint *joints; /* those measured one by one */
    size_t joint_count;
    double keep_joint; /* least from a flashing's side to a joint or cutout of the course above */
    enum found found;
    double doubt; /* how far off its measured place a member is sought once a drill has disproved
                     its tolerance; above 0 */
    struct rafter *rafters;
    size_t rafter_count;
    struct ply *plies; /* targets only, grouped by rafter, rising in x */
    size_t ply_count;
    struct keepout *keepouts;
    size_t keepout_count;
    const struct given *given; /* borrowed; none in a roof as its file has it */
    size_t given_count;
    struct vent *vents;
    size_t vent_count;
    struct pipe *pipes;
    size_t pipe_count;
    struct kit *kits;
    size_t kit_count;
    struct kit_loads *kit_loads; /* one a kit */
    struct loads *loads;         /* NULL: nothing was said of loads, strength is not looked at */
    struct bracket *brackets;
    size_t bracket_count;
    double apart, tape, enough, hole_worth;
    struct warning *warnings; /* doubts about the survey, worth a word but no error */
    size_t warning_count;
};

/* What a command line may set over the file; NULL texts leave the file's word. */
struct roof_options {
    const enum hardware *hardware[ROW_COUNT]; /* NULL: as the file says */
    const double *tape;                       /* inches; NULL: as the file says */
};

/* Builds a roof.  DONE: *roof is owned by the caller (roof_free) and shares nothing with survey.
 * BAD_INPUT: every fault is in problems.  FAULT: no memory.  *roof is untouched unless DONE. */
enum outcome roof_build(const struct survey *survey, const struct roof_options *options,
                        struct roof **roof, struct problems *problems);

void roof_free(struct roof *roof); /* accepts NULL */

/* Leaves off the brackets that are not kept (one a bracket), and their pipes. */
void roof_keep(struct roof *roof, const bool *kept);

/* Adds a warning, in the words of files; cut to fit.  FAULT: no memory. */
enum outcome roof_warn(struct roof *roof, const char *text);

const struct kit *roof_kit(const struct roof *roof, size_t bracket);

/* True where two brackets are the same frame on the same hardware. */
bool roof_same_hardware(const struct roof *roof, size_t a, size_t b);

/* The hole that has to stay a lag of that row in that ply (SIZE_MAX: in any ply); NULL: none. */
const struct given *roof_given(const struct roof *roof, size_t bracket, enum row row, size_t ply);

/* Half the height that a row's hardware takes up along the leg: kit.foot_half or strut_half. */
double roof_hardware_half(const struct kit *kit, enum hardware hardware);

/* Course k (from 1) may carry a flashing if E_k, E_k+1 and E_k+2 are on the face. */
bool roof_course_usable(const struct roof *roof, size_t course);

/* x of the first cutout of a course at `from` or beyond; of a roof whose cutouts are known. */
double roof_cutout(const struct roof *roof, size_t course, double from);

/* True if the survey knows of any joint or cutout. */
bool roof_has_joints(const struct roof *roof);

/* x where the rake on that side crosses the line at height y. */
double roof_rake_x(const struct roof *roof, enum side side, double y);

/* x of the middle of a ply, and of the two outer faces of a rafter, at height y. */
double roof_ply_x(const struct ply *ply, double y);
double roof_rafter_face_x(const struct rafter *rafter, enum side side, double y);

/* What the tape shows up the rake in use for a line at height y, and back: y / sin(angle) where the
 * corner is not square; y itself on a square or outlined face. */
double roof_height_reading(const struct roof *roof, enum side from, double y);
double roof_height_from_reading(const struct roof *roof, enum side from, double reading);

/* A reading along a line from a rake, and back: what the tape shows at (x, y). */
double roof_reading(const struct roof *roof, enum side from, double x, double y);
double roof_from_reading(const struct roof *roof, enum side from, double reading, double y);

#endif
