/* What a fleet says: rows as CSV and as JSON, the summary as text and as pages, the line of
 * progress. */
#include "../src/fleet/progress.h"
#include "fleet_trial.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

/* Everything happens in a folder of its own, so that files have short names. */
struct ground {
    char folder[RUN_PATH];
    char before[RUN_PATH];
};

static int set_up(void **state) {
    struct ground *ground = calloc(1, sizeof *ground);
    run_folder_make(ground->folder);
    *state = ground;
    return getcwd(ground->before, sizeof ground->before) == NULL || chdir(ground->folder) != 0 ||
           mkdir("roofs", 0777) != 0;
}

static int tear_down(void **state) {
    struct ground *ground = *state;
    const int back = chdir(ground->before);
    run_folder_remove(ground->folder);
    free(ground);
    return back;
}

static struct fleet *laid_out(const struct trial_how *how) {
    static const char *const here[] = {"roofs"};
    struct fleet *fleet = trial_open(how, here, 1);
    assert_false(trial_labour(fleet, how));
    return fleet;
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL)
        fail_msg("\"%s\" is not in:\n%s", part, text);
}

/* The roof's name is what follows the blank, less its line end. */
static void write_awkward(void) {
    trial_write("roofs", "a,b.yaml", "roof: plain\n");
    trial_write("roofs", "b \"c\".yaml", "roof: says \"north\"\n");
    trial_write("roofs", "d\ne.yaml", "roof: one, two\n");
    trial_write("roofs", "f.yaml", "roof:  blanks at both ends \n");
    trial_write("roofs", "g.yaml", "blocked: wood\n");
    trial_write("roofs", "h\xE9.yaml", "leave:\n");
}

/* ---- Rows ------------------------------------------------------------------------------------ */

/* Forgiveness is the text's length in sixteenths: `roof: plain` has 11 bytes, 0.6875. */
static void csv_is_quoted_where_it_must_be(void **state) {
    (void)state;
    write_awkward();
    struct fleet *fleet = laid_out(&(struct trial_how){.jobs = 1});
    char *text = trial_text(fleet_write_csv, fleet);
    assert_string_equal(
        text,
        "file,roof,status,forgiveness,holes,moved,rule,mark,error,measure,proved\r\n"
        "\"roofs/a,b.yaml\",plain,ok,0.687500,4,1.500000,course-edge,,,in,true\r\n"
        "\"roofs/b \"\"c\"\".yaml\",\"says \"\"north\"\"\",ok,1.125000,4,1.500000,course-edge,,,in,"
        "true\r\n"
        "roofs/d?e.yaml,\"one, two\",ok,0.875000,4,1.500000,course-edge,,,in,true\r\n"
        "roofs/f.yaml,\" blanks at both ends \",ok,1.687500,4,1.500000,course-edge,,,in,true\r\n"
        "roofs/g.yaml,wood,blocked,-0.812500,4,1.500000,wood,,,in,true\r\n"
        "roofs/h?.yaml,,error,,,,,,its worker ended with exit code 7,,\r\n");
    free(text);
    trial_close(fleet);
}

/* JSON is for programs: there texts pass as they are. */
static void csv_holds_no_formula(void **state) {
    (void)state;
    trial_write("roofs", "a.yaml", "roof: =1+2\n");
    trial_write("roofs", "b.yaml", "roof: @SUM(1)\n");
    trial_write("roofs", "c.yaml", "roof: -2,\"x\"\n");
    trial_write("roofs", "d.yaml", "roof: 1=1\n");
    struct fleet *fleet = laid_out(&(struct trial_how){.jobs = 1});
    char *text = trial_text(fleet_write_csv, fleet);
    assert_has(text, "roofs/a.yaml,'=1+2,ok,");
    assert_has(text, "roofs/b.yaml,'@SUM(1),ok,");
    assert_has(text, "roofs/c.yaml,\"'-2,\"\"x\"\"\",ok,");
    assert_has(text, "roofs/d.yaml,1=1,ok,");
    free(text);
    text = trial_text(fleet_write_json, fleet);
    assert_has(text, "\"roof\": \"=1+2\"");
    free(text);
    trial_close(fleet);
}

