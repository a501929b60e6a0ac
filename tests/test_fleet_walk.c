/* Which files a fleet is made of, and in what order; the names of their folders. */
#include "fleet_trial.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

static int set_up(void **state) {
    char *folder = malloc(RUN_PATH);
    assert_non_null(folder);
    run_folder_make(folder);
    *state = folder;
    return 0;
}

static int tear_down(void **state) {
    run_folder_remove(*state);
    free(*state);
    return 0;
}

/* The first fields of a report's lines, less the folder, one after the other. */
static void files_of(const char *report, const char *folder, char *files, size_t size) {
    size_t used = 0;
    files[0] = '\0';
    for (const char *line = strchr(report, '\n') + 1; *line != '\0';
         line = strchr(line, '\n') + 1) {
        const char *at = strncmp(line, folder, strlen(folder)) == 0 ? line + strlen(folder) : line;
        used += (size_t)snprintf(files + used, size - used, "%.*s ", (int)strcspn(at, ","), at);
    }
}

static void assert_files(const char *folder, const char *const *paths, size_t count,
                         const char *wanted) {
    char files[600];
    char *report = trial_run(&(struct trial_how){.jobs = 1}, paths, count, NULL);
    files_of(report, folder, files, sizeof files);
    assert_string_equal(files, wanted);
    free(report);
}

/* `Z` comes before `a`, `-` before `.` before `/`: the folder `b` lies between `b-1.yaml` and
 * `b.yaml`, as its name is `b` alone; letters with accents come last. */
static void folders_are_walked_depth_first_in_the_order_of_bytes(void **state) {
    const char *folder = *state;
    const char *const names[] = {"b.yaml",   "a.yaml",    "Z.yml",      "b-1.yaml",
                                 "b/2.yaml", "b/10.yaml", "b/c/1.yaml", "\xC3\xA4.yaml",
                                 ".yaml",    "a.YAML",    "a.yaml.bak"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        trial_write(folder, names[i], "roof: one\n");
    assert_files(folder, &folder, 1,
                 "/.yaml /Z.yml /a.yaml /b/10.yaml /b/2.yaml /b/c/1.yaml /b-1.yaml /b.yaml "
                 "/\xC3\xA4.yaml ");
}

static void kits_in_folders_are_passed_over(void **state) {
    const char *folder = *state;
    trial_write(folder, "kit1.yaml", "kit: two-leg\n");
    trial_write(folder, "kit2.yaml", "# a kit\n---\n\"kit\": two-leg\n");
    trial_write(folder, "kit3.yaml", "{kit: two-leg}\n");
    trial_write(folder, "kit4.yaml", "\xEF\xBB\xBFkit: two-leg\n");
    trial_write(folder, "roof1.yaml", "roof: a\nkit: b\n");
    trial_write(folder, "roof2.yaml", "- kit\n");
    trial_write(folder, "roof3.yaml", "kits: many\n");
    trial_write(folder, "roof4.yaml", "\n");
    trial_write(folder, "roof5.yaml", "[unclosed\n");
    assert_files(folder, &folder, 1,
                 "/roof1.yaml /roof2.yaml /roof3.yaml /roof4.yaml /roof5.yaml ");
}

/* One that is named outright is wanted, whatever is in it. */
static void named_files_come_in_the_order_named_and_once(void **state) {
    const char *folder = *state;
    char kit[RUN_PATH], b[RUN_PATH], text[RUN_PATH];
    trial_write(folder, "a.yaml", "roof: one\n");
    trial_write(folder, "b.yaml", "roof: one\n");
    trial_write(folder, "kit.yaml", "kit: two-leg\n");
    trial_write(folder, "notes.txt", "roof: one\n");
    const char *const paths[] = {run_path(text, folder, "notes.txt"), run_path(b, folder, "b.yaml"),
                                 run_path(kit, folder, "kit.yaml"), folder, folder};
    assert_files(folder, paths, 5, "/notes.txt /b.yaml /kit.yaml /a.yaml ");
}

/* Root may read everything, so files are made unreadable by what they are. */
static void what_cannot_be_read_is_one_row(void **state) {
    const char *folder = *state;
    char path[RUN_PATH], missing[RUN_PATH];
    trial_write(folder, "good.yaml", "roof: one\n");
    assert_int_equal(symlink("nowhere.yaml", run_path(path, folder, "dangling.yaml")), 0);
    assert_int_equal(symlink("nowhere", run_path(path, folder, "dangling.txt")), 0);
    assert_int_equal(symlink("self.yaml", run_path(path, folder, "self.yaml")), 0);
    assert_int_equal(mkdir(run_path(path, folder, "folder.yaml"), 0777), 0);
    assert_int_equal(mkfifo(run_path(path, folder, "pipe.yaml"), 0666), 0);
    const char *const paths[] = {folder, run_path(missing, folder, "missing")};
    char *report = trial_run(&(struct trial_how){.jobs = 2, .patience_s = 0.3}, paths, 2, NULL);
    static const char *const told[][2] = {
        {"dangling.yaml", ",error,,,,,,it cannot be read: No such file or directory,"},
        {"folder.yaml", ",error,,,,,,a folder with the name of a roof file,"},
        {"self.yaml", ",error,,,,,,it cannot be read: Too many levels of symbolic links,"},
        {"missing", ",error,,,,,,it cannot be read: No such file or directory,"},
        {"pipe.yaml", ",error,"}, /* this craft waits for it until it is stopped */
        {"good.yaml", ",ok,"},
    };
    assert_int_equal(trial_lines(report), 7);
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        char *line = trial_line(report, told[i][0]);
        if (line == NULL || strstr(line, told[i][1]) == NULL)
            fail_msg("of %s: %s", told[i][0], line == NULL ? "nothing" : line);
        free(line);
    }
    free(report);
    unlink(run_path(path, folder, "pipe.yaml"));
}

