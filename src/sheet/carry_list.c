/* What to carry.  Spares and quantities are common practice, no source. */
#include "page.h"
#include "sections.h"

#include <math.h>

static bool is_done(const struct answer *answer, size_t mark) {
    return answer->done != NULL && answer->done[mark];
}

/* Lag holes still to be drilled: what the kept ones take was carried up before. */
static size_t count_lags(const struct answer *answer, size_t kit) {
    size_t lags = 0;
    for (size_t i = 0; i < answer->marks->count; i++) {
        const struct mark *mark = &answer->marks->list[i];
        lags += mark->row != ROW_PIPE && answer->roof->brackets[mark->bracket].kit == kit &&
                !is_done(answer, i);
    }
    return lags;
}

static size_t count_done(const struct answer *answer) {
    size_t done = 0;
    for (size_t i = 0; i < answer->marks->count; i++) {
        done += is_done(answer, i);
    }
    return done;
}

/* One a leg, on every line of that hardware. */
static size_t count_legs(const struct answer *answer, size_t kit, enum hardware hardware) {
    size_t legs = 0;
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        for (int row = 0; row < ROW_COUNT; row++) {
            if (answer->roof->brackets[i].kit == kit &&
                answer->marks->brackets[i].hardware[row] == hardware) {
                legs += answer->roof->kits[kit].leg_count;
            }
        }
    }
    return legs;
}

static bool alike(double one, double other) {
    return length_holds(one - other) && length_holds(other - one);
}

static bool same_lag(const struct kit *one, const struct kit *other) {
    return alike(one->lag_diameter, other->lag_diameter) &&
           alike(one->lag_length, other->lag_length);
}

/* The same hole in the wood too: same lag, same metal under its head. */
static bool same_bit(const struct kit *one, const struct kit *other) {
    return same_lag(one, other) && alike(one->lag_through, other->lag_through);
}

static bool same_flashing(const struct kit *one, const struct kit *other) {
    return alike(one->flashing.width, other->flashing.width) &&
           alike(one->flashing.height, other->flashing.height) &&
           alike(one->flashing.hole_up, other->flashing.hole_up);
}

typedef bool same_part(const struct kit *one, const struct kit *other);

/* How many lag holes take that part of the kit, whatever kit they are of; 0 where an earlier kit
 * has the same part, which is carried only once. */
static size_t count_part(const struct answer *answer, size_t kit, same_part *same) {
    const struct roof *roof = answer->roof;
    size_t lags = 0;
    for (size_t i = 0; i < roof->kit_count; i++) {
        if (same(&roof->kits[kit], &roof->kits[i])) {
            if (i < kit) {
                return 0;
            }
            lags += count_lags(answer, i);
        }
    }
    return lags;
}

/* One in ten, and never fewer than that. */
static size_t spares(size_t count, size_t least) {
    size_t tenth = (count + 9) / 10;
    return tenth > least ? tenth : least;
}

static void carry_counted(struct page *page, const char *what, size_t count, size_t least) {
    if (count > 0) {
        size_t spare = spares(count, least);
        page_tick(page, "%3zu  %s  (%zu + %zu spare)", count + spare, what, count, spare);
    }
}

/* A share of the shank in whole 64ths of an inch (half millimetres), up or down. */
static double share(const struct roof *roof, double diameter, double part, bool up) {
    double tick = roof->measure == MEASURE_MM ? 0.5 / LENGTH_MM_PER_INCH : 1.0 / 64.0;
    double ticks = diameter * part / tick;
    return (up ? ceil(ticks - LENGTH_TOLERANCE) : floor(ticks + LENGTH_TOLERANCE)) * tick;
}

static const char *bit_text(const struct roof *roof, char buffer[LENGTH_TEXT], double inches) {
    double tick = roof->measure == MEASURE_MM ? 0.5 / LENGTH_MM_PER_INCH : 1.0 / 64.0;
    return length_reading(buffer, inches, tick, roof->measure);
}

/* 70 % of the shank, rounded down, lies inside the published range of all three groups; for a 5/16
 * lag it is the 7/32 bit of common practice. */
static double pilot_bit(const struct roof *roof, const struct kit *kit) {
    return share(roof, kit->lag_diameter, 0.70, false);
}

