/* What hangs on the roof: snow, wind, its rafters as lumber, and what a kit says for strength. */
#include "build.h"

#include "lag.h"

#include <stdlib.h>
#include <string.h>

/* Exact. */
#define IN3_PER_MM3 (1 / (LENGTH_MM_PER_INCH * LENGTH_MM_PER_INCH * LENGTH_MM_PER_INCH))

/* Inches; defaults of the survey's keys. */
#define SHEATHING 0.5
#define ROOFING 0.375 /* one layer of shingles */
#define TOE 1.0

#define WIND_MOST_MPH 400.0
#define SNOW_MOST_PSF 500.0
#define HEIGHT_MOST_FT 500.0

/* A plain number in the file's unit, in ours. */
static double read_in_unit(const struct reader *reader, const char *key, const char *text,
                           double metric, double by_default) {
    const double value = reader_number(reader, key, text, SIGN_NOT_NEGATIVE, by_default);
    return text != NULL && reader->measure == MEASURE_MM ? value * metric : value;
}

static double read_above_zero(const struct reader *reader, const char *key, const char *text,
                              double metric, double by_default) {
    const double value = reader_number(reader, key, text, SIGN_ABOVE_ZERO, by_default);
    return text != NULL && reader->measure == MEASURE_MM ? value * metric : value;
}

/* ---- A kit ---------------------------------------------------------------------------------- */

static void read_foot_and_strut(const struct reader *reader, const struct survey_kit *survey,
                                struct kit_loads *loads) {
    const struct reader foot = reader_group(reader, "foot");
    const struct reader strut = reader_group(reader, "strut");
    loads->foot_toe_in = TOE;
    if (survey->foot != NULL) {
        loads->foot_toe_in = reader_length(&foot, "toe", survey->foot->toe, SIGN_ABOVE_ZERO, TOE);
        loads->foot_lag_factor =
            reader_number(&foot, "lag_factor", survey->foot->lag_factor, SIGN_ABOVE_ZERO, 0);
    }
    if (survey->strut == NULL)
        return;
    loads->strut_section_in3 =
        read_above_zero(&strut, "section", survey->strut->section, IN3_PER_MM3, 0);
    loads->strut_stress_psi =
        read_above_zero(&strut, "stress", survey->strut->stress, UNIT_PSI_PER_MPA, 0);
}

/* The metal under the head; and what a test report allows. */
static void read_side(const struct reader *reader, const struct survey_kit *survey,
                      const struct kit *kit, struct kit_loads *loads) {
    static const struct survey_side no_side;
    static const struct survey_allowable none;
    const struct reader lag = reader_group(reader, "lag");
    const struct reader inside = reader_group(&lag, "side");
    const struct reader flashing = reader_group(reader, "flashing");
    const struct reader report = reader_group(&flashing, "allowable");
    const struct survey_side *side =
        survey->lag != NULL && survey->lag->side != NULL ? survey->lag->side : &no_side;
    const struct survey_allowable *allowable =
        survey->flashing != NULL && survey->flashing->allowable != NULL
            ? survey->flashing->allowable
            : &none;
    loads->side_in =
        reader_length(&inside, "thickness", side->thickness, SIGN_ABOVE_ZERO, kit->lag_through);
    loads->side_psi =
        read_above_zero(&inside, "bearing", side->bearing, UNIT_PSI_PER_MPA, LAG_STEEL_SHEET_PSI);
    loads->allowable_lateral_lb =
        read_above_zero(&report, "lateral", allowable->lateral, 1 / UNIT_N_PER_LB, 0);
    loads->allowable_uplift_lb =
        read_above_zero(&report, "uplift", allowable->uplift, 1 / UNIT_N_PER_LB, 0);
}

void kit_loads_build(const struct reader *reader, const struct survey_kit *survey,
                     enum corner corner, const struct kit *kit, struct kit_loads *loads) {
    const struct reader weight = reader_group(reader, "weight");
    memcpy(loads->centre_dry_in, kit->centre, sizeof loads->centre_dry_in);
    if (survey->weight != NULL && survey->weight->centre_dry.count > 0) {
        reader_tuple(&weight, "centre_dry", &survey->weight->centre_dry, SIGN_NOT_NEGATIVE, 3,
                     loads->centre_dry_in);
        if (corner == CORNER_RIGHT)
            loads->centre_dry_in[0] = kit->width - loads->centre_dry_in[0];
    }
    read_foot_and_strut(reader, survey, loads);
    read_side(reader, survey, kit, loads);
}

/* ---- The roof ------------------------------------------------------------------------------- */

static void read_wind(const struct reader *reader, const struct survey_loads *survey,
                      struct loads *loads) {
    const struct reader inside = reader_group(reader, "wind");
    const struct survey_wind *wind = survey->wind;
    if (wind == NULL) {
        loads->wind = survey->uplift != NULL ? WIND_GIVEN_UPLIFT : WIND_GIVEN_NONE;
        loads->uplift_psf = read_in_unit(reader, "uplift", survey->uplift, UNIT_PSF_PER_KPA, 0);
        return;
    }
    if (survey->uplift != NULL)
        reader_refuse(reader, "uplift", survey->uplift, "either uplift or wind, not both");
    loads->wind = WIND_GIVEN_SPEED;
    loads->speed_mph =
        read_above_zero(&inside, "speed", wind->speed, UNIT_MPH_PER_MPS, READER_REQUIRED);
    loads->height_ft =
        read_above_zero(&inside, "height", wind->height, UNIT_FT_PER_M, READER_REQUIRED);
    loads->coefficient = reader_number(&inside, "coefficient", wind->coefficient, SIGN_NOT_NEGATIVE,
                                       READER_REQUIRED);
    if (!wind_read_exposure(wind->exposure != NULL ? wind->exposure : "", &loads->exposure))
        reader_refuse(&inside, "exposure", wind->exposure, "B, C or D");
    if (loads->speed_mph > WIND_MOST_MPH)
        reader_refuse(&inside, "speed", wind->speed, "a wind speed, such as 115 mph (51 m/s)");
    if (loads->height_ft > HEIGHT_MOST_FT)
        reader_refuse(&inside, "height", wind->height,
                      "the mean height of the roof, such as 18 ft (5.5 m)");
    loads->uplift_psf =
        wind_uplift_psf(loads->speed_mph, loads->exposure, loads->height_ft, loads->coefficient);
}

