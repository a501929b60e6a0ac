#include "questions.h"

#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

static const struct question questions[] = {
    {.path = "roof",
     .ask = "Name of the roof",
     .why = "It heads every sheet: the street, the number, which face.",
     .stand_in = "x"},
    {.path = "measure",
     .ask = "Bare numbers are in or mm",
     .why = "Whatever has a unit counts in that: 14 5/8, 6' 2-1/2\", 420 mm, 0.42 m. This is for "
            "numbers without one.",
     .usual = "in"},
    {.path = "corner",
     .ask = "Zero corner, left or right as you face the ridge",
     .why = "Stand at the eave and face the ridge. Every length counts from one eave corner: the "
            "one that the tape is hooked on.",
     .usual = "left"},
    {.path = "zero",
     .ask = "The edges that the tape hooks on, rake; eave",
     .why = "Metal, board or shingle, outer or inner face: whoever chalks the roof has to find the "
            "same edges.",
     .usual = ""},
    {.path = "plane.width",
     .ask = "Along the eave, rake to rake",
     .why = "At the eave edge, from one rake to the other.",
     .stand_in = "30'"},
    {.path = "plane.slope",
     .ask = "Up the roof, eave to ridge",
     .why = "On the shingles, square to the eave.",
     .stand_in = "16'"},
    {.path = "plane.pitch",
     .ask = "Pitch, such as 5/12 or 22.6 deg",
     .why = "Rise over run, or the angle.",
     .stand_in = "5/12"},
    {.path = "plane.square.along",
     .ask = "Corner check (3-4-5) at the zero corner: along the eave",
     .why = "Mark a length along the eave and one up the rake, and tape from mark to mark: that "
            "tells whether the corner is true. Not taped: an empty line.",
     .usual = ""},
    {.path = "plane.square.up",
     .ask = "  up the rake",
     .why = "From the zero corner up the rake.",
     .needs = "plane.square.along",
     .stand_in = "72\""},
    {.path = "plane.square.diagonal",
     .ask = "  across, from mark to mark",
     .why = "3, 4 and 5 of the same close a true corner: 6', 8', 10'.",
     .needs = "plane.square.along",
     .stand_in = "120\""},
    {.path = "setback.eave",
     .ask = "Frames keep clear of the eave by",
     .why = "Ask what is required here: the building office, the collector's manual.",
     .usual = "0"},
    {.path = "setback.ridge",
     .ask = "Frames keep clear of the ridge by",
     .why = "Ask what is required here.",
     .usual = "0"},
    {.path = "setback.near",
     .ask = "Frames keep clear of the rake at the zero corner by",
     .why = "Ask what is required here.",
     .usual = "0"},
    {.path = "setback.far",
     .ask = "Frames keep clear of the other rake by",
     .why = "Ask what is required here.",
     .usual = "0"},
    {.path = "framing",
     .ask = "Framing, rafters or trusses",
     .why = "No hole goes into a truss before an engineer has seen it: the sheet will say so.",
     .usual = "rafters"},
    {.path = "wall_line",
     .ask = "Outer face of the wall below, up the roof",
     .why = "Out over the eave no lag holds anything up. Not known: an empty line.",
     .usual = ""},
    {.path = "courses.first",
     .ask = "First butt edge of the shingles above the eave edge",
     .why = "Flashings sit on courses: where they are is counted from this edge.",
     .stand_in = "6\""},
    {.path = "courses.exposure",
     .ask = "From one butt edge to the next",
     .why = "Tape several at once and divide.",
     .stand_in = "6\""},
    {.path = "courses.check.edge",
     .ask = "A butt edge high up that you counted: its number",
     .why = "Counted from the eave, the first is 1. It corrects the step above: one edge taped "
            "high up is worth ten taped one by one. Not counted: an empty line.",
     .usual = ""},
    {.path = "courses.check.at",
     .ask = "  and where it is, up the roof",
     .why = "From the eave edge, on the shingles.",
     .needs = "courses.check.edge",
     .stand_in = "=plane.slope"},
    {.path = "rafters.found",
     .ask = "Rafters were found how: probed, attic or sounded",
     .why = "Probed with a fine bit through the sheathing is good to 1/8 in, taped in the attic to "
            "1/4, knocked for to 1/2.",
     .usual = "probed"},
    {.path = "rafters.thickness",
     .ask = "Thickness of one ply",
     .why = "Of a two-by it is 1 1/2 in today; older lumber is thicker.",
     .usual = "1 1/2"},
    {.path = "rafters.heights[1]",
     .ask = "Taped on two lines? The lower one, up the roof",
     .why = "Where each rafter was taped twice, on two lines, a crooked one shows. Taped once: an "
            "empty line.",
     .usual = ""},
    {.path = "rafters.heights[2]",
     .ask = "  and the upper one",
     .why = "Up the roof, on the shingles.",
     .needs = "rafters.heights[1]",
     .stand_in = "=plane.slope"},
    {.path = "rafters.list[].at",
     .ask = "Rafter %zu: its middle, from the zero rake",
     .why = "From the zero rake, never added up from rafter to rafter. Of a doubled one the middle "
            "of the original. No more: an empty line.",
     .usual = "",
     .least = 1,
     .leads = true,
     .stand_in = "12\""},
    {.path = "rafters.list[].again",
     .ask = "  and on the upper line",
     .why = "The same rafter on the upper line.",
     .needs = "rafters.heights[1]"},
    {.path = "rafters.list[].plies",
     .ask = "  is it single and sound, yes or no",
     .why = "no: it is doubled, split or cut, and you will be asked how.",
     .usual = "yes",
     .quick = {"plies", "1", "sound", "yes"}},
    {.path = "rafters.list[].plies",
     .ask = "  how many lie side by side",
     .why = "Plies of the same member, nailed together.",
     .usual = "1"},
    {.path = "rafters.list[].sister",
     .ask = "  the others lie away from the zero corner, toward it or both",
     .why = "On which side of the original: away, toward or both.",
     .needs = "rafters.list[].plies",
     .unless = "1",
     .stand_in = "away"},
    {.path = "rafters.list[].sound",
     .ask = "  is it sound, yes or no",
     .why = "Split, cut or soft: no. No lag goes into it then.",
     .usual = "yes"},
    {.path = "keepouts[].rafter",
     .ask = "Keep-out %zu: no lag in a stretch of which rafter, by its number",
     .why = "A splice, a notch, a knot, a wire or a duct seen from the attic. Rafters count from "
            "the zero corner, the first is 1. No more: an empty line.",
     .usual = "",
     .leads = true},
    {.path = "keepouts[].from",
     .ask = "  from, up the roof",
     .why = "The lower end of that stretch.",
     .stand_in = "0"},
    {.path = "keepouts[].to",
     .ask = "  to, up the roof",
     .why = "The upper end of that stretch.",
     .stand_in = "=plane.slope"},
    {.path = "keepouts[].why",
     .ask = "  what is there",
     .why = "For whoever reads the sheet.",
     .usual = "seen from the attic"},
    {.path = "vents[].name",
     .ask = "Vent %zu: what it is called",
     .why = "Whatever sticks out of the roof, each with a name of its own. No more: an empty line.",
     .usual = "",
     .leads = true},
    {.path = "vents[].kind",
     .ask = "  plumbing, flue, exhaust, attic, skylight or blank",
     .why = "Hot flues are kept further away from. blank: a cap that nothing comes out of.",
     .usual = "plumbing"},
    {.path = "vents[].at[1]",
     .ask = "  middle of its flange, from the zero rake",
     .why = "Of the flange under the shingles, not of what you see of it: feel for its edges.",
     .stand_in = "1\""},
    {.path = "vents[].at[2]",
     .ask = "  the same, up the roof",
     .why = "From the eave edge, on the shingles.",
     .stand_in = "1\""},
    {.path = "vents[].size[1]",
     .ask = "  its flange, along the eave",
     .why = "From edge to edge as it lies under the shingles.",
     .stand_in = "1/8"},
    {.path = "vents[].size[2]",
     .ask = "  its flange, up the roof",
     .why = "From edge to edge as it lies under the shingles.",
     .stand_in = "1/8"},
    {.path = "vents[].tall",
     .ask = "  how tall it stands above the roof",
     .why = "Only a low blank cap may lie under a frame.",
     .usual = "12\""},
    {.path = "place[].name",
     .ask = "Frame %zu: what it is called",
     .why = "One letter is best: its holes are A-top-1, A-top-2. No more: an empty line.",
     .usual = "",
     .least = 1,
     .leads = true,
     .stand_in = "A"},
    {.path = "place[].want[1]",
     .ask = "  its lower corner on the zero side, wanted from the zero rake",
     .why = "Where the owner would like it. No matter where: an empty line.",
     .usual = ""},
    {.path = "place[].want[2]",
     .ask = "  and up the roof",
     .why = "From the eave edge, on the shingles.",
     .needs = "place[].want[1]",
     .stand_in = "0"},
    {.path = "place[].top",
     .ask = "  top line on strut or feet",
     .why = "strut: a rail lagged to the rafters carries the legs; feet: each leg has its own.",
     .usual = "strut"},
    {.path = "place[].bottom",
     .ask = "  bottom line on strut or feet",
     .why = "strut: a rail lagged to the rafters carries the legs; feet: each leg has its own.",
     .usual = "feet"},
    {.path = "place[].kit",
     .ask = "  its kit file",
     .why = "The frame's own figures, a file beside this one. There is none yet? `ruddle survey "
            "--out DIR` writes a commented one to fill in. Ctrl-C keeps all that was answered.",
     .usual = "kit.yaml",
     .stand_in = "-"},
};

