/* The folder that a roof file's sheets go into: one name a path, harmless wherever it is read. */
#include "digest.h"
#include "fleet.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* Names longer than this are cut, and end in a digest of the whole: file systems take 255 bytes. */
enum { NAME_MOST = 180, CUT_AT = 150 };

/* True for what means nothing to shells, in addresses or to file systems. */
static bool is_plain(unsigned char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
           (byte >= '0' && byte <= '9') || byte == '.' || byte == '_' || byte == '-';
}

/* `/` becomes `+`, everything else that is not plain `=` and two digits, so that no two files come
 * to the same name; and so does a dot in front, which would hide it. */
static size_t put_byte(char *to, unsigned char byte, bool first) {
    if (byte == '/') {
        to[0] = '+';
        return 1;
    }
    if (is_plain(byte) && !(first && (byte == '.' || byte == '-'))) {
        to[0] = (char)byte;
        return 1;
    }
    snprintf(to, 4, "=%02X", byte);
    return 3;
}

char *fleet_folder_name(const char *file) {
    const size_t length = strlen(file);
    char *name = malloc(3 * length + NAME_MOST);
    if (name == NULL) {
        return NULL;
    }
    size_t used = 0;
    for (size_t i = 0; i < length; i++) {
        used += put_byte(name + used, (unsigned char)file[i], i == 0);
    }
    name[used] = '\0';
    if (used > NAME_MOST) {
        /* No digit follows a `=` in the other names. */
        snprintf(name + CUT_AT, NAME_MOST - CUT_AT, "=x%016" PRIx64,
                 digest_text(DIGEST_START, file));
    }
    return name;
}
