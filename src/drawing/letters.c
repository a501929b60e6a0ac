#include "letters.h"

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

/* The bytes of the character of UTF-8 at the head of text; 0: there is none. */
static size_t character(const unsigned char *text) {
    static const struct {
        unsigned char mask, lead;
        size_t length;
    } forms[] = {{0x80, 0x00, 1}, {0xE0, 0xC0, 2}, {0xF0, 0xE0, 3}, {0xF8, 0xF0, 4}};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        if ((text[0] & forms[i].mask) != forms[i].lead) {
            continue;
        }
        for (size_t j = 1; j < forms[i].length; j++) {
            if ((text[j] & 0xC0u) != 0x80u) {
                return 0;
            }
        }
        return forms[i].length;
    }
    return 0;
}

/* Signs that turn the order of the letters round, or end a line: nobody sees them. */
static bool is_hidden(const unsigned char text[3]) {
    return text[0] == 0xE2 && ((text[1] == 0x80 && text[2] >= 0xA8 && text[2] <= 0xAE) ||
                               (text[1] == 0x81 && text[2] >= 0xA6 && text[2] <= 0xA9));
}

/* Overlong forms, halves of pairs, and what is beyond the last character. */
static bool is_sound(const unsigned char *text, size_t length) {
    switch (length) {
    case 1:
        return text[0] >= 0x20 && text[0] != 0x7F;
    case 2:
        return text[0] >= 0xC2 && !(text[0] == 0xC2 && text[1] < 0xA0);
    case 3:
        return !(text[0] == 0xE0 && text[1] < 0xA0) && !(text[0] == 0xED && text[1] >= 0xA0) &&
               !(text[0] == 0xEF && text[1] == 0xBF && text[2] >= 0xBE) && !is_hidden(text);
    case 4:
        return !(text[0] == 0xF0 && text[1] < 0x90) && text[0] <= 0xF4 &&
               !(text[0] == 0xF4 && text[1] >= 0x90);
    default:
        return false;
    }
}

void letters_clean(const char *text, char *out, size_t size) {
    const unsigned char *at = (const unsigned char *)text;
    size_t used = 0;
    while (*at != '\0') {
        const size_t length = character(at);
        const bool sound = is_sound(at, length);
        const size_t kept = sound ? length : 1;
        if (used + kept + 1 > size) {
            break;
        }
        if (sound) {
            memcpy(out + used, at, kept);
        } else {
            out[used] = '?';
        }
        used += kept;
        at += sound || length > 1 ? length : 1;
    }
    out[used] = '\0';
}
