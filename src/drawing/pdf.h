/* A PDF that is whole, or none. */
#ifndef RUDDLE_DRAWING_PDF_H
#define RUDDLE_DRAWING_PDF_H

#include <cairo.h>
#include <stdbool.h>
#include <stddef.h>

/* Writes what cairo made on a surface of paint_pdf, finished already, to its stream.  NO_MEMORY: it
 * is not whole, and nothing was written; a failed write is no fault here, it shows on the stream.
 */
cairo_status_t pdf_hand_over(cairo_surface_t *surface);

/* True where the table at the end of a PDF finds every object of it.  bytes[size] is NUL. */
bool pdf_is_whole(const char *bytes, size_t size);

#endif