/* Lead holes for the threaded part, as a share of the shank: National Design Specification for Wood
 * Construction (NDS) 2018, 12.1.4.2; the limits of the groups are from memory. */
static void write_groups(struct page *page, const struct kit *kit) {
    static const struct {
        const char *wood;
        double from, to;
    } groups[] = {
        {"softer: spruce, pine, hem-fir, Douglas fir (G to 0.50)", 0.40, 0.70},
        {"harder: southern pine (G above 0.50, to 0.60)", 0.60, 0.75},
        {"dense hardwood (G above 0.60)", 0.65, 0.85},
    };
    const struct roof *roof = page->answer->roof;
    for (size_t i = 0; i < sizeof groups / sizeof groups[0]; i++) {
        char from[LENGTH_TEXT], to[LENGTH_TEXT];
        page_line(page, 15, "      %-56s %s to %s", groups[i].wood,
                  bit_text(roof, from, share(roof, kit->lag_diameter, groups[i].from, true)),
                  bit_text(roof, to, share(roof, kit->lag_diameter, groups[i].to, false)));
    }
}

static void write_bit(struct page *page, const struct kit *kit) {
    const struct roof *roof = page->answer->roof;
    char bit[LENGTH_TEXT], lag[LENGTH_TEXT], length[LENGTH_TEXT], flag[LENGTH_TEXT];
    page_tick(page, "%s pilot bit for the %s x %s lag; tape flag %s up from its tip",
              bit_text(roof, bit, pilot_bit(roof, kit)), bit_text(roof, lag, kit->lag_diameter),
              page_part(roof, length, kit->lag_length),
              page_fine(roof, flag, kit->lag_length - kit->lag_through));
    page_line(page, 6, "      Published range by wood; the bit above lies inside all three:");
    write_groups(page, kit);
    page_line(
        page, 6,
        "      If the smooth shank reaches the rafter, open that part of the hole to the full "
        "%s.",
        lag);
}

void carry_write_bits(struct page *page) {
    const struct answer *answer = page->answer;
    page_step(page, "Bits. Fit the pilot bit and flag it with tape; lay it on a rule to be sure.");
    for (size_t i = 0; i < answer->roof->kit_count; i++) {
        if (count_part(answer, i, same_bit) > 0) {
            write_bit(page, &answer->roof->kits[i]);
        }
    }
}

static void carry_lags(struct page *page, size_t kit) {
    const struct roof *roof = page->answer->roof;
    char one[LENGTH_TEXT], other[LENGTH_TEXT], what[LENGTH_TEXT * 3];
    snprintf(what, sizeof what, "lags %s x %s, with washers",
             bit_text(roof, one, roof->kits[kit].lag_diameter),
             page_part(roof, other, roof->kits[kit].lag_length));
    carry_counted(page, what, count_part(page->answer, kit, same_lag), 2);
    snprintf(what, sizeof what, "flashings %s x %s",
             page_part(roof, one, roof->kits[kit].flashing.width),
             page_part(roof, other, roof->kits[kit].flashing.height));
    carry_counted(page, what, count_part(page->answer, kit, same_flashing), 1);
}

static void carry_fittings(struct page *page, size_t kit) {
    const struct roof *roof = page->answer->roof;
    char what[ROOF_NAME_MOST + 48];
    const char *name = roof->kit_count > 1 ? roof->kits[kit].name : "";
    const char *of = roof->kit_count > 1 ? ", kit " : "";
    snprintf(what, sizeof what, "feet, with bolts%s%s", of, name);
    carry_counted(page, what, count_legs(page->answer, kit, HARDWARE_FEET), 1);
    snprintf(what, sizeof what, "strut clamps, with bolts%s%s", of, name);
    carry_counted(page, what, count_legs(page->answer, kit, HARDWARE_STRUT), 1);
}

/* What the dead holes of an earlier try take. */
static void carry_patches(struct page *page) {
    const struct answer *answer = page->answer;
    const struct roof *roof = answer->roof;
    char width[LENGTH_TEXT], height[LENGTH_TEXT];
    for (size_t i = 0; answer->patches != NULL && i < roof->kit_count; i++) {
        if (answer->patches[i] > 0) {
            page_tick(page, "%3zu  patch flashings %s x %s, each for the dead hole named above",
                      answer->patches[i], page_part(roof, width, roof->kits[i].flashing.width),
                      page_part(roof, height, roof->kits[i].flashing.height));
        }
    }
    if (answer->dead_holes > 0) {
        page_tick(page, "%3zu  wooden plugs for the dead holes", answer->dead_holes);
    }
}

