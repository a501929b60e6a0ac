#include "judged.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

void judged_make(struct judged *judged, const struct plain_knobs *knobs) {
    static const double centre[] = {38, 64, 12};
    memset(judged, 0, sizeof *judged);
    judged->roof = plain_roof(knobs);
    judged->marks = plain_marks(judged->roof);
    memcpy(judged->roof->kits[0].centre, centre, sizeof centre);
    judged->kit_loads = (struct kit_loads){.centre_dry_in = {36, 60, 10},
                                           .strut_section_in3 = 0.2,
                                           .strut_stress_psi = 19760,
                                           .side_in = 0.5,
                                           .side_psi = LAG_STEEL_SHEET_PSI,
                                           .foot_toe_in = 1};
    judged->loads = (struct loads){.snow_psf = 25,
                                   .wind = WIND_GIVEN_SPEED,
                                   .uplift_psf = wind_uplift_psf(115, EXPOSURE_C, 18, 1.5),
                                   .speed_mph = 115,
                                   .height_ft = 18,
                                   .coefficient = 1.5,
                                   .exposure = EXPOSURE_C,
                                   .has_rafter = true,
                                   .rafter = {.size = LUMBER_2X6,
                                              .species = SPECIES_DOUGLAS_FIR_LARCH,
                                              .bearing_in = 24,
                                              .span_in = 132,
                                              .dead_psf = 12},
                                   .sheathing_in = 0.5,
                                   .roofing_in = 0.375,
                                   .gap = true,
                                   .kits = &judged->kit_loads,
                                   .kit_count = 1};
}

static void forget(struct judged *judged) {
    strength_free(judged->strength);
    verdict_free(judged->verdict);
    judged->strength = NULL;
    judged->verdict = NULL;
}

void judged_judge(struct judged *judged, enum outcome wanted) {
    forget(judged);
    assert_int_equal(check_marks(judged->roof, judged->marks, &judged->verdict), OUTCOME_DONE);
    assert_int_equal(strength_judge(judged->roof, judged->marks, judged->verdict, &judged->loads,
                                    &judged->strength),
                     wanted);
    assert_true((judged->strength != NULL) == (wanted == OUTCOME_DONE));
}

void judged_free(struct judged *judged) {
    forget(judged);
    marks_free(judged->marks);
    roof_free(judged->roof);
}

const struct strength_item *judged_item(const struct judged *judged, enum strength_kind kind,
                                        int which) {
    for (size_t i = 0; i < judged->strength->count; i++) {
        const struct strength_item *item = &judged->strength->items[i];
        const int is = kind == STRENGTH_LAG     ? item->mark
                       : kind == STRENGTH_STRUT ? item->row
                                                : item->rafter;
        if (item->kind == kind && is == which)
            return item;
    }
    return NULL;
}
