/* The program: everything else is a library. */
#include "command.h"

int main(int argc, char **argv) {
    return command_run(argc, argv);
}
