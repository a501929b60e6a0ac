/* The hardware: one kit file, in its own measure, turned so that x grows away from the corner. */
#include "build.h"

#include <stdlib.h>
#include <string.h>

#define GALLONS_PER_LITRE (1 / 3.785411784) /* US gallons, exact */
#define LAG_EDGE_DIAMETERS 1.5              /* least edge distance of a lag, NDS Table 12.5.1C */

static int compare_lengths(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return a < b ? -1 : a > b;
}

/* Legs: inside the bracket, each beyond the one before. */
static void read_legs(const struct reader *reader, const struct survey_bracket *survey,
                      struct kit *kit) {
    struct list_wanted wanted = {SIGN_NOT_NEGATIVE, 1, ROOF_LEGS_MOST};
    char written[READER_KEY_MOST];
    kit->leg_count = reader_lengths(reader, "legs", &survey->legs, &wanted, kit->legs);
    for (size_t i = 0; i < kit->leg_count; i++) {
        if (kit->legs[i] > kit->width + LENGTH_TOLERANCE) {
            reader_refuse(reader, "legs", reader_written(written, &survey->legs),
                          "legs inside the bracket, at most %s from its left side",
                          reader_shown(reader, kit->width).text);
            return;
        }
        if (i > 0 && kit->legs[i] <= kit->legs[i - 1] + LENGTH_TOLERANCE) {
            reader_refuse(reader, "legs", reader_written(written, &survey->legs),
                          "each leg beyond the one before it, such as [12, 60]");
            return;
        }
    }
}

static void read_windows(const struct reader *reader, const struct survey_bracket *survey,
                         struct kit *kit) {
    static const char *const keys[ROW_COUNT] = {[ROW_TOP] = "top", [ROW_BOTTOM] = "bottom"};
    const struct survey_texts *texts[ROW_COUNT] = {
        [ROW_TOP] = &survey->top, [ROW_BOTTOM] = &survey->bottom};
    char written[READER_KEY_MOST];
    for (size_t row = 0; row < ROW_COUNT; row++) {
        reader_range(reader, keys[row], texts[row], kit->window[row]);
        if (kit->window[row][1] > kit->height + LENGTH_TOLERANCE)
            reader_refuse(reader, keys[row], reader_written(written, texts[row]),
                          "a range inside the bracket, which is %s high",
                          reader_shown(reader, kit->height).text);
    }
    if (kit->window[ROW_BOTTOM][1] >= kit->window[ROW_TOP][0] - LENGTH_TOLERANCE)
        reader_refuse(reader, "bottom", reader_written(written, texts[ROW_BOTTOM]),
                      "a range that ends below where top begins, at %s",
                      reader_shown(reader, kit->window[ROW_TOP][0]).text);
}

