/* PDFs are made in memory and looked through before a byte of them is written: cairo 1.16 leaves
 * out fonts, or the end, for want of memory, and calls that a success.
 */
#include "pdf.h"

#include "holder.h"

#include <cairo-pdf.h>
#include <stdlib.h>
#include <string.h>

/* What cairo writes to, and where that goes in the end. */
struct sink {
    FILE *stream; /* borrowed */
    FILE *memory; /* owned */
    char *bytes;  /* of memory; owned */
    size_t size;
};

static const cairo_user_data_key_t sink_key;

static void sink_free(void *taken) {
    struct sink *sink = taken;
    if (sink->memory != NULL) {
        fclose(sink->memory);
    }
    free(sink->bytes);
    free(sink);
}

static cairo_status_t to_sink(void *taken, const unsigned char *bytes, unsigned int count) {
    const struct sink *sink = taken;
    return fwrite(bytes, 1, count, sink->memory) == count ? CAIRO_STATUS_SUCCESS
                                                          : CAIRO_STATUS_NO_MEMORY;
}

/* NULL: no memory. */
static struct sink *sink_new(FILE *stream) {
    struct sink *sink = calloc(1, sizeof *sink);
    if (sink == NULL) {
        return NULL;
    }
    sink->stream = stream;
    sink->memory = open_memstream(&sink->bytes, &sink->size);
    if (sink->memory == NULL) {
        sink_free(sink);
        return NULL;
    }
    return sink;
}

cairo_surface_t *paint_pdf(FILE *stream, double width, double height, const char *title) {
    struct sink *sink = sink_new(stream);
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(sink == NULL ? NULL : to_sink, sink, width, height);
    if (sink != NULL &&
        cairo_surface_set_user_data(surface, &sink_key, sink, sink_free) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_finish(surface); /* while there is something to write to */
        sink_free(sink);
    }
    /* later versions may pack the table at the end, which pdf_is_whole reads */
    cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_4);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    /* cairo would write the hour of the day: two sheets of one roof would differ. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    return surface;
}

/* Where the table of objects begins: the figure behind the last `startxref`; NULL: there is none.
 */
static const char *find_table(const char *bytes, size_t size) {
    static const char word[] = "startxref\n", head[] = "xref\n0 ";
    size_t at = size;
    while (at > 0 && strncmp(bytes + at, word, sizeof word - 1) != 0) {
        at--;
    }
    const size_t table = at > 0 ? strtoul(bytes + at + sizeof word - 1, NULL, 10) : size;
    return table < size && strncmp(bytes + table, head, sizeof head - 1) == 0
               ? bytes + table + sizeof head - 1
               : NULL;
}

bool pdf_is_whole(const char *bytes, size_t size) {
    enum { LINE = 20 }; /* of the table: "0000000015 00000 n " and its end */
    char *line = NULL;
    const char *table = find_table(bytes, size);
    const size_t count = table != NULL ? strtoul(table, &line, 10) : 0;
    if (count == 0 || count > (size_t)(bytes + size - line) / LINE) {
        return false;
    }
    line++; /* the end of the line that has the count */
    for (size_t i = 1; i < count; i++) {
        const size_t at = strtoul(line + i * LINE, NULL, 10);
        char head[32];
        snprintf(head, sizeof head, "%zu 0 obj", i);
        if (at >= size || strncmp(bytes + at, head, strlen(head)) != 0) {
            return false;
        }
    }
    return true;
}

cairo_status_t pdf_hand_over(cairo_surface_t *surface) {
    struct sink *sink = cairo_surface_get_user_data(surface, &sink_key);
    if (sink == NULL) {
        return CAIRO_STATUS_NO_MEMORY;
    }
    const int closed = fclose(sink->memory);
    sink->memory = NULL;
    if (closed != 0 || !pdf_is_whole(sink->bytes, sink->size)) {
        return CAIRO_STATUS_NO_MEMORY;
    }
    (void)fwrite(sink->bytes, 1, sink->size, sink->stream);
    return CAIRO_STATUS_SUCCESS;
}
