/* Members and their targets: where plies lie, what is sound, how far off a survey may be. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>

#define PLY_THICKNESS 1.5 /* inches: a dressed two-by (American Softwood Lumber Standard PS 20) */

enum sister { SISTER_AWAY, SISTER_TOWARD, SISTER_BOTH, SISTER_COUNT };
enum seam { SEAM_AVOID, SEAM_BONDED, SEAM_COUNT };

/* One entry of the list. */
struct member {
    size_t entry; /* its place in the file, from 0 */
    double at, tolerance;
    size_t toward, away; /* extra plies on either side of the original */
    bool sound;
};

/* What holds for all members. */
struct framing {
    double tolerance, thickness;
    bool bonded;
};

static double member_from(const struct member *member, double thickness) {
    return member->at - thickness * (0.5 + (double)member->toward);
}

static double member_to(const struct member *member, double thickness) {
    return member->at + thickness * (0.5 + (double)member->away);
}

/* Where the plies beside the original lie; `both` starts with the far side. */
static void read_plies(const struct reader *reader, const struct survey_rafter *survey,
                       struct member *member) {
    static const char *const list[SISTER_COUNT] = {
        [SISTER_AWAY] = "away", [SISTER_TOWARD] = "toward", [SISTER_BOTH] = "both"};
    static const struct reader_words words = {list, SISTER_COUNT};
    size_t before = reader->problems->total;
    size_t plies = reader_count(reader, "plies", survey->plies, ROOF_PLIES_MOST, 1);
    bool plies_known = reader->problems->total == before;
    size_t sister = reader_word(reader, "sister", survey->sister, &words, SISTER_AWAY);
    if (plies > 1 && survey->sister == NULL)
        reader_refuse(reader, "sister", "",
                      "away, toward or both: the side of the original that the extra plies lie on");
    if (plies == 1 && plies_known && survey->sister != NULL)
        reader_refuse(reader, "sister", survey->sister,
                      "plies: 2 or more beside it, such as {at: 40 1/8, plies: 2, sister: away}");
    size_t extra = plies - 1;
    member->away = sister == SISTER_AWAY ? extra : sister == SISTER_BOTH ? (extra + 1) / 2 : 0;
    member->toward = extra - member->away;
}

