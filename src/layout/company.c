#include "company.h"

#include "length.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void take_pipes(const struct roof *whole, struct company *company) {
    company->roof.pipe_count = 0;
    for (size_t p = 0; p < whole->pipe_count; p++)
        for (size_t b = 0; b < company->roof.bracket_count; b++)
            if (whole->pipes[p].bracket == company->members[b]) {
                struct pipe *pipe = &company->pipes[company->roof.pipe_count];
                *pipe = whole->pipes[p];
                pipe->bracket = b;
                company->pipe_members[company->roof.pipe_count++] = p;
            }
}

static void take_given(const struct roof *whole, struct company *company) {
    company->roof.given = company->given;
    company->roof.given_count = 0;
    for (size_t g = 0; g < whole->given_count; g++)
        for (size_t b = 0; b < company->roof.bracket_count; b++)
            if (whole->given[g].bracket == company->members[b]) {
                struct given *given = &company->given[company->roof.given_count++];
                *given = whole->given[g];
                given->bracket = b;
            }
}

/* What limits say of the members; false without memory. */
static bool take_limits(const struct limits *limits, struct company *company) {
    const size_t count = company->roof.bracket_count;
    if (!limits)
        return true;
    company->least_lags = calloc(count, sizeof *company->least_lags);
    company->ruled_out = calloc(limits->count + 1, sizeof *company->ruled_out);
    if (!company->least_lags || !company->ruled_out)
        return false;
    company->limits = (struct limits){.least_lags = (const size_t(*)[ROW_COUNT])company->least_lags,
                                      .list = company->ruled_out};
    for (size_t b = 0; b < count; b++) {
        const size_t member = company->members[b];
        for (int row = ROW_TOP; row < ROW_COUNT && limits->least_lags; row++)
            company->least_lags[b][row] = limits->least_lags[member][row];
        for (size_t i = 0; i < limits->count; i++)
            if (limits->list[i].bracket == member) {
                struct ruled_out *out = &company->ruled_out[company->limits.count++];
                *out = limits->list[i];
                out->bracket = b;
            }
    }
    return true;
}

bool company_of(const struct roof *whole, const struct limits *limits, const size_t *members,
                size_t count, struct company *company) {
    *company = (struct company){
        .roof = *whole,
        .brackets = calloc(count, sizeof *company->brackets),
        .pipes = calloc(whole->pipe_count + 1, sizeof *company->pipes),
        .given = calloc(whole->given_count + 1, sizeof *company->given),
        .members = calloc(count, sizeof *company->members),
        .pipe_members = calloc(whole->pipe_count + 1, sizeof *company->pipe_members),
    };
    if (!company->brackets || !company->pipes || !company->given || !company->members ||
        !company->pipe_members)
        return false;
    company->roof.brackets = company->brackets;
    company->roof.bracket_count = count;
    company->roof.pipes = company->pipes;
    for (size_t b = 0; b < count; b++) {
        company->members[b] = members[b];
        company->brackets[b] = whole->brackets[members[b]];
    }
    take_pipes(whole, company);
    take_given(whole, company);
    return take_limits(limits, company);
}

void company_free(struct company *company) {
    free(company->brackets);
    free(company->pipes);
    free(company->given);
    free(company->members);
    free(company->pipe_members);
    free(company->least_lags);
    free(company->ruled_out);
    *company = (struct company){.brackets = NULL};
}

static bool room_for_all(const struct roof *whole, struct layout *const *layouts, size_t count,
                         struct layout *made) {
    size_t marks = 0, reasons = 0;
    for (size_t i = 0; i < count; i++) {
        marks += layouts[i]->marks->count;
        reasons += layouts[i]->reason_count;
    }
    made->plies = calloc(marks + 1, sizeof *made->plies);
    made->legs = calloc(marks + 1, sizeof *made->legs);
    made->courses = calloc(whole->bracket_count, sizeof *made->courses);
    made->pipe_courses = calloc(whole->pipe_count + 1, sizeof *made->pipe_courses);
    made->bracket_forgiveness = calloc(whole->bracket_count, sizeof *made->bracket_forgiveness);
    made->reasons = calloc(reasons + 1, sizeof *made->reasons);
    return made->plies && made->legs && made->courses && made->pipe_courses &&
           made->bracket_forgiveness && made->reasons &&
           marks_new(whole->bracket_count, marks, &made->marks) == OUTCOME_DONE;
}

