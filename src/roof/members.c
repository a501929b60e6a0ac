/* One entry of the list of rafters: where it lies, how its plies lie, which of them are sound. */
#include "members.h"

#include <stdio.h>

#define SISTER_END 4.0 /* inches: lags stay this far inside a sister's ends */

enum sister { SISTER_AWAY, SISTER_TOWARD, SISTER_BOTH, SISTER_COUNT };

size_t member_plies(const struct member *member) {
    return 1 + member->toward + member->away;
}

double member_face(const struct member *member, const struct framing *framing, enum side side,
                   double y) {
    double step = framing->thickness + member->gap;
    double out = side == SIDE_NEAR ? -framing->thickness / 2 - (double)member->toward * step
                                   : framing->thickness / 2 + (double)member->away * step;
    return member->at + member->lean * y + out;
}

/* Where the plies beside the original lie; `both` starts with the far side. */
static void read_plies(const struct reader *reader, const struct survey_rafter *survey,
                       struct member *member) {
    static const char *const list[SISTER_COUNT] = {
        [SISTER_AWAY] = "away", [SISTER_TOWARD] = "toward", [SISTER_BOTH] = "both"};
    static const struct reader_words words = {list, SISTER_COUNT};
    size_t before = reader->problems->total;
    size_t plies = reader_count(reader, "plies", survey->plies, ROOF_PLIES_MOST, 1);
    bool alone = reader->problems->total == before && plies == 1;
    size_t sister = reader_word(reader, "sister", survey->sister, &words, SISTER_AWAY);
    if (plies > 1 && survey->sister == NULL)
        reader_refuse(reader, "sister", "",
                      "away, toward or both: the side of the original that the extra plies lie on");
    const struct {
        const char *key, *text;
        bool written;
    } of_sisters[] = {
        {"sister", survey->sister, survey->sister != NULL},
        {"ply_gap", survey->ply_gap, survey->ply_gap != NULL},
        {"sister_reach", "", survey->sister_reach.count > 0},
    };
    for (size_t i = 0; i < sizeof of_sisters / sizeof *of_sisters && alone; i++)
        if (of_sisters[i].written)
            reader_refuse(
                reader, of_sisters[i].key, of_sisters[i].text,
                "plies: 2 or more beside it, such as {at: 40 1/8, plies: 2, sister: away}");
    size_t extra = plies - 1;
    member->away = sister == SISTER_AWAY ? extra : sister == SISTER_BOTH ? (extra + 1) / 2 : 0;
    member->toward = extra - member->away;
}

/* Which plies are sound; `sound` speaks of all of them. */
static void read_sound(const struct reader *reader, const struct survey_rafter *survey,
                       struct member *member) {
    bool sound = reader_yes(reader, "sound", survey->sound, true);
    const struct survey_texts *texts = &survey->ply_sound;
    size_t plies = member_plies(member), good = 0;
    char key[32], written[READER_KEY_MOST];
    for (size_t i = 0; i < plies; i++)
        member->ply_sound[i] = sound;
    member->sound = sound;
    if (texts->count == 0)
        return;
    if (texts->count != plies) {
        reader_refuse(reader, "ply_sound", reader_written(written, texts),
                      "yes or no for each ply, %zu here, nearest the corner first", plies);
        return;
    }
    for (size_t i = 0; i < plies; i++) {
        snprintf(key, sizeof key, "ply_sound[%zu]", i + 1);
        member->ply_sound[i] =
            reader_yes(reader, key, texts->list[i] != NULL ? texts->list[i] : "", true);
        good += member->ply_sound[i];
    }
    if (survey->sound != NULL && sound != (good > 0))
        reader_refuse(reader, "ply_sound", reader_written(written, texts),
                      "what sound: %s says of the whole rafter, or no sound beside it",
                      survey->sound);
    member->sound = good > 0;
}