/* A line each, which another library reads; what is no UTF-8 would not be JSON. */
static void json_is_one_object_a_line(void **state) {
    (void)state;
    write_awkward();
    struct fleet *fleet = laid_out(&(struct trial_how){.jobs = 1});
    char *text = trial_text(fleet_write_json, fleet);
    static const char *const files[] = {"roofs/a,b.yaml", "roofs/b \"c\".yaml", "roofs/d\ne.yaml",
                                        "roofs/f.yaml",   "roofs/g.yaml",       "roofs/h?.yaml"};
    size_t count = 0;
    for (char *line = text; *line != '\0'; count++) {
        char *end = strchr(line, '\n');
        assert_non_null(end);
        json_t *row = json_loadb(line, (size_t)(end - line), JSON_REJECT_DUPLICATES, NULL);
        assert_non_null(row);
        assert_int_equal(json_object_size(row), 11);
        assert_true(count < 6);
        assert_string_equal(json_string_value(json_object_get(row, "file")), files[count]);
        const bool error = count == 5;
        assert_int_equal(json_is_null(json_object_get(row, "holes")), error);
        assert_int_equal(json_is_null(json_object_get(row, "proved")), error);
        assert_int_equal(json_is_string(json_object_get(row, "error")), error);
        json_decref(row);
        line = end + 1;
    }
    assert_int_equal(count, 6);
    free(text);
    trial_close(fleet);
}

/* ---- The summary ----------------------------------------------------------------------------- */

/* Three that work, three blocked by two rules, two errors.  `roof: a` has 7 bytes: 7/16 in, the
 * last bin; `blocked: wood` 13, `blocked: lap` 12: over 1/2 in short. */
static struct fleet *small_fleet(const char *sheets) {
    trial_write("roofs", "1.yaml", "roof: a\n");
    trial_write("roofs", "2.yaml", "roof: b\n");
    trial_write("roofs", "3.yaml", "roof: <c> & \"d\"\n");
    trial_write("roofs", "4.yaml", "blocked: wood\n");
    trial_write("roofs", "5.yaml", "blocked: lap\n");
    trial_write("roofs", "6.yaml", "blocked: wood\n");
    trial_write("roofs", "7&.yaml", "leave:\n");
    trial_write("roofs", "8.yaml", "");
    return laid_out(&(struct trial_how){.sheets = sheets});
}

static struct fleet_summary summary_of(struct fleet *fleet) {
    struct fleet_summary summary;
    struct problems problems = {0};
    assert_int_equal(fleet_summarise(fleet, &summary, &problems), OUTCOME_DONE);
    return summary;
}

static void the_summary_counts(void **state) {
    (void)state;
    struct fleet *fleet = small_fleet(NULL);
    const struct fleet_summary summary = summary_of(fleet);
    char *text = trial_text(fleet_write_summary, &summary);
    assert_int_equal(summary.count[FLEET_OK], 3);
    assert_int_equal(summary.count[FLEET_BLOCKED], 3);
    assert_int_equal(summary.count[FLEET_ERROR], 2);
    assert_int_equal(summary.rule_count, 2);
    assert_string_equal(summary.rules[0].rule, "wood");
    assert_int_equal(summary.rules[0].count, 2);
    assert_int_equal(summary.bins[FLEET_BINS - 1], 3);
    assert_int_equal(summary.bins[fleet_bin(-13.0 / 16)], 3);
    assert_int_equal(summary.slow_count, 8);
    assert_has(text, "8 roofs\n         3  work\n         3  do NOT work\n         2  could not");
    assert_has(text,
               "         3  1/2 to 2 in short      ########################################\n");
    for (const char *line = text; *line != '\0'; line = strchr(line, '\n') + 1)
        assert_true(strcspn(line, "\n") <= 80);
    free(text);
    trial_close(fleet);
}

/* The edges of the bins are marks on a tape; what lies on one is in the better bin, and zero room
 * still works. */
static void bins_meet_at_marks_of_the_tape(void **state) {
    (void)state;
    assert_int_equal(fleet_bin(0.125), fleet_bin(0.18));
    assert_int_not_equal(fleet_bin(0.125), fleet_bin(0.12));
    assert_true(fleet_bin_works(fleet_bin(0.0)));
    assert_true(fleet_bin_works(fleet_bin(-5e-7)));
    assert_false(fleet_bin_works(fleet_bin(-1e-3)));
    assert_int_equal(fleet_bin(-1e6), 0);
    assert_int_equal(fleet_bin(1e6), FLEET_BINS - 1);
    for (size_t bin = 0; bin < FLEET_BINS; bin++)
        assert_true(strlen(fleet_bin_text(bin)) <= 22);
}

