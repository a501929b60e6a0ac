/* Members in their order, and their targets: what is sound, how far off a survey may be. */
#include "members.h"

#include <stdio.h>
#include <stdlib.h>

#define PLY_THICKNESS 1.5  /* inches: a dressed two-by (American Softwood Lumber Standard PS 20) */
#define DOUBT 2.0          /* inches: common practice, no source */
#define WALL_KEEP 6.0      /* inches: lags stay this far uphill of the wall plate */
#define HEIGHTS_APART 12.0 /* inches: two measurements closer than that tell no lean */

enum seam { SEAM_AVOID, SEAM_BONDED, SEAM_COUNT };
enum framed { FRAMED_RAFTERS, FRAMED_TRUSSES, FRAMED_COUNT };

/* By x at half the slope, then as they stood in the file. */
static int compare_members(const void *left, const void *right, double half) {
    const struct member *a = left, *b = right;
    double at = a->at + a->lean * half, other = b->at + b->lean * half;
    if (at < other || other < at)
        return at < other ? -1 : 1;
    return a->entry < b->entry ? -1 : a->entry > b->entry;
}

/* Insertion: at most 200, mostly in order already, and the order needs the slope. */
static void sort_members(struct member *members, size_t count, double half) {
    for (size_t i = 1; i < count; i++) {
        struct member member = members[i];
        size_t place = i;
        for (; place > 0 && compare_members(&members[place - 1], &member, half) > 0; place--)
            members[place] = members[place - 1];
        members[place] = member;
    }
}

/* Reads those that have a place at all, sorted; returns how many. */
static size_t read_members(const struct reader *reader, const struct survey_rafters *survey,
                           const struct framing *framing, struct member *members) {
    size_t count = 0;
    for (size_t i = 0; i < survey->list_count; i++) {
        struct reader inside = reader_entry(reader, "list", i);
        members[count] = member_read(&inside, &survey->list[i], framing);
        members[count].entry = i;
        if (!isnan(members[count].at))
            count++;
    }
    sort_members(members, count, framing->slope / 2);
    return count;
}

static void refuse_overlap(const struct reader *reader, const struct survey_rafters *survey,
                           const struct framing *framing, const struct member *before,
                           const struct member *member, double y) {
    struct reader inside = reader_entry(reader, "list", member->entry);
    const char *where = before->lean < 0 || before->lean > 0 || member->lean < 0 || member->lean > 0
                            ? y > 0 ? " at the ridge" : " at the eave"
                            : "";
    reader_refuse(&inside, "at", survey->list[member->entry].at,
                  "a rafter clear of rafters.list[%zu], whose wood lies from %s to %s%s",
                  before->entry + 1,
                  reader_shown(reader, member_face(before, framing, SIDE_NEAR, y)).text,
                  reader_shown(reader, member_face(before, framing, SIDE_FAR, y)).text, where);
}

/* Members may touch but not overlap; at height y each is held against the one that reaches furthest
 * before it. */
static void refuse_overlaps(const struct reader *reader, const struct survey_rafters *survey,
                            const struct framing *framing, struct member *members, size_t count,
                            double y) {
    size_t reach = 0;
    for (size_t i = 1; i < count; i++) {
        double end = member_face(&members[reach], framing, SIDE_FAR, y);
        double start = member_face(&members[i], framing, SIDE_NEAR, y);
        if (end - start > LENGTH_TOLERANCE && !members[i].refused) {
            refuse_overlap(reader, survey, framing, &members[reach], &members[i], y);
            members[i].refused = true;
        }
        if (member_face(&members[i], framing, SIDE_FAR, y) > end)
            reach = i;
    }
}

/* The targets of one member, by x. */
static void add_plies(struct roof *roof, const struct member *member,
                      const struct framing *framing) {
    struct rafter *rafter = &roof->rafters[roof->rafter_count];
    size_t plies = member_plies(member);
    for (size_t i = 0; i < plies; i++) {
        double steps = (double)i - (double)member->toward;
        struct ply ply = {.rafter = roof->rafter_count,
                          .at = member->at + steps * (framing->thickness + member->gap),
                          .lean = member->lean,
                          .half = framing->thickness / 2,
                          .tolerance = member->tolerance,
                          .reach = {framing->reach_low, ROOF_ENDLESS}};
        if (i != member->toward) {
            ply.reach[0] = fmax(ply.reach[0], member->sister[0]);
            ply.reach[1] = member->sister[1];
        }
        if (framing->bonded) {
            ply.at = (rafter->from + rafter->to) / 2;
            ply.half = (rafter->to - rafter->from) / 2;
        }
        if (member->ply_sound[i] && (!framing->bonded || i == 0)) {
            roof->plies[roof->ply_count++] = ply;
            rafter->ply_count++;
        }
    }
}

static enum outcome store_members(struct roof *roof, const struct member *members, size_t count,
                                  const struct framing *framing) {
    roof->rafters = calloc(count + 1, sizeof *roof->rafters);
    roof->plies = calloc(count * ROOF_PLIES_MOST + 1, sizeof *roof->plies);
    if (roof->rafters == NULL || roof->plies == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < count; i++) {
        const struct member *member = &members[i];
        roof->rafters[i] = (struct rafter){.at = member->at,
                                           .lean = member->lean,
                                           .from = member_face(member, framing, SIDE_NEAR, 0),
                                           .to = member_face(member, framing, SIDE_FAR, 0),
                                           .sound = member->sound,
                                           .tolerance = member->tolerance,
                                           .plies = member_plies(member),
                                           .first_ply = roof->ply_count};
        add_plies(roof, member, framing);
        roof->rafter_count++;
    }
    return OUTCOME_DONE;
}

