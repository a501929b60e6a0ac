/* What hangs on a random roof. */
#include "random_roof.h"

#define INCHES(n) (16 * (n))

static const char *const exposures[] = {"B", "C", "D"};
static const char *const sizes[] = {"2x4", "2x6", "2x8", "2x10"};
static const char *const woods[] = {"douglas-fir-larch", "hem-fir", "southern-pine",
                                    "spruce-pine-fir"};

static void make_lumber(struct random_source *source, struct random_loads *loads) {
    loads->lumber = true;
    loads->size = random_between(source, 0, (int)(sizeof sizes / sizeof *sizes) - 1);
    loads->species = random_between(source, 0, (int)(sizeof woods / sizeof *woods) - 1);
    loads->bearing = random_length(source, 0, 24, 16);
    loads->span = random_length(source, 96, 168, 16);
    loads->dead_psf = random_between(source, 8, 15);
}

void random_loads_make(struct random_source *source, struct random_roof *roof) {
    struct random_loads *loads = &roof->loads;
    struct random_kit *kit = &roof->kit;
    loads->given = true;
    loads->snow_psf = random_between(source, 0, 50);
    loads->windy = random_once_in(source, 2);
    loads->uplift_psf = random_between(source, 5, 40);
    loads->speed_mph = random_between(source, 85, 140);
    loads->height_ft = random_between(source, 10, 30);
    loads->exposure = random_between(source, 0, 2);
    loads->coefficient_x10 = random_between(source, 10, 20);
    loads->no_gap = random_once_in(source, 4);
    if (!random_once_in(source, 3))
        make_lumber(source, loads);
    kit->dry_lb = random_between(source, 60, 260);
    kit->fill_gal = random_between(source, 0, 90);
    kit->centre[0] = kit->width / 2 + random_between(source, -INCHES(3), INCHES(3));
    kit->centre[1] = kit->height * random_between(source, 40, 80) / 100;
    kit->centre[2] = random_length(source, 4, 14, 8);
}

/* Metric figures to nine decimals: strength turns on no such difference. */
#define KPA_PER_PSF 0.04788025898
#define MPS_PER_MPH 0.44704
#define M_PER_FT 0.3048
#define KG_PER_LB 0.45359237
#define L_PER_GAL 3.785411784

static void put_number(FILE *file, const char *key, double number, double metric, bool mm) {
    fprintf(file, "%s: %.9f", key, mm ? number * metric : number);
}

static double length(int sixteenths, bool mm) {
    return sixteenths * (mm ? 1.5875 : 0.0625);
}

static void write_wind(const struct random_loads *loads, bool mm, FILE *file) {
    put_number(file, "  wind: {speed", loads->speed_mph, MPS_PER_MPH, mm);
    put_number(file, ", height", loads->height_ft, M_PER_FT, mm);
    fprintf(file, ", exposure: %s, coefficient: %d.%d}\n", exposures[loads->exposure],
            loads->coefficient_x10 / 10, loads->coefficient_x10 % 10);
}

void random_loads_write(const struct random_loads *loads, bool mm, FILE *file) {
    if (!loads->given)
        return;
    put_number(file, "loads:\n  snow", loads->snow_psf, KPA_PER_PSF, mm);
    fputs("\n", file);
    if (loads->windy) {
        write_wind(loads, mm, file);
    } else {
        put_number(file, "  uplift", loads->uplift_psf, KPA_PER_PSF, mm);
        fputs("\n", file);
    }
    if (loads->lumber) {
        fprintf(file, "  rafter: {size: %s, species: %s, grade: no2, bearing: %.4f, span: %.4f",
                sizes[loads->size], woods[loads->species], length(loads->bearing, mm),
                length(loads->span, mm));
        put_number(file, ", dead", loads->dead_psf, KPA_PER_PSF, mm);
        fputs("}\n", file);
    }
    fprintf(file, "  gap: %s\n", loads->no_gap ? "no" : "yes");
}

void random_weight_write(const struct random_kit *kit, bool mm, bool mirrored, FILE *file) {
    if (kit->dry_lb == 0)
        return;
    const int x = mirrored ? kit->width - kit->centre[0] : kit->centre[0];
    put_number(file, "weight: {dry", kit->dry_lb, KG_PER_LB, mm);
    put_number(file, ", fill", kit->fill_gal, L_PER_GAL, mm);
    fprintf(file, ", centre: [%.4f, %.4f, %.4f]}\n", length(x, mm), length(kit->centre[1], mm),
            length(kit->centre[2], mm));
}