static void the_page_leads_to_each_sheet(void **state) {
    (void)state;
    struct fleet *fleet = small_fleet("out");
    const struct fleet_summary summary = summary_of(fleet);
    char name[FLEET_PAGE_NAME];
    char *text = trial_text(fleet_write_page, &(struct fleet_page){fleet, &summary, 1});
    assert_int_equal(fleet_pages(&summary), 1);
    assert_string_equal(fleet_page_name(name, 1), "summary.html");
    assert_has(text, "<a href=\"roofs+1.yaml/sheet.txt\">roofs/1.yaml</a>");
    assert_has(text, "<td>&lt;c&gt; &amp; &quot;d&quot;</td>");
    assert_has(text, "roofs/7&amp;.yaml</td>");
    assert_null(strstr(text, "roofs+7=26.yaml/")); /* errors have no sheet */
    assert_null(strstr(text, "roofs+8.yaml/"));
    assert_has(text, "its worker ended with exit code 7");
    assert_null(strstr(text, "<script"));
    free(text);
    trial_close(fleet);
}

/* Longer tables go on on other pages, each roof on one of them. */
static void many_roofs_take_more_pages(void **state) {
    (void)state;
    enum { ROOFS = FLEET_PAGE_ROOFS + 2 };
    for (int i = 0; i < ROOFS; i++) {
        char file[40];
        snprintf(file, sizeof file, "%05d.yaml", i);
        trial_write("roofs", file, "roof: a\n");
    }
    struct fleet *fleet = laid_out(&(struct trial_how){.jobs = 2});
    const struct fleet_summary summary = summary_of(fleet);
    assert_int_equal(fleet_pages(&summary), 2);
    char *first = trial_text(fleet_write_page, &(struct fleet_page){fleet, &summary, 1});
    char *second = trial_text(fleet_write_page, &(struct fleet_page){fleet, &summary, 2});
    assert_has(first, "<a href=\"summary-2.html\">2</a>");
    assert_has(first, "roofs/00999.yaml");
    assert_null(strstr(first, "roofs/01000.yaml"));
    assert_has(second, "<a href=\"summary.html\">1</a>");
    assert_has(second, "roofs/01000.yaml");
    assert_has(second, "roofs/01001.yaml");
    assert_null(strstr(second, "roofs/00999.yaml"));
    free(first);
    free(second);
    trial_close(fleet);
}

/* ---- Progress -------------------------------------------------------------------------------- */

/* After 10 s 30 of 120 are done, 10 of them before this run: 2 a second, 45 s for the other 90. */
static void progress_tells_rate_and_time_left(void **state) {
    (void)state;
    char text[PROGRESS_TEXT];
    struct progress progress = {.talk = FLEET_BAR, .total = 120, .settled = 10};
    progress_begin(&progress, 100);
    for (int i = 0; i < 20; i++)
        progress_count(&progress, i == 3   ? FLEET_BLOCKED
                                  : i == 4 ? FLEET_UNDECIDED
                                  : i == 5 ? FLEET_ERROR
                                           : FLEET_OK);
    progress_text(&progress, 110, text);
    assert_string_equal(text, "[##........] 30/120, 2 blocked, 1 errors, 2.0/s, 45 s left");
    progress.talk = FLEET_LINES;
    progress_text(&progress, 110, text);
    assert_string_equal(text, "30/120, 2 blocked, 1 errors, 2.0/s, 45 s left");
}

/* Nothing is done yet, everything is done, and numbers as large as they come fit on a line. */
static void progress_has_no_bad_moment(void **state) {
    (void)state;
    char text[PROGRESS_TEXT];
    struct progress progress = {.talk = FLEET_BAR, .total = 0};
    progress_begin(&progress, 0);
    progress_text(&progress, 0, text);
    assert_has(text, "[##########] 0/0,");
    progress = (struct progress){.talk = FLEET_BAR, .total = 9999999};
    progress_begin(&progress, 0);
    progress_text(&progress, 5, text);
    assert_has(text, "? left");
    progress.settled = 9000000;
    progress.blocked = progress.errors = 4000000;
    progress_text(&progress, 3e6, text);
    assert_has(text, " h ");
    assert_true(strlen(text) < 80);
    assert_has(text, " left");
}

int main(void) {
    const struct CMUnitTest tests[] = {
#define GROUND_TEST(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
        GROUND_TEST(csv_is_quoted_where_it_must_be),
        GROUND_TEST(csv_holds_no_formula),
        GROUND_TEST(json_is_one_object_a_line),
        GROUND_TEST(the_summary_counts),
        cmocka_unit_test(bins_meet_at_marks_of_the_tape),
        GROUND_TEST(the_page_leads_to_each_sheet),
        GROUND_TEST(many_roofs_take_more_pages),
        cmocka_unit_test(progress_tells_rate_and_time_left),
        cmocka_unit_test(progress_has_no_bad_moment),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