static void read_bracket(const struct reader *reader, const struct survey_bracket *survey,
                         struct kit *kit) {
    static const struct survey_bracket none;
    static const struct survey_bottom_bracket no_bottom;
    struct reader inside = reader_group(reader, "bracket");
    struct reader below = reader_group(&inside, "bottom_bracket");
    if (survey == NULL)
        survey = &none;
    const struct survey_bottom_bracket *bottom =
        survey->bottom_bracket != NULL ? survey->bottom_bracket : &no_bottom;
    kit->width = reader_length(&inside, "width", survey->width, SIGN_ABOVE_ZERO, READER_REQUIRED);
    kit->height =
        reader_length(&inside, "height", survey->height, SIGN_ABOVE_ZERO, READER_REQUIRED);
    read_legs(&inside, survey, kit);
    read_windows(&inside, survey, kit);
    reader_range(&below, "gap", &bottom->gap, kit->gap);
    kit->depth = reader_length(&below, "depth", bottom->depth, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->wrench =
        reader_length(&below, "wrench", bottom->wrench, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->standoff =
        reader_length(&inside, "standoff", survey->standoff, SIGN_NOT_NEGATIVE, READER_REQUIRED);
}

static void read_foot(const struct reader *reader, const struct survey_foot *survey,
                      struct kit *kit) {
    static const struct survey_foot none;
    struct reader inside = reader_group(reader, "foot");
    if (survey == NULL)
        survey = &none;
    kit->foot_reach =
        reader_length(&inside, "reach", survey->reach, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->foot_slot =
        reader_length(&inside, "slot", survey->slot, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->foot_half =
        reader_length(&inside, "half", survey->half, SIGN_NOT_NEGATIVE, READER_REQUIRED);
}

static void read_strut(const struct reader *reader, const struct survey_strut *survey,
                       struct kit *kit) {
    static const char *const holes_list[] = {"every-rafter", "span"};
    static const struct reader_words holes = {holes_list, 2};
    static const struct list_wanted stock = {SIGN_ABOVE_ZERO, 1, ROOF_STOCK_MOST};
    static const struct survey_strut none;
    struct reader inside = reader_group(reader, "strut");
    if (survey == NULL)
        survey = &none;
    kit->strut_half =
        reader_length(&inside, "half", survey->half, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->grip = reader_length(&inside, "grip", survey->grip, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->lag_clear =
        reader_length(&inside, "lag_clear", survey->lag_clear, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->strut_end = reader_length(&inside, "end", survey->end, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->overhang =
        reader_length(&inside, "overhang", survey->overhang, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->span = reader_length(&inside, "span", survey->span, SIGN_ABOVE_ZERO, READER_REQUIRED);
    kit->every_rafter = reader_word(&inside, "holes", survey->holes, &holes, 0) == 0;
    kit->stock_count = reader_lengths(&inside, "stock", &survey->stock, &stock, kit->stock);
    qsort(kit->stock, kit->stock_count, sizeof *kit->stock, compare_lengths);
}

void flashing_build(const struct reader *reader, const struct survey_flashing *survey,
                    struct flashing *flashing) {
    static const struct survey_flashing none;
    struct reader inside = reader_group(reader, "flashing");
    if (survey == NULL)
        survey = &none;
    flashing->width =
        reader_length(&inside, "width", survey->width, SIGN_ABOVE_ZERO, READER_REQUIRED);
    flashing->height =
        reader_length(&inside, "height", survey->height, SIGN_ABOVE_ZERO, READER_REQUIRED);
    flashing->hole_up =
        reader_length(&inside, "hole_up", survey->hole_up, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    if (flashing->hole_up > flashing->height + LENGTH_TOLERANCE)
        reader_refuse(&inside, "hole_up", survey->hole_up,
                      "a hole inside the flashing, which is %s high",
                      reader_shown(reader, flashing->height).text);
    flashing->block =
        reader_length(&inside, "block", survey->block, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    reader_range(&inside, "edge", &survey->edge, flashing->edge);
    flashing->clear =
        reader_length(&inside, "clear", survey->clear, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    flashing->lap = reader_length(&inside, "lap", survey->lap, SIGN_NOT_NEGATIVE, READER_REQUIRED);
}

static void read_lag(const struct reader *reader, const struct survey_lag *survey,
                     struct kit *kit) {
    static const struct survey_lag none;
    struct reader inside = reader_group(reader, "lag");
    if (survey == NULL)
        survey = &none;
    kit->lag_diameter =
        reader_length(&inside, "diameter", survey->diameter, SIGN_ABOVE_ZERO, READER_REQUIRED);
    kit->lag_length =
        reader_length(&inside, "length", survey->length, SIGN_ABOVE_ZERO, READER_REQUIRED);
    kit->lag_through =
        reader_length(&inside, "through", survey->through, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->lag_edge = LAG_EDGE_DIAMETERS * kit->lag_diameter;
    if (survey->edge != NULL)
        kit->lag_edge =
            reader_length(&inside, "edge", survey->edge, SIGN_NOT_NEGATIVE, READER_REQUIRED);
}

/* lb and US gallons, in mm kits kg and litres. */
static void read_weight(const struct reader *reader, const struct survey_weight *survey,
                        struct kit *kit) {
    struct reader inside = reader_group(reader, "weight");
    bool metric = reader->measure == MEASURE_MM;
    if (survey == NULL)
        return;
    double dry = reader_number(&inside, "dry", survey->dry, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    double fill = reader_number(&inside, "fill", survey->fill, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->has_weight = true;
    kit->dry_lb = metric ? dry * (1 / UNIT_KG_PER_LB) : dry;
    kit->fill_gallons = metric ? fill * GALLONS_PER_LITRE : fill;
    kit->filled_lb = kit->dry_lb + kit->fill_gallons * ROOF_WATER_LB_PER_GALLON;
    reader_tuple(&inside, "centre", &survey->centre, SIGN_NOT_NEGATIVE, 3, kit->centre);
}

/* Of a strut by the foot, in mm kits by the metre. */
static void read_prices(const struct reader *reader, const struct survey_prices *survey,
                        struct kit *kit) {
    struct reader inside = reader_group(reader, "prices");
    const double length_in = reader->measure == MEASURE_MM ? 1000 / LENGTH_MM_PER_INCH : 12;
    if (survey == NULL)
        return;
    kit->has_prices = true;
    kit->price_foot =
        reader_number(&inside, "foot", survey->foot, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->price_strut_in =
        reader_number(&inside, "strut", survey->strut, SIGN_NOT_NEGATIVE, READER_REQUIRED) /
        length_in;
    kit->price_clamp =
        reader_number(&inside, "clamp", survey->clamp, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->price_lag = reader_number(&inside, "lag", survey->lag, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    kit->price_flashing =
        reader_number(&inside, "flashing", survey->flashing, SIGN_NOT_NEGATIVE, READER_REQUIRED);
}

/* From the bracket's left side to the side nearer a corner on the right. */
static void mirror(struct kit *kit) {
    for (size_t i = 0; i < kit->leg_count; i++)
        kit->legs[i] = kit->width - kit->legs[i];
    for (size_t i = 0; i < kit->leg_count / 2; i++) {
        double leg = kit->legs[i];
        kit->legs[i] = kit->legs[kit->leg_count - 1 - i];
        kit->legs[kit->leg_count - 1 - i] = leg;
    }
    if (kit->has_weight)
        kit->centre[0] = kit->width - kit->centre[0];
}

void kit_build(const struct reader *reader, const struct survey_kit *survey, enum corner corner,
               struct kit *kit) {
    reader_text(reader, "kit", survey->kit, kit->name, sizeof kit->name);
    read_bracket(reader, survey->bracket, kit);
    read_foot(reader, survey->foot, kit);
    read_strut(reader, survey->strut, kit);
    flashing_build(reader, survey->flashing, &kit->flashing);
    read_lag(reader, survey->lag, kit);
    read_weight(reader, survey->weight, kit);
    read_prices(reader, survey->prices, kit);
    if (corner == CORNER_RIGHT)
        mirror(kit);
}