static struct member read_member(const struct reader *reader, const struct survey_rafter *survey,
                                 const struct framing *framing, double width) {
    static const char *const later[] = {"again", "ply_sound", "sister_reach", "ply_gap"};
    struct member member = {0};
    refuse_later_keys(reader, later, sizeof later / sizeof *later);
    member.at = reader_length(reader, "at", survey->at, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    if (member.at > width + LENGTH_TOLERANCE)
        reader_refuse(reader, "at", survey->at, "a rafter on the face, at most %s from the corner",
                      reader_shown(reader, width).text);
    read_plies(reader, survey, &member);
    member.sound = reader_yes(reader, "sound", survey->sound, true);
    member.tolerance = framing->tolerance; /* may be NaN: refused once is enough */
    if (survey->tolerance != NULL)
        member.tolerance = reader_length(reader, "tolerance", survey->tolerance, SIGN_NOT_NEGATIVE,
                                         READER_REQUIRED);
    return member;
}

/* By x, then as they stood in the file. */
static int compare_members(const void *left, const void *right) {
    const struct member *a = left, *b = right;
    if (a->at < b->at || b->at < a->at)
        return a->at < b->at ? -1 : 1;
    return a->entry < b->entry ? -1 : a->entry > b->entry;
}

/* Reads those that have a place at all, sorted; returns how many. */
static size_t read_members(const struct reader *reader, const struct survey_rafters *survey,
                           const struct framing *framing, double width, struct member *members) {
    size_t count = 0;
    for (size_t i = 0; i < survey->list_count; i++) {
        struct reader inside = reader_entry(reader, "list", i);
        members[count] = read_member(&inside, &survey->list[i], framing, width);
        members[count].entry = i;
        if (!isnan(members[count].at))
            count++;
    }
    qsort(members, count, sizeof *members, compare_members);
    return count;
}

/* Members may touch but not overlap; each is held against the one that reaches furthest before it.
 */
static void refuse_overlaps(const struct reader *reader, const struct survey_rafters *survey,
                            const struct member *members, size_t count, double thickness) {
    size_t reach = 0;
    for (size_t i = 1; i < count; i++) {
        const struct member *before = &members[reach], *member = &members[i];
        double end = member_to(before, thickness);
        if (end - member_from(member, thickness) > LENGTH_TOLERANCE) {
            struct reader inside = reader_entry(reader, "list", member->entry);
            reader_refuse(&inside, "at", survey->list[member->entry].at,
                          "a rafter clear of rafters.list[%zu], whose wood lies from %s to %s",
                          before->entry + 1,
                          reader_shown(reader, member_from(before, thickness)).text,
                          reader_shown(reader, end).text);
        }
        if (member_to(member, thickness) > end)
            reach = i;
    }
}

/* The targets of one member, by x. */
static void add_plies(struct roof *roof, const struct member *member,
                      const struct framing *framing) {
    size_t plies = 1 + member->toward + member->away;
    struct rafter *rafter = &roof->rafters[roof->rafter_count];
    *rafter = (struct rafter){.at = member->at,
                              .from = member_from(member, framing->thickness),
                              .to = member_to(member, framing->thickness),
                              .sound = member->sound,
                              .tolerance = member->tolerance,
                              .plies = plies,
                              .first_ply = roof->ply_count,
                              .ply_count = !member->sound    ? 0
                                           : framing->bonded ? 1
                                                             : plies};
    double half = framing->bonded ? (rafter->to - rafter->from) / 2 : framing->thickness / 2;
    for (size_t i = 0; i < rafter->ply_count; i++) {
        double steps = (double)i - (double)member->toward;
        double at = framing->bonded ? (rafter->from + rafter->to) / 2
                                    : member->at + steps * framing->thickness;
        roof->plies[roof->ply_count++] = (struct ply){
            .rafter = roof->rafter_count, .at = at, .half = half, .tolerance = member->tolerance,
            .reach = {-ROOF_ENDLESS, ROOF_ENDLESS}};
    }
    roof->rafter_count++;
}

static enum outcome store_members(struct roof *roof, const struct member *members, size_t count,
                                  const struct framing *framing) {
    roof->rafters = calloc(count + 1, sizeof *roof->rafters);
    roof->plies = calloc(count * ROOF_PLIES_MOST + 1, sizeof *roof->plies);
    if (roof->rafters == NULL || roof->plies == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < count; i++)
        add_plies(roof, &members[i], framing);
    return OUTCOME_DONE;
}

static struct framing read_framing(const struct reader *reader, const struct survey_rafters *survey,
                                   struct roof *roof) {
    static const char *const later[] = {"heights", "doubt"};
    static const char *const found_list[] = {
        [FOUND_PROBED] = "probed", [FOUND_ATTIC] = "attic", [FOUND_SOUNDED] = "sounded"};
    static const double tolerances[] = {
        [FOUND_PROBED] = 0.125, [FOUND_ATTIC] = 0.25, [FOUND_SOUNDED] = 0.5}; /* inches */
    static const char *const seam_list[SEAM_COUNT] = {
        [SEAM_AVOID] = "avoid", [SEAM_BONDED] = "bonded"};
    static const struct reader_words found_words = {found_list, 3};
    static const struct reader_words seam_words = {seam_list, SEAM_COUNT};
    struct framing framing;
    refuse_later_keys(reader, later, sizeof later / sizeof *later);
    roof->found =
        (enum found)reader_word(reader, "found", survey->found, &found_words, FOUND_PROBED);
    framing.tolerance = reader_length(reader, "tolerance", survey->tolerance, SIGN_NOT_NEGATIVE,
                                      tolerances[roof->found]);
    framing.thickness =
        reader_length(reader, "thickness", survey->thickness, SIGN_ABOVE_ZERO, PLY_THICKNESS);
    framing.bonded =
        reader_word(reader, "seam", survey->seam, &seam_words, SEAM_AVOID) == SEAM_BONDED;
    return framing;
}

enum outcome rafters_build(const struct reader *reader, const struct survey_rafters *survey,
                           struct roof *roof) {
    static const struct survey_rafters none;
    struct reader inside = reader_group(reader, "rafters");
    if (survey == NULL)
        survey = &none;
    struct framing framing = read_framing(&inside, survey, roof);
    size_t count = survey->list_count;
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
    count = read_members(&inside, survey, &framing, roof->width, members);
    refuse_overlaps(&inside, survey, members, count, framing.thickness);
    enum outcome outcome = store_members(roof, members, count, &framing);
    free(members);
    return outcome;
}
