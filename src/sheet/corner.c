/* The corner check: three sides of a measured corner, taped again before anything is chalked. */
#include "page.h"
#include "places.h"
#include "sections.h"
#include "words.h"

static const double degree = 3.14159265358979323846 / 180;

static void write_triangle(struct page *page, enum side side) {
    const struct roof *roof = page->answer->roof;
    const struct triangle *triangle = &roof->triangles[side];
    double inside =
        roof->rake_rad[side] / degree; /* counts from x; at the far end from its other way */
    char along[LENGTH_TEXT], up[LENGTH_TEXT], across[LENGTH_TEXT];
    page_step(page, "Corner check (3-4-5) at the eave's %s end, before any line.",
              words_side(roof, side));
    page_tick(page, "Chalk a tick  %s along the eave, and  %s up the %s rake.",
              page_fine(roof, along, triangle->along), page_fine(roof, up, triangle->up),
              words_side(roof, side));
    page_tick(page, "Across, from tick to tick, it reads  %s.",
              page_fine(roof, across, triangle->diagonal));
    page_line(page, 6,
              "      Off by more than %s: STOP. So measured the corner is %.1f degrees, and every "
              "reading allows for it.",
              page_either(roof, "1/8\"", "3 mm"), side == SIDE_NEAR ? inside : 180 - inside);
}

void corner_write(struct page *page) {
    for (int side = 0; side < SIDE_COUNT; side++) {
        if (page->answer->roof->triangles[side].diagonal > 0) {
            write_triangle(page, (enum side)side);
        }
    }
}
