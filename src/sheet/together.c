/* Which frames can stand on the face together: for the sheet and for the JSON. */
#include "fit.h"
#include "json_values.h"
#include "page.h"
#include "sections.h"

#include <stdio.h>
#include <string.h>

/* "A", "A and B", "A, B and C"; cut to fit. */
static void list_names(const struct fit *fit, const bool *which, char *text, size_t size) {
    size_t used = 0, count = 0, seen = 0;
    for (size_t b = 0; b < fit->bracket_count; b++) {
        count += which[b];
    }
    text[0] = '\0';
    for (size_t b = 0; b < fit->bracket_count; b++) {
        if (!which[b]) {
            continue;
        }
        const char *before = seen == 0 ? "" : seen + 1 == count ? " and " : ", ";
        const int more = snprintf(text + used, size - used, "%s%s", before, fit->names[b]);
        used += more > 0 ? (size_t)more : 0;
        used = used < size ? used : size - 1;
        seen++;
    }
}

static void write_clash(struct page *page, const struct fit *fit, const struct fit_clash *clash) {
    char names[PAGE_TEXT / 2];
    list_names(fit, clash->with, names, sizeof names);
    if (clash->count == 1) {
        page_line(page, 4, "  - Frame %s cannot stand on this face, not even alone.", names);
    } else {
        page_line(page, 4, "  - Frames %s cannot %s stand on this face.", names,
                  clash->count == 2 ? "both" : "all");
    }
}

void together_write(struct page *page) {
    const struct fit *fit = page->answer->fit;
    char names[PAGE_TEXT / 2];
    if (fit == NULL) {
        return;
    }
    page_blank(page);
    page_line(page, 2, "WHICH FRAMES CAN STAND TOGETHER");
    for (size_t i = 0; i < fit->clash_count; i++) {
        write_clash(page, fit, &fit->clashes[i]);
    }
    list_names(fit, fit->kept, names, sizeof names);
    if (fit->count == 0) {
        page_line(page, 2, "%s",
                  fit->proved ? "None of them can stand here."
                              : "None was found to stand here in the time given.");
        return;
    }
    page_line(page, 2,
              "%s %zu of the %zu frames can stand here%s: %s. `--as-many-as-fit` lays out %s.",
              fit->proved ? "At most" : "At least", fit->count, fit->bracket_count,
              fit->proved ? "" : " (more was not found in the time given)", names,
              fit->count == 1 ? "that one" : "those");
}

static json_t *names_value(struct json_source *source, const struct fit *fit, const bool *which,
                           bool wanted) {
    json_t *list = json_array();
    for (size_t b = 0; b < fit->bracket_count; b++) {
        if (which[b] == wanted) {
            value_add(source, list, value_text(fit->names[b]));
        }
    }
    return list;
}

json_t *json_together(struct json_source *source, const struct fit *fit) {
    json_t *object = json_object(), *clashes = json_array();
    for (size_t i = 0; i < fit->clash_count; i++) {
        value_add(source, clashes, names_value(source, fit, fit->clashes[i].with, true));
    }
    value_put(source, object, "most", json_integer((json_int_t)fit->count));
    value_put(source, object, "proved", json_boolean(fit->proved));
    value_put(source, object, "brackets", names_value(source, fit, fit->kept, true));
    value_put(source, object, "left_off", names_value(source, fit, fit->kept, false));
    value_put(source, object, "clashes", clashes);
    return object;
}

void sheet_left_off(const struct fit *fit, size_t bracket, char *text, size_t size) {
    char names[120] = "";
    const struct fit_clash *why = NULL;
    for (size_t i = 0; i < fit->clash_count && why == NULL; i++) {
        bool kept_else = fit->clashes[i].with[bracket];
        for (size_t b = 0; b < fit->bracket_count; b++) {
            kept_else = kept_else && (b == bracket || !fit->clashes[i].with[b] || fit->kept[b]);
        }
        why = kept_else ? &fit->clashes[i] : NULL;
    }
    if (why != NULL) {
        bool with[ROOF_BRACKETS_MOST];
        memcpy(with, why->with, sizeof with);
        with[bracket] = false;
        list_names(fit, with, names, sizeof names);
    }
    snprintf(text, size, "bracket %s is left off: %s%s%s", fit->names[bracket],
             why == NULL      ? "no place was found for it"
             : why->count > 1 ? "it cannot stand on this face together with "
                              : "it cannot stand on this face, not even alone",
             names, why == NULL ? " in the time given" : "");
}