/* Copies what one company's layout says of its bracket `own`; marks are in order of brackets. */
static void copy_bracket(const struct company *company, const struct layout *layout, size_t own,
                         struct layout *made, size_t *next) {
    const size_t bracket = company->members[own];
    made->marks->brackets[bracket] = layout->marks->brackets[own];
    memcpy(made->courses[bracket], layout->courses[own], sizeof made->courses[bracket]);
    made->bracket_forgiveness[bracket] = layout->bracket_forgiveness[own];
    for (size_t i = 0; i < layout->marks->count; i++) {
        struct mark mark = layout->marks->list[i];
        if (mark.bracket != own)
            continue;
        mark.bracket = bracket;
        if (mark.row == ROW_PIPE) {
            made->pipe_courses[company->pipe_members[mark.pipe]] = layout->pipe_courses[mark.pipe];
            mark.pipe = company->pipe_members[mark.pipe];
        }
        made->plies[*next] = layout->plies[i];
        made->legs[*next] = layout->legs[i];
        made->marks->list[(*next)++] = mark;
    }
}

/* Sums, worst cases, and every reason. */
static void copy_figures(struct layout *const *layouts, size_t count, struct layout *made) {
    made->state = LAYOUT_PROVED;
    made->forgiveness = made->bound_forgiveness = INFINITY;
    for (size_t i = 0; i < count; i++) {
        const struct layout *layout = layouts[i];
        if (layout->state != LAYOUT_PROVED)
            made->state = LAYOUT_FEASIBLE;
        made->forgiveness = fmin(made->forgiveness, layout->forgiveness);
        made->bound_forgiveness = fmin(made->bound_forgiveness, layout->bound_forgiveness);
        made->shortfall += layout->shortfall;
        made->moved += layout->moved;
        made->holes += layout->holes;
        made->bound_cost += layout->bound_cost;
        for (size_t r = 0; r < layout->reason_count; r++)
            made->reasons[made->reason_count++] = layout->reasons[r];
    }
}

size_t company_members(const struct roof *whole, const size_t *of, size_t lowest, size_t *members) {
    size_t count = 0;
    for (size_t b = 0; b < whole->bracket_count; b++)
        if (of[b] == lowest)
            members[count++] = b;
    return count;
}

static bool join_companies(const struct roof *whole, const struct company *companies,
                           struct layout *const *layouts, size_t count, struct layout **joined) {
    struct layout *made = calloc(1, sizeof *made);
    if (!made || !room_for_all(whole, layouts, count, made)) {
        layout_free(made);
        return false;
    }
    size_t next = 0;
    for (size_t b = 0; b < whole->bracket_count; b++)
        for (size_t i = 0; i < count; i++)
            for (size_t own = 0; own < companies[i].roof.bracket_count; own++)
                if (companies[i].members[own] == b)
                    copy_bracket(&companies[i], layouts[i], own, made, &next);
    copy_figures(layouts, count, made);
    *joined = made;
    return true;
}

bool company_join(const struct roof *whole, const size_t *of, struct layout *const *layouts,
                  struct layout **joined) {
    struct company *companies = calloc(whole->bracket_count, sizeof *companies);
    struct layout *parts[ROOF_BRACKETS_MOST] = {NULL};
    size_t found = 0;
    bool good = companies != NULL;
    for (size_t b = 0; b < whole->bracket_count && good; b++) {
        size_t members[ROOF_BRACKETS_MOST];
        if (of[b] != b)
            continue;
        parts[found] = layouts[b];
        good = company_of(whole, NULL, members, company_members(whole, of, b, members),
                          &companies[found++]);
    }
    good = good && join_companies(whole, companies, parts, found, joined);
    for (size_t i = 0; i < found; i++)
        company_free(&companies[i]);
    free(companies);
    return good;
}
