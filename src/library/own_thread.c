#include "own_thread.h"

#include <locale.h>
#include <pthread.h>
#include <signal.h>

struct errand {
    enum outcome (*work)(void *subject);
    void *subject;
    locale_t figures; /* borrowed */
    enum outcome outcome;
};

static void *run(void *argument) {
    struct errand *errand = argument;
    const locale_t before = uselocale(errand->figures);
    errand->outcome = errand->work(errand->subject);
    (void)uselocale(before);
    return NULL;
}

/* A new thread has the signal mask of whoever starts it. */
static enum outcome run_apart(struct errand *errand) {
    sigset_t all, before;
    pthread_t thread;
    sigfillset(&all);
    if (pthread_sigmask(SIG_SETMASK, &all, &before) != 0) {
        return OUTCOME_FAULT;
    }
    const int refused = pthread_create(&thread, NULL, run, errand);
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    if (refused != 0) {
        return OUTCOME_FAULT;
    }
    return pthread_join(thread, NULL) == 0 ? errand->outcome : OUTCOME_FAULT;
}

enum outcome own_thread_do(enum outcome (*work)(void *subject), void *subject) {
    const locale_t figures = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (figures == (locale_t)0) {
        return OUTCOME_FAULT;
    }
    struct errand errand = {
        .work = work, .subject = subject, .figures = figures, .outcome = OUTCOME_FAULT};
    const enum outcome outcome = run_apart(&errand);
    freelocale(figures);
    return outcome;
}
