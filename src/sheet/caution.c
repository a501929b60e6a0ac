/* The STOP box: what is ticked before anyone goes up. */
#include "page.h"
#include "sections.h"

static void write_weight(struct page *page, size_t bracket) {
    const struct roof *roof = page->answer->roof;
    const struct kit *kit = roof_kit(roof, bracket);
    const char *name = roof->brackets[bracket].name;
    bool metric = roof->measure == MEASURE_MM;
    double unit = metric ? UNIT_KG_PER_LB : 1;
    if (!kit->has_weight) {
        page_boxed(page,
                   "[ ] WEIGHT of frame %s is not known: look it up. Empty _____ Filled _____",
                   name);
        return;
    }
    page_boxed(page, "[ ] WEIGHT of frame %s: empty %.0f %s, FILLED %.0f %s.", name,
               kit->dry_lb * unit, metric ? "kg" : "lb", kit->filled_lb * unit,
               metric ? "kg" : "lb");
}

void caution_write(struct page *page) {
    const struct roof *roof = page->answer->roof;
    page_blank(page);
    page_box_edge(page);
    page_boxed(page, "STOP. Tick every line before anyone goes up.");
    page_box_edge(page);
    page_boxed(page, "[ ] No wet roof, no frost, no wind, no lightning. If it comes, come down.");
    page_boxed(page, "[ ] Tied off to an anchor in a sound rafter BEFORE the first measurement.");
    page_boxed(page, "[ ] Ladder tied, and %s above the eave. Clear of power lines.",
               page_either(roof, "3 ft", "0.9 m"));
    page_boxed(page, "[ ] Nobody below: the ground under the work is roped off.");
    for (size_t i = 0; i < roof->bracket_count; i++) {
        write_weight(page, i);
    }
    page_boxed(page, "[ ] LIFT EMPTY. Fill only after every lag and clamp is snug.");
    page_boxed(page, "[ ] Relief valve discharge piped to a safe place: it can scald.");
    page_box_edge(page);
    page_boxed(page, "Local code and the employer's safety plan rule over this sheet.");
    page_boxed(page, "%s",
               roof->loads == NULL
                   ? "STRENGTH WAS NOT LOOKED AT HERE: neither lags, struts nor rafters. That is "
                     "for a licensed engineer."
                   : "STRENGTH IS SCREENED HERE, NOT CERTIFIED: a licensed engineer says whether "
                     "this roof carries the filled frames.");
    page_box_edge(page);
}