/* Where `at` and `again` were measured: eave and ridge unless the survey says otherwise. */
static void read_heights(const struct reader *reader, const struct survey_texts *texts,
                         struct framing *framing) {
    char written[READER_KEY_MOST];
    double *heights = framing->heights;
    heights[0] = 0;
    heights[1] = framing->slope;
    if (texts->count == 0)
        return;
    reader_tuple(reader, "heights", texts, SIGN_NOT_NEGATIVE, 2, heights);
    if (fmax(heights[0], heights[1]) > framing->slope + LENGTH_TOLERANCE)
        reader_refuse(reader, "heights", reader_written(written, texts),
                      "two heights on the face, whose ridge is at %s",
                      reader_shown(reader, framing->slope).text);
    else if (fabs(heights[1] - heights[0]) < HEIGHTS_APART - LENGTH_TOLERANCE)
        reader_refuse(reader, "heights", reader_written(written, texts),
                      "two heights at least %s apart", reader_shown(reader, HEIGHTS_APART).text);
}

/* The wall line, and the least y of a lag: uphill of the wall. */
static double read_wall(const struct reader *reader, const char *text, struct roof *roof) {
    double slope = roof->slope;
    if (text == NULL)
        return -ROOF_ENDLESS;
    double wall = reader_length(reader, "wall_line", text, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    if (wall + WALL_KEEP >= slope)
        reader_refuse(reader, "wall_line", text,
                      "the wall plate's outer face, further than %s below the ridge, which is at "
                      "%s",
                      reader_shown(reader, WALL_KEEP).text, reader_shown(reader, slope).text);
    roof->has_wall_line = true;
    roof->wall_line = wall;
    return wall + WALL_KEEP;
}

static void read_framing(const struct reader *reader, const struct survey_rafters *survey,
                         struct framing *framing, struct roof *roof) {
    static const char *const found_list[] = {
        [FOUND_PROBED] = "probed", [FOUND_ATTIC] = "attic", [FOUND_SOUNDED] = "sounded"};
    static const double tolerances[] = {
        [FOUND_PROBED] = 0.125, [FOUND_ATTIC] = 0.25, [FOUND_SOUNDED] = 0.5}; /* inches */
    static const char *const seam_list[SEAM_COUNT] = {
        [SEAM_AVOID] = "avoid", [SEAM_BONDED] = "bonded"};
    static const struct reader_words found_words = {found_list, 3};
    static const struct reader_words seam_words = {seam_list, SEAM_COUNT};
    roof->found =
        (enum found)reader_word(reader, "found", survey->found, &found_words, FOUND_PROBED);
    framing->tolerance = reader_length(reader, "tolerance", survey->tolerance, SIGN_NOT_NEGATIVE,
                                       tolerances[roof->found]);
    framing->thickness =
        reader_length(reader, "thickness", survey->thickness, SIGN_ABOVE_ZERO, PLY_THICKNESS);
    roof->doubt = reader_length(reader, "doubt", survey->doubt, SIGN_ABOVE_ZERO, DOUBT);
    framing->bonded =
        reader_word(reader, "seam", survey->seam, &seam_words, SEAM_AVOID) == SEAM_BONDED;
    framing->slope = roof->slope;
    framing->span = plane_span(roof);
    read_heights(reader, &survey->heights, framing);
}

/* What stands at the head of the file about its timbers. */
static void read_head(const struct reader *reader, const struct survey_roof *survey,
                      struct framing *framing, struct roof *roof) {
    static const char *const list[FRAMED_COUNT] = {
        [FRAMED_RAFTERS] = "rafters", [FRAMED_TRUSSES] = "trusses"};
    static const struct reader_words words = {list, FRAMED_COUNT};
    roof->trusses =
        reader_word(reader, "framing", survey->framing, &words, FRAMED_RAFTERS) == FRAMED_TRUSSES;
    framing->reach_low = read_wall(reader, survey->wall_line, roof);
}

enum outcome rafters_build(const struct reader *reader, const struct survey_roof *survey,
                           struct roof *roof) {
    static const struct survey_rafters none;
    struct reader inside = reader_group(reader, "rafters");
    const struct survey_rafters *rafters = survey->rafters != NULL ? survey->rafters : &none;
    struct framing framing;
    read_framing(&inside, rafters, &framing, roof);
    read_head(reader, survey, &framing, roof);
    size_t count = rafters->list_count;
    if (count < 1 || count > ROOF_RAFTERS_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu rafters", count);
        reader_refuse(&inside, "list", found, "1 to %d rafters, such as - {at: 16 1/4}",
                      ROOF_RAFTERS_MOST);
        return OUTCOME_DONE;
    }
    struct member *members = calloc(count, sizeof *members);
    if (members == NULL)
        return OUTCOME_FAULT;
    count = read_members(&inside, rafters, &framing, members);
    refuse_overlaps(&inside, rafters, &framing, members, count, 0);
    refuse_overlaps(&inside, rafters, &framing, members, count, roof->slope);
    enum outcome outcome = store_members(roof, members, count, &framing);
    free(members);
    return outcome;
}