/* FOLDER/north/again leads to FOLDER; FOLDER/south leads to FOLDER/north, which is no loop. */
static void a_folder_that_leads_back_is_one_row(void **state) {
    const char *folder = *state;
    char path[RUN_PATH];
    trial_write(folder, "north/a.yaml", "roof: one\n");
    assert_int_equal(symlink("..", run_path(path, folder, "north/again")), 0);
    char *report = trial_run(&(struct trial_how){.jobs = 1}, &folder, 1, NULL);
    assert_int_equal(trial_lines(report), 3);
    char *line = trial_line(report, "north/again");
    assert_non_null(strstr(line, "a folder that leads back to one that it lies in"));
    free(line);
    free(report);
    unlink(run_path(path, folder, "north/again"));
    assert_int_equal(symlink("north", run_path(path, folder, "south")), 0);
    assert_files(folder, &folder, 1, "/north/a.yaml /south/a.yaml ");
    unlink(path);
}

/* It was listed, and was gone when its turn came. */
static void a_file_that_vanishes_is_one_row(void **state) {
    const char *folder = *state;
    const struct trial_how how = {.jobs = 1};
    char path[RUN_PATH];
    trial_write(folder, "a.yaml", "roof: one\n");
    trial_write(folder, "b.yaml", "roof: two\n");
    struct fleet *fleet = trial_open(&how, &folder, 1);
    unlink(run_path(path, folder, "a.yaml"));
    assert_false(trial_labour(fleet, &how));
    char *text = trial_text(fleet_write_csv, fleet);
    assert_int_equal(trial_lines(text), 3);
    assert_non_null(strstr(text, "a.yaml,,error,,,,,,not a file with a line in it,,"));
    assert_non_null(strstr(text, "b.yaml,two,ok,"));
    free(text);
    trial_close(fleet);
}

/* ---- Folders of sheets ----------------------------------------------------------------------- */

static void assert_named(const char *file, const char *wanted) {
    char *name = fleet_folder_name(file);
    assert_string_equal(name, wanted);
    free(name);
}

static void folders_have_safe_names(void **state) {
    (void)state;
    assert_named("roofs/easy.yaml", "roofs+easy.yaml");
    assert_named("/srv/r.yaml", "+srv+r.yaml");
    assert_named("../r.yaml", "=2E.+r.yaml");
    assert_named("..", "=2E.");
    assert_named("-rf.yaml", "=2Drf.yaml");
    assert_named("a b+c=d%\n\".yaml", "a=20b=2Bc=3Dd=25=0A=22.yaml");
    assert_named("\xC3\xA4", "=C3=A4");
}

/* The names that look most alike, and those that are cut. */
static void no_two_files_share_a_folder(void **state) {
    (void)state;
    char many[2][600];
    memset(many, 'x', sizeof many);
    many[0][599] = many[1][599] = '\0';
    many[0][590] = 'a';
    const char *const files[] = {"a/b", "a+b",   "a=2Bb", "a//b",  "a=b",
                                 "a%b", "./a/b", "a/b/",  many[0], many[1]};
    enum { COUNT = sizeof files / sizeof files[0] };
    char *names[COUNT];
    for (size_t i = 0; i < COUNT; i++) {
        names[i] = fleet_folder_name(files[i]);
        assert_true(strlen(names[i]) <= 200);
        assert_null(strpbrk(names[i], "/ \n\"'%&<>?#*$`\\"));
        for (size_t j = 0; j < i; j++)
            assert_string_not_equal(names[i], names[j]);
    }
    for (size_t i = 0; i < COUNT; i++)
        free(names[i]);
}

int main(void) {
    const struct CMUnitTest tests[] = {
#define WALK_TEST(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
        WALK_TEST(folders_are_walked_depth_first_in_the_order_of_bytes),
        WALK_TEST(kits_in_folders_are_passed_over),
        WALK_TEST(named_files_come_in_the_order_named_and_once),
        WALK_TEST(what_cannot_be_read_is_one_row),
        WALK_TEST(a_folder_that_leads_back_is_one_row),
        WALK_TEST(a_file_that_vanishes_is_one_row),
        cmocka_unit_test(folders_have_safe_names),
        cmocka_unit_test(no_two_files_share_a_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
