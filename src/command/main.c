/* The program: everything else is a library. */
#include "command.h"
#include "memory.h"

/* What any run needs. */
enum { NEEDED = 512 << 10 };

int main(int argc, char **argv) {
    memory_bring_steps();
    memory_keep();
    memory_expect(NEEDED);
    return command_run(argc, argv);
}
