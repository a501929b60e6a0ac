#include "plan.h"

#include "digest.h"

#define IN(n) (8 * (n)) /* inches */
#define SETBACK_EAVE IN(12)
#define SETBACK_RIDGE IN(18)
#define SETBACK_RAKE IN(12)

struct chance {
    uint64_t state;
};

/* splitmix64, by Sebastiano Vigna, public domain. */
static uint64_t next(struct chance *chance) {
    uint64_t z = chance->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

/* A whole number from low to high, both counted. */
static int between(struct chance *chance, int low, int high) {
    return low + (int)(next(chance) % (uint64_t)(high - low + 1));
}

static bool once_in(struct chance *chance, int times) {
    return between(chance, 1, times) == 1;
}

static void make_frame(struct chance *chance, struct plan *plan) {
    const int inset = IN(between(chance, 9, 13)), apart = IN(between(chance, 45, 51));
    plan->frame_width = apart + 2 * inset;
    plan->frame_height = IN(between(chance, 78, 90));
    plan->legs[0] = inset;
    plan->legs[1] = inset + apart;
    plan->top[0] = plan->frame_height - IN(between(chance, 12, 15));
    plan->top[1] = plan->frame_height - IN(between(chance, 6, 8));
    plan->bottom[0] = IN(between(chance, 3, 5));
    plan->bottom[1] = IN(between(chance, 16, 20));
    plan->strut[0] = plan->level > 1;
    plan->strut[1] = plan->level > 2 && once_in(chance, 2);
}

static void make_face(struct chance *chance, struct plan *plan) {
    const int more = plan->level > 1 ? 60 : 0;
    plan->right = plan->level > 1 && once_in(chance, 2);
    plan->width = plan->frame_width + 2 * SETBACK_RAKE +
                  IN(2 * between(chance, (90 + more) / 2, 80 + more / 2));
    plan->slope = plan->frame_height + SETBACK_EAVE + SETBACK_RIDGE + IN(between(chance, 26, 60));
    plan->rise = between(chance, 4, 9);
    plan->first = IN(5) + between(chance, 4, 10);
    plan->exposure = once_in(chance, 3) ? IN(5) : IN(5) + 5;
}

/* Level 1: straight, single and evenly framed.  Later ones are off by more, and some are doubled,
 * bad or crooked. */
static void make_rafters(struct chance *chance, struct plan *plan) {
    const int spacing = once_in(chance, 3) ? IN(16) : IN(24);
    const int off = plan->level == 1 ? 1 : (int)plan->level + 1;
    const int first = IN(between(chance, 7, 20));
    for (int at = first; at < plan->width - IN(5) && plan->rafter_count < PLAN_RAFTERS_MOST;
         at += spacing) {
        struct plan_rafter *rafter = &plan->rafters[plan->rafter_count++];
        rafter->at = rafter->again = at + between(chance, -off, off);
    }
    if (plan->level > 1) {
        struct plan_rafter *rafter = &plan->rafters[between(chance, 0, plan->rafter_count - 1)];
        rafter->doubled = true;
        rafter->away = once_in(chance, 2);
    }
    if (plan->level > 2) {
        plan->rafters[between(chance, 0, plan->rafter_count - 1)].bad = true;
        plan->rafters[between(chance, 0, plan->rafter_count - 1)].again +=
            once_in(chance, 2) ? between(chance, 3, 6) : -between(chance, 3, 6);
    }
}

/* In the way of the frame where it is wanted. */
static void make_wishes(struct chance *chance, struct plan *plan) {
    plan->want_x =
        between(chance, SETBACK_RAKE / 8, (plan->width - SETBACK_RAKE - plan->frame_width) / 8) * 8;
    plan->want_y =
        between(chance, SETBACK_EAVE / 8, (plan->slope - SETBACK_RIDGE - plan->frame_height) / 8) *
        8;
}

static int inside(int value, int low, int high) {
    return value < low ? low : value > high ? high : value;
}

static void make_vent(struct chance *chance, struct plan *plan, const char *name,
                      const char *kind) {
    struct plan_vent *vent = &plan->vents[plan->vent_count++];
    vent->name = name;
    vent->kind = kind;
    vent->width = IN(between(chance, 8, 12));
    vent->height = IN(between(chance, 10, 14));
    vent->x = inside(plan->want_x + between(chance, 0, plan->frame_width / 8) * 8, vent->width,
                     plan->width - vent->width);
    vent->y = inside(plan->want_y + between(chance, 0, plan->frame_height / 8) * 8, vent->height,
                     plan->slope - vent->height);
}

static void make_keepout(struct chance *chance, struct plan *plan) {
    plan->keepout = between(chance, 1, plan->rafter_count);
    plan->keepout_from = IN(between(chance, 20, plan->slope / 8 - 50));
    plan->keepout_to = plan->keepout_from + IN(between(chance, 12, 30));
}

void plan_make(unsigned level, unsigned seed, unsigned attempt, struct plan *plan) {
    uint64_t digest = digest_number(DIGEST_START, level);
    digest = digest_number(digest_number(digest, seed), attempt);
    struct chance chance = {digest};
    *plan = (struct plan){.level = level, .seed = seed};
    make_frame(&chance, plan);
    make_face(&chance, plan);
    make_rafters(&chance, plan);
    make_wishes(&chance, plan);
    if (level > 1) {
        make_vent(&chance, plan, "soil stack", "plumbing");
    }
    if (level > 2) {
        make_vent(&chance, plan, "bath fan", "exhaust");
        make_keepout(&chance, plan);
    }
}
