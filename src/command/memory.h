/* How the program holds the memory that it is given.  Private to this folder.
 */
#ifndef RUDDLE_MEMORY_H
#define RUDDLE_MEMORY_H

#include <stddef.h>

/* Search after search, and roof after roof of a fleet, asks for the same few large pieces: they are
 * not given back to the system in between, which would clear them every time.  Once, before
 * anything is asked for. */
void memory_keep(void);

/* So many bytes are going to be needed soon, and are had at once: page by page, as each is first
 * touched, they take ten times as long on a virtual machine, a third of the time of a short search.
 * Without memory, or on a system that knows of no such thing, nothing is done. */
void memory_expect(size_t bytes);

/* The same for the program's own steps, which stand at its beginning: some fifteen pieces of it
 * would be brought one by one as each is first run. */
void memory_bring_steps(void);

#endif
