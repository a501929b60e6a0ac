/* apart: no two flashings overlap, nor two struts; brackets keep their distance, and a pipe's
 * flashing lies under no other bracket.  Both of a pair may be off, each by half of what is left
 * between them. */
#include "rules.h"

double check_apart(const struct box *a, const struct box *b, double least) {
    return (check_gap(a, b) - least) / 2;
}

/* The one that comes first: by bracket, row and place in the list. */
static bool comes_first(const struct mark *a, const struct mark *b, bool in_list) {
    if (a->bracket != b->bracket)
        return a->bracket < b->bracket;
    return a->row != b->row ? a->row < b->row : in_list;
}

static void add_flashings(struct checking *checking, size_t i, size_t j) {
    const struct mark *list = checking->marks->list;
    size_t first = comes_first(&list[i], &list[j], i < j) ? i : j;
    size_t other = first == i ? j : i;
    struct box a = check_flashing_box(checking->roof, &list[first]);
    struct box b = check_flashing_box(checking->roof, &list[other]);
    struct finding finding = check_finding(RULE_APART, list[first].bracket);
    finding.row = (int)list[first].row;
    finding.mark = (int)first;
    finding.other_bracket = (int)list[other].bracket;
    finding.other_mark = (int)other;
    finding.margin = check_apart(&a, &b, 0);
    check_add(checking, &finding);
}

/* Struts are listed by bracket and row. */
static void add_struts(struct checking *checking, const struct strut *strut,
                       const struct strut *other) {
    struct box a = check_strut_box(checking->roof, strut, strut->from, strut->to);
    struct box b = check_strut_box(checking->roof, other, other->from, other->to);
    struct finding finding = check_finding(RULE_APART, strut->bracket);
    finding.row = (int)strut->row;
    finding.other_bracket = (int)other->bracket;
    finding.other_row = (int)other->row;
    finding.margin = check_apart(&a, &b, 0);
    check_add(checking, &finding);
}

static void add_brackets(struct checking *checking, size_t bracket, size_t other) {
    const struct roof *roof = checking->roof;
    struct box a = check_bracket_box(roof, bracket, &checking->marks->brackets[bracket]);
    struct box b = check_bracket_box(roof, other, &checking->marks->brackets[other]);
    struct finding finding = check_finding(RULE_APART, bracket);
    finding.other_bracket = (int)other;
    finding.margin = check_apart(&a, &b, roof->apart);
    check_add(checking, &finding);
}

/* The lower bracket of the two comes first, whichever of them owns the pipe. */
static void add_pipe(struct checking *checking, size_t index, size_t other) {
    const struct mark *mark = &checking->marks->list[index];
    struct box a = check_flashing_box(checking->roof, mark);
    struct box b = check_bracket_box(checking->roof, other, &checking->marks->brackets[other]);
    bool first = mark->bracket < other;
    struct finding finding = check_finding(RULE_APART, first ? mark->bracket : other);
    finding.other_bracket = (int)(first ? other : mark->bracket);
    if (first)
        finding.row = (int)mark->row;
    *(first ? &finding.mark : &finding.other_mark) = (int)index;
    finding.margin = check_apart(&a, &b, 0);
    check_add(checking, &finding);
}

static void add_pipes(struct checking *checking) {
    for (size_t i = 0; i < checking->pipe_mark_count; i++) {
        size_t index = checking->pipe_marks[i];
        for (size_t other = 0; other < checking->roof->bracket_count; other++)
            if (other != checking->marks->list[index].bracket)
                add_pipe(checking, index, other);
    }
}

void check_all_apart(struct checking *checking) {
    for (size_t i = 0; i < checking->marks->count; i++)
        for (size_t j = i + 1; j < checking->marks->count; j++)
            add_flashings(checking, i, j);
    for (size_t i = 0; i < checking->strut_count; i++)
        for (size_t j = i + 1; j < checking->strut_count; j++)
            add_struts(checking, &checking->struts[i], &checking->struts[j]);
    for (size_t i = 0; i < checking->roof->bracket_count; i++)
        for (size_t j = i + 1; j < checking->roof->bracket_count; j++)
            add_brackets(checking, i, j);
    add_pipes(checking);
}