static void read_lumber(const struct reader *reader, const struct survey_loads_rafter *survey,
                        struct loads *loads) {
    const struct reader inside = reader_group(reader, "rafter");
    struct loads_rafter *rafter = &loads->rafter;
    char words[240];
    if (survey == NULL)
        return;
    loads->has_rafter = true;
    if (!lumber_read_size(survey->size != NULL ? survey->size : "", &rafter->size))
        reader_refuse(&inside, "size", survey->size, "one of %s",
                      lumber_size_words(words, sizeof words));
    if (!lumber_read_species(survey->species != NULL ? survey->species : "", &rafter->species))
        reader_refuse(&inside, "species", survey->species, "one of %s",
                      lumber_species_words(words, sizeof words));
    if (!lumber_knows_grade(survey->grade != NULL ? survey->grade : ""))
        reader_refuse(&inside, "grade", survey->grade,
                      "no2, the one grade known here: it is on the safe side of better ones");
    rafter->bearing_in =
        reader_length(&inside, "bearing", survey->bearing, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    rafter->span_in =
        reader_length(&inside, "span", survey->span, SIGN_ABOVE_ZERO, READER_REQUIRED);
    rafter->dead_psf =
        read_in_unit(&inside, "dead", survey->dead, UNIT_PSF_PER_KPA, READER_REQUIRED);
}

/* A kit in use: its weight, and whether its lag can be reckoned with. */
static void judge_kit(const struct reader *reader, const struct survey_kit_file *file,
                      const struct kit *kit, const struct loads *loads) {
    const struct reader its = {.file = file->path,
                               .lines = file->lines,
                               .measure = reader->measure,
                               .problems = reader->problems};
    const struct reader lag = reader_group(&its, "lag");
    const double gravity =
        loads->has_rafter ? lumber_gravity(loads->rafter.species) : LUMBER_UNKNOWN_GRAVITY;
    const double depth = loads->has_rafter ? lumber_depth_in(loads->rafter.size) : 0;
    const double above = kit->lag_through + loads->roofing_in + loads->sheathing_in;
    struct lag_screw screw;
    struct lag_seat seat;
    if (!kit->has_weight)
        reader_refuse(&its, "weight", NULL,
                      "a weight: the roof's loads ask for the strength of what it hangs on");
    if (!lag_find(kit->lag_diameter, &screw)) {
        reader_refuse(&lag, "diameter", file->kit->lag->diameter, "%s",
                      lag_fault_text(LAG_UNLISTED));
        return;
    }
    const enum lag_fault fault = !lag_gravity_holds(gravity)
                                     ? LAG_NO_GRAVITY
                                     : lag_seat_find(&screw, kit->lag_length, above, depth, &seat);
    if (fault != LAG_GOOD)
        reader_refuse(&lag, "length", file->kit->lag->length, "%s", lag_fault_text(fault));
}

static void judge_kits(const struct reader *reader, const struct survey *survey,
                       const struct roof *roof, const struct loads *loads) {
    for (size_t k = 0; k < roof->kit_count; k++)
        judge_kit(reader, &survey->kits[k], &roof->kits[k], loads);
}

enum outcome loads_build(const struct reader *reader, const struct survey *survey,
                         struct roof *roof) {
    const struct survey_loads *written = survey->roof->loads;
    const struct reader inside = reader_group(reader, "loads");
    const size_t before = reader->problems->total;
    if (written == NULL)
        return OUTCOME_DONE;
    struct loads *loads = calloc(1, sizeof *loads);
    if (loads == NULL)
        return OUTCOME_FAULT;
    roof->loads = loads;
    loads->kits = roof->kit_loads;
    loads->kit_count = roof->kit_count;
    loads->snow_psf = read_in_unit(&inside, "snow", written->snow, UNIT_PSF_PER_KPA, 0);
    if (loads->snow_psf > SNOW_MOST_PSF)
        reader_refuse(&inside, "snow", written->snow,
                      "snow on the roof, at most 500 psf (24 kPa), such as 25 psf (1.2 kPa)");
    read_wind(&inside, written, loads);
    read_lumber(&inside, written->rafter, loads);
    loads->sheathing_in =
        reader_length(&inside, "sheathing", written->sheathing, SIGN_NOT_NEGATIVE, SHEATHING);
    loads->roofing_in =
        reader_length(&inside, "roofing", written->roofing, SIGN_NOT_NEGATIVE, ROOFING);
    loads->gap = reader_yes(&inside, "gap", written->gap, true);
    if (reader->problems->total == before)
        judge_kits(reader, survey, roof, loads);
    return OUTCOME_DONE;
}
