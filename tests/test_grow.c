/* Lists that grow: what is in them stays, and room that no memory has is refused. */
#include "grow.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static void what_is_in_a_list_stays(void **state) {
    (void)state;
    size_t *list = NULL;
    size_t room = 0;
    for (size_t count = 0; count < 1000; count++) {
        size_t *larger = grow_list(list, &room, count, sizeof *list);
        assert_non_null(larger);
        assert_true(room > count && room < 2 * count + 16);
        list = larger;
        list[count] = 3 * count;
    }
    for (size_t i = 0; i < 1000; i++)
        assert_int_equal(list[i], 3 * i);
    free(list);
}

static void list_with_room_stays_where_it_is(void **state) {
    (void)state;
    int list[2] = {1, 2};
    size_t room = 2;
    assert_ptr_equal(grow_list(list, &room, 1, sizeof *list), list);
    assert_int_equal(room, 2);
}

static void more_than_can_be_addressed_is_refused(void **state) {
    (void)state;
    char list[1];
    size_t room = SIZE_MAX / 16;
    assert_null(grow_list(list, &room, room, 16));
    assert_int_equal(room, SIZE_MAX / 16);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_in_a_list_stays),
        cmocka_unit_test(list_with_room_stays_where_it_is),
        cmocka_unit_test(more_than_can_be_addressed_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