void questions_path(const char *path, size_t entry, char concrete[ANSWERS_PATH]) {
    const char *gap = strstr(path, "[]");
    if (gap == NULL || entry == 0) {
        snprintf(concrete, ANSWERS_PATH, "%s", path);
    } else {
        snprintf(concrete, ANSWERS_PATH, "%.*s[%zu%s", (int)(gap - path), path, entry, gap + 1);
    }
}

/* True if both are asked of the same list's entries. */
static bool same_list(const struct question *one, const struct question *other) {
    const char *gap = strstr(one->path, "[]");
    return gap != NULL && strncmp(one->path, other->path, (size_t)(gap - one->path) + 2) == 0;
}

/* Whether what it needs was answered so. */
static bool applies(const struct walk *walk, const struct question *question) {
    char path[ANSWERS_PATH];
    if (question->needs == NULL) {
        return true;
    }
    questions_path(question->needs, walk->entry + 1, path);
    const struct answered_key *key = answers_find(walk->answers, path);
    return key != NULL && !key->left_out &&
           (question->unless == NULL || strcmp(key->value, question->unless) != 0);
}

/* A quick question is asked as long as neither it nor what it stands for was answered. */
static bool is_past(const struct walk *walk, const struct question *question, const char *path) {
    return question->quick[0] != NULL &&
           (answers_find(walk->answers, path) != NULL ||
            (walk->opened != NULL && strcmp(walk->opened, path) == 0));
}

