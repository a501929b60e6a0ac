#include "page.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

enum { TICK_COLUMNS = 6, BOX_INSIDE = PAGE_WIDTH - 4 };

/* Makes text plain ASCII in place: bytes that go on with a UTF-8 character are dropped. */
static void make_plain(char *text) {
    size_t used = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        unsigned char byte = (unsigned char)text[i];
        if ((byte & 0xC0u) == 0x80u) {
            continue;
        }
        text[used++] = byte >= 0x20 && byte < 0x7F ? text[i] : '?';
    }
    text[used] = '\0';
}

/* How many bytes of text go on a line of that width: up to the last space that fits, or the width
 * where one word is wider. */
static size_t fit(const char *text, size_t width, size_t indent) {
    size_t length = strlen(text);
    if (length <= width) {
        return length;
    }
    size_t at = width;
    while (at > indent && text[at] != ' ') {
        at--;
    }
    if (at <= indent) {
        return width;
    }
    while (at > indent && text[at - 1] == ' ') {
        at--;
    }
    return at > indent ? at : width;
}

static size_t leading_spaces(const char *text) {
    return strspn(text, " ");
}

struct frame {
    const char *left, *right; /* around each line */
    size_t width;             /* between them */
    bool padded;              /* with spaces up to the right side */
};

static void write_piece(FILE *stream, const struct frame *frame, size_t indent, const char *text,
                        size_t length) {
    size_t room = frame->width > indent + length ? frame->width - indent - length : 0;
    fprintf(stream, "%s%*s%.*s%*s%s\n", frame->left, (int)indent, "", (int)length, text,
            frame->padded ? (int)room : 0, "", frame->right);
}

static void write_wrapped(FILE *stream, const struct frame *frame, size_t hang, const char *text) {
    size_t indent = leading_spaces(text);
    size_t width = frame->width - hang;
    size_t length = fit(text, frame->width, indent);
    write_piece(stream, frame, 0, text, length);
    for (text += length; *(text += leading_spaces(text)) != '\0'; text += length) {
        length = fit(text, width, 0);
        write_piece(stream, frame, hang, text, length);
    }
}

static void write_text(struct page *page, size_t hang, char *text) {
    static const struct frame open_page = {"", "", PAGE_WIDTH, false};
    make_plain(text);
    size_t length = strlen(text);
    while (length > 0 && text[length - 1] == ' ') {
        text[--length] = '\0';
    }
    write_wrapped(page->stream, &open_page, hang, text);
}

/* True where a taker has it; otherwise it goes to the stream. */
static bool hand_over(const struct page *page, enum piece_kind kind, size_t hang,
                      const char *text) {
    if (page->taker == NULL) {
        return false;
    }
    const struct piece piece = {kind, page->step, hang, text, page->hole};
    page->taker->take(page->taker->subject, &piece);
    return true;
}

void page_line(struct page *page, int hang, const char *format, ...) {
    char text[PAGE_TEXT];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (!hand_over(page, PIECE_LINE, (size_t)hang, text)) {
        write_text(page, (size_t)hang, text);
    }
}

void page_blank(struct page *page) {
    if (!hand_over(page, PIECE_BLANK, 0, "")) {
        fputc('\n', page->stream);
    }
}

void page_rule(struct page *page, char sign) {
    if (hand_over(page, PIECE_RULE, 0, "")) {
        return;
    }
    for (int i = 0; i < PAGE_WIDTH; i++) {
        fputc(sign, page->stream);
    }
    fputc('\n', page->stream);
}

void page_heading(struct page *page, const char *title) {
    if (hand_over(page, PIECE_HEADING, 0, title)) {
        return;
    }
    page_blank(page);
    page_rule(page, '=');
    page_line(page, 0, "%-*s %s", PAGE_WIDTH - 1 - (int)strlen(page->answer->fingerprint), title,
              page->answer->fingerprint);
    page_rule(page, '=');
}