/* Where its middle lies, from one or two measurements. */
static void read_line(const struct reader *reader, const struct survey_rafter *survey,
                      const struct framing *framing, struct member *member) {
    static const char *const keys[2] = {"at", "again"};
    const char *const texts[2] = {survey->at, survey->again};
    const struct span *span = &framing->span;
    enum sign sign = span->least < 0 ? SIGN_ANY : SIGN_NOT_NEGATIVE;
    double found[2] = {NAN, NAN};
    for (size_t i = 0; i < 2; i++) {
        found[i] = found[0];
        if (i == 1 && texts[1] == NULL)
            break;
        found[i] = reader_length(reader, keys[i], texts[i], sign, READER_REQUIRED);
        bool over = found[i] > span->most + LENGTH_TOLERANCE;
        if (!over && !(found[i] < span->least - LENGTH_TOLERANCE))
            continue;
        reader_refuse(reader, keys[i], texts[i], "a rafter on the face, at %s %s from the corner",
                      over ? "most" : "least",
                      reader_shown(reader, over ? span->most : span->least).text);
        found[i] = NAN;
    }
    member->at = found[0];
    if (texts[1] == NULL)
        return;
    member->lean = (found[1] - found[0]) / (framing->heights[1] - framing->heights[0]);
    member->at = found[0] - member->lean * framing->heights[0];
}

static void read_sister_reach(const struct reader *reader, const struct survey_rafter *survey,
                              const struct framing *framing, struct member *member) {
    const struct survey_texts *texts = &survey->sister_reach;
    char written[READER_KEY_MOST];
    member->sister[0] = -ROOF_ENDLESS;
    member->sister[1] = ROOF_ENDLESS;
    if (texts->count == 0)
        return;
    double reach[2];
    reader_range(reader, "sister_reach", texts, reach);
    double length = reach[1] - reach[0];
    if (reach[1] > framing->slope + LENGTH_TOLERANCE)
        reader_refuse(reader, "sister_reach", reader_written(written, texts),
                      "where the sister runs up the face, whose ridge is at %s",
                      reader_shown(reader, framing->slope).text);
    else if (length >= 0 && length < 2 * SISTER_END - LENGTH_TOLERANCE)
        reader_refuse(reader, "sister_reach", reader_written(written, texts),
                      "a sister at least %s long (lags stay %s inside its ends); a shorter one is "
                      "no ply",
                      reader_shown(reader, 2 * SISTER_END).text,
                      reader_shown(reader, SISTER_END).text);
    member->sister[0] = reach[0] + SISTER_END;
    member->sister[1] = reach[1] - SISTER_END;
}

/* Plies glued in a factory have no gap, no sister of another length, no bad one among them. */
static void refuse_unbonded(const struct reader *reader, const struct survey_rafter *survey,
                            const struct member *member) {
    static const char wanted[] =
        "rafters.seam: avoid (plies that differ are not one bonded target)";
    char written[READER_KEY_MOST];
    if (member->gap > 0)
        reader_refuse(reader, "ply_gap", survey->ply_gap, "%s", wanted);
    if (survey->sister_reach.count > 0)
        reader_refuse(reader, "sister_reach", reader_written(written, &survey->sister_reach), "%s",
                      wanted);
    for (size_t i = 0; i < member_plies(member) && survey->ply_sound.count > 0; i++)
        if (!member->ply_sound[i]) {
            reader_refuse(reader, "ply_sound", reader_written(written, &survey->ply_sound), "%s",
                          wanted);
            return;
        }
}

struct member member_read(const struct reader *reader, const struct survey_rafter *survey,
                          const struct framing *framing) {
    struct member member = {0};
    read_line(reader, survey, framing, &member);
    read_plies(reader, survey, &member);
    read_sound(reader, survey, &member);
    member.gap = reader_length(reader, "ply_gap", survey->ply_gap, SIGN_NOT_NEGATIVE, 0);
    read_sister_reach(reader, survey, framing, &member);
    if (framing->bonded && member_plies(&member) > 1)
        refuse_unbonded(reader, survey, &member);
    member.tolerance = framing->tolerance; /* may be NaN: refused once is enough */
    if (survey->tolerance != NULL)
        member.tolerance = reader_length(reader, "tolerance", survey->tolerance, SIGN_NOT_NEGATIVE,
                                         READER_REQUIRED);
    return member;
}
