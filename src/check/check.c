/* The check: names of the rules and the order of work. */
#include "rules.h"

#include <assert.h>
#include <stdlib.h>

static const struct {
    const char *name;
    bool counted; /* in forgiveness */
} rules[RULE_COUNT] = {
    [RULE_WOOD] = {"wood", true},
    [RULE_COURSE_EDGE] = {"course-edge", true},
    [RULE_COURSE_BLOCK] = {"course-block", true},
    [RULE_LAP] = {"lap", true},
    [RULE_JOINTS] = {"joints", true},
    [RULE_VENT_FLASHING] = {"vent-flashing", true},
    [RULE_VENT_BRACKET] = {"vent-bracket", true},
    [RULE_SETBACK] = {"setback", true},
    [RULE_ROW] = {"row", true},
    [RULE_CLEARANCE] = {"clearance", true},
    [RULE_FOOT_REACH] = {"foot-reach", true},
    [RULE_PIPE_BAY] = {"pipe-bay", true},
    [RULE_PIPE_REACH] = {"pipe-reach", true},
    [RULE_STRUT_CLEAR] = {"strut-clear", true},
    [RULE_APART] = {"apart", true},
    [RULE_STRUT_CLAMP] = {"strut-clamp", false},
    [RULE_STRUT_SPAN] = {"strut-span", false},
    [RULE_STRUT_STOCK] = {"strut-stock", false},
    [RULE_ROW_LINE] = {"row-line", false},
    [RULE_COMPLETE] = {"complete", false},
};

const char *check_rule_name(enum rule rule) {
    assert((unsigned)rule < RULE_COUNT);
    return rules[rule].name;
}

bool check_rule_counted(enum rule rule) {
    assert((unsigned)rule < RULE_COUNT);
    return rules[rule].counted;
}

static struct verdict *new_verdict(size_t bracket_count, size_t mark_count) {
    struct verdict *verdict = calloc(1, sizeof *verdict);
    if (verdict == NULL)
        return NULL;
    verdict->seats = calloc(mark_count + 1, sizeof *verdict->seats);
    verdict->order = calloc(mark_count + 1, sizeof *verdict->order);
    verdict->rows = calloc(bracket_count + 1, sizeof *verdict->rows);
    verdict->forgiveness = calloc(bracket_count + 1, sizeof *verdict->forgiveness);
    if (verdict->seats == NULL || verdict->order == NULL || verdict->rows == NULL ||
        verdict->forgiveness == NULL) {
        verdict_free(verdict);
        return NULL;
    }
    return verdict;
}

static void work_through(struct checking *checking) {
    check_seat_marks(checking);
    check_seat_clamps(checking);
    check_all_wood(checking);
    check_all_courses(checking);
    check_all_joints(checking);
    check_all_vents(checking);
    check_all_setbacks(checking);
    check_all_rows(checking);
    check_all_feet(checking);
    check_all_pipes(checking);
    check_all_struts(checking);
    check_all_apart(checking);
    check_all_complete(checking);
    check_sum_up(checking);
}

enum outcome check_marks(const struct roof *roof, const struct marks *marks,
                         struct verdict **verdict) {
    assert(marks->bracket_count == roof->bracket_count);
    struct checking checking = {.roof = roof, .marks = marks};
    checking.verdict = new_verdict(roof->bracket_count, marks->count);
    checking.struts = calloc(roof->bracket_count * ROW_COUNT + 1, sizeof *checking.struts);
    checking.pipe_marks = calloc(marks->count + 1, sizeof *checking.pipe_marks);
    if (checking.verdict == NULL || checking.struts == NULL || checking.pipe_marks == NULL)
        checking.starved = true;
    else
        work_through(&checking);
    free(checking.struts);
    free(checking.pipe_marks);
    if (checking.starved) {
        verdict_free(checking.verdict);
        return OUTCOME_FAULT;
    }
    *verdict = checking.verdict;
    return OUTCOME_DONE;
}
