/* The drawing: the face as the installer stands before it, ridge up, the zero corner on its real
 * side, everything at true scale.  It decides nothing and computes no margin: places come from the
 * roof, the rounded marks and the verdict.
 *
 * One routine draws it; what is drawn then goes to paper (PDF), to a picture (PNG), to SVG, into a
 * page, or to DXF at full size.
 */
#ifndef RUDDLE_DRAWING_H
#define RUDDLE_DRAWING_H

#include "problem.h"
#include "sheet.h"

#include <stdio.h>

/* The sheet of paper that a drawing or a printed sheet is laid out for. */
enum paper { PAPER_LETTER, PAPER_A4, PAPER_COUNT };
const char *drawing_paper_word(enum paper paper); /* "letter", "a4"; never NULL */

/* The paper that goes with a file's measure: letter for inches, A4 for millimetres. */
enum paper drawing_usual_paper(const struct roof *roof);

struct drawing; /* opaque */

/* Draws an answer on a page that lies on its side; without marks the roof alone, and whatever does
 * not work is stamped so.  FAULT: no memory or no font; problems says which.  *drawing is untouched
 * unless DONE; owned by the caller (drawing_free), and independent of the answer. */
enum outcome drawing_make(const struct answer *answer, enum paper paper, struct drawing **drawing,
                          struct problems *problems);

void drawing_free(struct drawing *drawing); /* accepts NULL */

/* Each writes the drawing whole: the same bytes from the same drawing, however often.  FAULT: no
 * memory; a failed write is left for the caller to see on the stream.
 *   SVG    points, 72 to the inch.  (The same bytes in the same place of a run: cairo numbers what
 *          it writes through the whole process.)
 *   inline SVG inside a page: real text, to be read aloud and found; the root tells scale and zero
 *          corner, each hole is a group of its own
 *   PDF    one page
 *   PNG    150 dots an inch
 *   DXF    R12 text, the roof at full size in the file's measure, zero corner at 0, 0 */
enum outcome drawing_write_svg(const struct drawing *drawing, FILE *stream);
enum outcome drawing_write_inline(const struct drawing *drawing, FILE *stream);
enum outcome drawing_write_pdf(const struct drawing *drawing, FILE *stream);
enum outcome drawing_write_png(const struct drawing *drawing, FILE *stream);
enum outcome drawing_write_dxf(const struct drawing *drawing, FILE *stream);

#endif