static bool same_pipe_flashing(const struct pipe *one, const struct pipe *other) {
    return alike(one->flashing.width, other->flashing.width) &&
           alike(one->flashing.height, other->flashing.height) &&
           alike(one->flashing.hole_up, other->flashing.hole_up) && alike(one->bore, other->bore);
}

static bool same_bore(const struct pipe *one, const struct pipe *other) {
    return alike(one->bore, other->bore);
}

/* How many pipes take that part of a pipe; 0 where an earlier one has the same part. */
static size_t count_pipes(const struct roof *roof, size_t pipe,
                          bool (*same)(const struct pipe *one, const struct pipe *other)) {
    size_t count = 0;
    for (size_t i = 0; i < roof->pipe_count; i++) {
        if (same(&roof->pipes[pipe], &roof->pipes[i])) {
            if (i < pipe) {
                return 0;
            }
            count++;
        }
    }
    return count;
}

static void carry_pipes(struct page *page) {
    const struct roof *roof = page->answer->roof;
    char width[LENGTH_TEXT], height[LENGTH_TEXT], bore[LENGTH_TEXT], what[LENGTH_TEXT * 4];
    for (size_t i = 0; i < roof->pipe_count; i++) {
        const struct pipe *pipe = &roof->pipes[i];
        snprintf(what, sizeof what, "pipe flashings %s x %s, for a bore of %s",
                 page_part(roof, width, pipe->flashing.width),
                 page_part(roof, height, pipe->flashing.height), page_part(roof, bore, pipe->bore));
        carry_counted(page, what, count_pipes(roof, i, same_pipe_flashing), 1);
    }
    for (size_t i = 0; i < roof->pipe_count; i++) {
        if (count_pipes(roof, i, same_bore) > 0) {
            page_tick(page, "  1  hole saw for the pipe holes, %s, and its pilot",
                      page_part(roof, bore, roof->pipes[i].bore));
        }
    }
}

static size_t count_bits(const struct answer *answer) {
    size_t bits = 0;
    for (size_t i = 0; i < answer->roof->kit_count; i++) {
        bits += count_part(answer, i, same_bit) > 0;
    }
    return bits;
}

static size_t count_struts(const struct answer *answer) {
    size_t count = 0;
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        for (int row = 0; row < ROW_COUNT; row++) {
            count += answer->marks->brackets[i].hardware[row] == HARDWARE_STRUT;
        }
    }
    return count;
}

void carry_write(struct page *page) {
    const struct answer *answer = page->answer;
    const size_t holes = answer->marks->count + answer->dead_holes, kept = count_done(answer);
    page_step(page, "What to carry (spares are common practice).");
    if (kept > 0) {
        page_line(page, 4,
                  "    Lags and flashings of the %zu kept hole%s are not counted: they were "
                  "carried for the first sheet. See that they are there.",
                  kept, kept == 1 ? "" : "s");
    }
    for (size_t i = 0; i < answer->roof->kit_count; i++) {
        carry_lags(page, i);
    }
    carry_patches(page);
    for (size_t i = 0; i < answer->roof->kit_count; i++) {
        carry_fittings(page, i);
    }
    carry_pipes(page);
    if (count_struts(answer) > 0) {
        page_tick(page, "%3zu  struts, cut and drilled", count_struts(answer));
    }
    page_tick(page, "%3zu  tubes of roof sealant, and a gun  (1 to 8 holes + 1)",
              (holes + 7) / 8 + 1);
    carry_counted(page, "pilot bits, flagged", count_bits(answer), 1);
    page_tick(page, "  2  dead-hole patches: flashing, wooden plug, sealant");
    page_tick(page, "  2  tapes: the one checked above, and its spare");
    page_tick(page, "  1  probe (awl or thin stiff wire), chalk line, blue chalk, crayon");
    page_tick(page, "  1  drill, 2 batteries, ratchet and socket for the lag heads, wrenches");
    page_tick(page, "  1  flat bar for the shingle seals; bucket or bag so that nothing slides");
    page_tick(page, "  1  harness, anchor and rope for each person; ties for the ladder");
    page_tick(page, "  1  this sheet, whole");
}
