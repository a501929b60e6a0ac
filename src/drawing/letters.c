#include "letters.h"

#include "letter.h"

#include <cairo-ft.h>
#include <ft2build.h>
#include <stdlib.h>
#include <string.h>
#include FT_FREETYPE_H

enum { TEXT_MOST = 1100 }; /* bytes of a text that is measured; no line is longer */

enum { FACE_PLAIN, FACE_BOLD, FACE_COUNT };

/* A font file held open for cairo, which may keep its face for a while after we have let go. */
struct held {
    FT_Library library;
    FT_Face file;
};

struct letters {
    cairo_font_face_t *faces[FACE_COUNT];
    cairo_scaled_font_t *measured[FACE_COUNT]; /* at MEASURED points */
};

/* Widths are taken at this size and scaled: without hints they grow evenly. */
#define MEASURED 100.0

static const char *const font_files[FACE_COUNT] = {
    [FACE_PLAIN] = RUDDLE_FONTS "/DejaVuSans.ttf",
    [FACE_BOLD] = RUDDLE_FONTS "/DejaVuSans-Bold.ttf",
};

static cairo_scaled_font_t *measure(cairo_font_face_t *face) {
    cairo_matrix_t size, page;
    cairo_matrix_init_scale(&size, MEASURED, MEASURED);
    cairo_matrix_init_identity(&page);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_scaled_font_t *font = cairo_scaled_font_create(face, &size, &page, options);
    cairo_font_options_destroy(options);
    return font;
}

static void held_free(void *taken) {
    struct held *held = taken;
    if (held->file != NULL) {
        FT_Done_Face(held->file);
    }
    if (held->library != NULL) {
        FT_Done_FreeType(held->library);
    }
    free(held);
}

/* Opens a file; NULL with problems where it cannot be had, without them where memory cannot. */
static struct held *hold(const char *path, struct problems *problems) {
    struct held *held = calloc(1, sizeof *held);
    if (held == NULL || FT_Init_FreeType(&held->library) != 0) {
        free(held);
        return NULL;
    }
    const FT_Error error = FT_New_Face(held->library, path, 0, &held->file);
    if (error == 0) {
        return held;
    }
    held->file = NULL;
    held_free(held);
    if (error != FT_Err_Out_Of_Memory) {
        problems_add(problems, path, 0, NULL, NULL,
                     "the font of drawings (Debian: fonts-dejavu-core)");
    }
    return NULL;
}

static enum outcome open_face(struct letters *letters, int face, struct problems *problems) {
    static const cairo_user_data_key_t key;
    struct held *held = hold(font_files[face], problems);
    if (held == NULL) {
        return OUTCOME_FAULT;
    }
    cairo_font_face_t *made = cairo_ft_font_face_create_for_ft_face(held->file, 0);
    letters->faces[face] = made;
    /* Whoever lets go of the face last, cairo or we, closes the file. */
    if (cairo_font_face_set_user_data(made, &key, held, held_free) != CAIRO_STATUS_SUCCESS) {
        held_free(held);
        return OUTCOME_FAULT;
    }
    letters->measured[face] = measure(made);
    return cairo_scaled_font_status(letters->measured[face]) == CAIRO_STATUS_SUCCESS
               ? OUTCOME_DONE
               : OUTCOME_FAULT;
}

enum outcome letters_open(struct letters **letters, struct problems *problems) {
    struct letters *made = calloc(1, sizeof *made);
    enum outcome outcome = made == NULL ? OUTCOME_FAULT : OUTCOME_DONE;
    for (int face = 0; outcome == OUTCOME_DONE && face < FACE_COUNT; face++) {
        outcome = open_face(made, face, problems);
    }
    if (outcome != OUTCOME_DONE) {
        letters_free(made);
        return outcome;
    }
    *letters = made;
    return OUTCOME_DONE;
}

void letters_free(struct letters *letters) {
    for (int face = 0; letters != NULL && face < FACE_COUNT; face++) {
        cairo_scaled_font_destroy(letters->measured[face]); /* takes NULL */
        cairo_font_face_destroy(letters->faces[face]);
    }
    free(letters);
}

double letters_width(const struct letters *letters, const struct lettering *how, const char *text) {
    cairo_text_extents_t extents = {0};
    char clean[TEXT_MOST]; /* cairo gives a font up for good over a text that is none */
    letters_clean(text, clean, sizeof clean);
    cairo_scaled_font_text_extents(letters->measured[how->bold ? FACE_BOLD : FACE_PLAIN], clean,
                                   &extents);
    return extents.x_advance * how->size / MEASURED;
}

bool letters_measured(const struct letters *letters) {
    for (int face = 0; face < FACE_COUNT; face++) {
        if (cairo_scaled_font_status(letters->measured[face]) != CAIRO_STATUS_SUCCESS) {
            return false;
        }
    }
    return true;
}

void letters_use(const struct letters *letters, const struct lettering *how, cairo_t *cr) {
    cairo_set_font_face(cr, letters->faces[how->bold ? FACE_BOLD : FACE_PLAIN]);
    cairo_set_font_size(cr, how->size);
}

void letters_clean(const char *text, char *out, size_t size) {
    size_t used = 0;
    bool shown = true;
    for (size_t length = letter_step(text, &shown); length > 0;
         length = letter_step(text, &shown)) {
        const size_t kept = shown ? length : 1;
        if (used + kept + 1 > size) {
            break;
        }
        memcpy(out + used, shown ? text : "?", kept);
        used += kept;
        text += length;
    }
    out[used] = '\0';
}
