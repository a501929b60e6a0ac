/* How many cores there are to work on.  Private to this folder. */
#ifndef RUDDLE_FLEET_CORES_H
#define RUDDLE_FLEET_CORES_H

/* Those that this process may use, which a batch system may have made fewer than there are. */
unsigned cores_usable(void);

#endif