/* Behind the first question of an entry that was left out the list is over; behind the last
 * question of an entry the next one begins. */
static void turn(struct walk *walk) {
    const struct question *last = &questions[walk->at - 1];
    const bool more = walk->at < COUNT(questions) && same_list(last, &questions[walk->at]);
    if (strstr(last->path, "[]") == NULL) {
        return;
    }
    if (last->leads) {
        char path[ANSWERS_PATH];
        questions_path(last->path, walk->entry + 1, path);
        const struct answered_key *key = answers_find(walk->answers, path);
        walk->led = key != NULL && !key->left_out;
    }
    if (walk->led && !more) {
        walk->entry++;
        while (!questions[--walk->at].leads) {
            /* back to the first of the list */
        }
    } else if (!walk->led) {
        while (walk->at < COUNT(questions) && same_list(last, &questions[walk->at])) {
            walk->at++;
        }
        walk->entry = 0;
    }
}

bool walk_next(struct walk *walk, struct asked *asked) {
    for (;;) {
        if (walk->at > 0) {
            turn(walk);
        }
        if (walk->at == COUNT(questions)) {
            return false;
        }
        const struct question *question = &questions[walk->at++];
        const bool in_list = strstr(question->path, "[]") != NULL;
        *asked = (struct asked){.question = question, .entry = in_list ? walk->entry + 1 : 0};
        questions_path(question->path, asked->entry, asked->path);
        if (applies(walk, question) && !is_past(walk, question, asked->path)) {
            return true;
        }
    }
}
