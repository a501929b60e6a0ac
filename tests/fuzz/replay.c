/* Feeds every file of a folder to a target, in place of libFuzzer: for compilers without it.
 *     fuzz_TARGET FOLDER
 */
#define _DEFAULT_SOURCE /* d_type */
#include "fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

enum { PATH_ROOM = 1024, FILE_ROOM = 1 << 21 };

static size_t read_file(const char *path, uint8_t *data) {
    FILE *stream = fopen(path, "rb");
    fuzz_insist(stream != NULL, path);
    const size_t size = fread(data, 1, FILE_ROOM, stream);
    fuzz_insist(ferror(stream) == 0 && size < FILE_ROOM, path);
    fclose(stream);
    return size;
}

int main(int count, char **words) {
    struct dirent **entries = NULL;
    uint8_t *data = malloc(FILE_ROOM);
    const int found = count == 2 ? scandir(words[1], &entries, NULL, alphasort) : -1;
    fuzz_insist(found > 2 && data != NULL, "a folder with files in it: fuzz_TARGET FOLDER");
    int fed = 0;
    for (int i = 0; i < found; i++) {
        char path[PATH_ROOM];
        snprintf(path, sizeof path, "%s/%s", words[1], entries[i]->d_name);
        if (entries[i]->d_name[0] != '.') {
            /* A block of just the right size, so that reading past its end is seen. */
            const size_t size = read_file(path, data);
            uint8_t *exact = malloc(size + (size == 0));
            fuzz_insist(exact != NULL, "there is memory");
            for (size_t byte = 0; byte < size; byte++) {
                exact[byte] = data[byte];
            }
            LLVMFuzzerTestOneInput(exact, size);
            free(exact);
            fed++;
        }
        free(entries[i]);
    }
    free(entries);
    free(data);
    printf("%d inputs\n", fed);
    return 0;
}
