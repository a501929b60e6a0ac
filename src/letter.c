#include "letter.h"

size_t letter_read(const char *text, uint32_t *letter) {
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned char *at = (const unsigned char *)text;
    if (at[0] < 0x80) {
        *letter = at[0];
        return 1;
    }
    const size_t length = at[0] >= 0xF0 ? 4 : at[0] >= 0xE0 ? 3 : 2;
    if (at[0] < 0xC2 || at[0] > 0xF4) {
        return 0;
    }
    uint32_t read = at[0] & (0x7Fu >> length);
    for (size_t i = 1; i < length; i++) {
        if ((at[i] & 0xC0u) != 0x80u) { /* the NUL at the end as well */
            return 0;
        }
        read = read << 6 | (at[i] & 0x3Fu);
    }
    if (read < least[length] || read > 0x10FFFF || (read >= 0xD800 && read <= 0xDFFF)) {
        return 0;
    }
    *letter = read;
    return length;
}

bool letter_is_shown(uint32_t letter) {
    static const uint32_t hidden[][2] = {
        {0x00, 0x1F},       {0x7F, 0x9F},     /* control characters */
        {0xAD, 0xAD},                         /* a hyphen where a line breaks */
        {0x61C, 0x61C},                       /* turns the direction */
        {0x180E, 0x180E},                     /* no width */
        {0x200B, 0x200B},                     /* no width */
        {0x200E, 0x200F},                     /* turn the direction */
        {0x2028, 0x202E},                     /* ends of lines; turn the direction */
        {0x2060, 0x206F},                     /* no width; turn the direction */
        {0xFEFF, 0xFEFF},   {0xFFF9, 0xFFFB}, /* no width; notes between lines */
        {0xFFFE, 0xFFFF},                     /* no letters */
        {0xE0000, 0xE0FFF},                   /* tags */
    };
    for (size_t i = 0; i < sizeof hidden / sizeof hidden[0]; i++) {
        if (letter >= hidden[i][0] && letter <= hidden[i][1]) {
            return false;
        }
    }
    return true;
}

size_t letter_step(const char *text, bool *shown) {
    uint32_t letter = 0;
    const size_t length = letter_read(text, &letter);
    *shown = length > 0 && letter_is_shown(letter);
    return text[0] == '\0' ? 0 : length > 0 ? length : 1;
}
