/* The files of a layout, for whichever command made it. */
#ifndef RUDDLE_FILES_H
#define RUDDLE_FILES_H

#include "command.h"
#include "output.h"
#include "sheet.h"

/* What they are made from; borrowed. */
struct files {
    const struct answer *answer;
    const struct telling *telling; /* of the sheet that is printed and shown; NULL: sheet_tell */
    struct output text, json;      /* the sheet as text and the result, under their names */
    bool anew;                     /* nobody else writes there, see output_files_anew */
};

/* Writes all of them into options->out_dir, or none under its own name.  FAULT: problems says why.
 */
enum outcome files_write(const struct files *files, const struct options *options,
                         struct problems *problems);

#endif