void page_step(struct page *page, const char *format, ...) {
    char text[PAGE_TEXT];
    int used = snprintf(text, sizeof text, "[ ] %u. ", ++page->step);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text + used, sizeof text - (size_t)used, format, arguments);
    va_end(arguments);
    if (!hand_over(page, PIECE_STEP, 0, text + used)) {
        page_blank(page);
        write_text(page, (size_t)used, text);
    }
}

void page_tick(struct page *page, const char *format, ...) {
    char text[PAGE_TEXT] = "  [ ] ";
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text + TICK_COLUMNS, sizeof text - TICK_COLUMNS, format, arguments);
    va_end(arguments);
    if (!hand_over(page, PIECE_TICK, 0, text + TICK_COLUMNS)) {
        write_text(page, TICK_COLUMNS, text);
    }
}

void page_boxed(struct page *page, const char *format, ...) {
    static const struct frame sides = {"| ", " |", BOX_INSIDE, true};
    char text[PAGE_TEXT];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (!hand_over(page, PIECE_BOXED, 0, text)) {
        make_plain(text);
        write_wrapped(page->stream, &sides, 4, text);
    }
}

void page_box_edge(struct page *page) {
    if (hand_over(page, PIECE_BOX_EDGE, 0, "")) {
        return;
    }
    fputc('+', page->stream);
    for (int i = 0; i < PAGE_WIDTH - 2; i++) {
        fputc('-', page->stream);
    }
    fputs("+\n", page->stream);
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* Ties each fraction to the whole number before it: `4 1/2` reads as two figures in the cold. */
static void tie_fractions(char *text) {
    for (size_t i = 1; text[0] != '\0' && text[i] != '\0'; i++) {
        size_t digits = strspn(text + i + 1, "0123456789");
        if (text[i] == ' ' && is_digit(text[i - 1]) && digits > 0 && text[i + 1 + digits] == '/') {
            text[i] = '-';
        }
    }
}

enum measure page_measure(const struct roof *roof) {
    int power = 0;
    double halves = roof->tape * LENGTH_MM_PER_INCH * 2; /* of a millimetre */
    if (frexp(roof->tape, &power) == 0.5 && power <= 1) {
        return MEASURE_IN;
    }
    bool metric = halves > 0.5 && fabs(halves - round(halves)) < 1e-9;
    return metric ? MEASURE_MM : roof->measure;
}

const char *page_length(const struct roof *roof, char buffer[LENGTH_TEXT], double inches) {
    length_reading(buffer, inches, roof->tape, page_measure(roof));
    tie_fractions(buffer);
    return buffer;
}

static double fine_tick(enum measure measure) {
    return measure == MEASURE_MM ? 1.0 / LENGTH_MM_PER_INCH : 1.0 / 32.0;
}

static const char *write_fine(char buffer[LENGTH_TEXT], double inches, enum measure measure) {
    length_reading(buffer, inches, fine_tick(measure), measure);
    tie_fractions(buffer);
    return buffer;
}

const char *page_fine(const struct roof *roof, char buffer[LENGTH_TEXT], double inches) {
    return write_fine(buffer, inches, page_measure(roof));
}

const char *page_part(const struct roof *roof, char buffer[LENGTH_TEXT], double inches) {
    return write_fine(buffer, inches, roof->measure);
}

const char *page_spare(const struct roof *roof, char buffer[LENGTH_TEXT], double inches) {
    double tick = fine_tick(page_measure(roof));
    double ticks = floor((inches + LENGTH_TOLERANCE) / tick);
    if (ticks < 1 && inches > LENGTH_TOLERANCE) {
        snprintf(buffer, LENGTH_TEXT, "under %s", page_either(roof, "1/32\"", "1 mm"));
        return buffer;
    }
    return page_fine(roof, buffer, ticks * tick);
}

const char *page_short(const struct roof *roof, char buffer[LENGTH_TEXT], double inches) {
    double tick = fine_tick(page_measure(roof));
    return page_fine(roof, buffer, ceil((inches - LENGTH_TOLERANCE) / tick) * tick);
}

const char *page_either(const struct roof *roof, const char *in_text, const char *mm_text) {
    return page_measure(roof) == MEASURE_MM ? mm_text : in_text;
}
