#include "words.h"

#include "sheet.h"

#include <stdio.h>
#include <string.h>

/* The course number that follows it is what makes `course` a word of the files: "course 19". */
static const char course_word[] = "course";

/* A banner in capitals that may say what the word alone may not. */
static const char square_banner[] = "SQUARE NOT CHECKED";

static const struct word table[] = {
    {"bracket", "frame", true},
    {"brackets", "frames", true},
    {"mark", "lag hole", true},
    {"marks", "lag holes", true},
    {"forgiveness", "room to miss", true},
    {"margin", "spare", true},
    {"margins", "spares", true},
    {"nearest miss", "closest fit (does NOT work)", true},
    {"near", "LEFT or RIGHT", true},
    {"far", "LEFT or RIGHT", true},
    {"y", "up the roof, tape on shingles", false},
    {"block", "hub", true},
    {"blocks", "hubs", true},
    {"blocked", "does NOT work", true},
    {"undecided", "NOT DECIDED", false},
    {"square", "corner check (3-4-5)", true},
    {course_word, "butt edge above the eave edge", false},
    {"corner", "zero corner", false},
    {"grip", "clamp offset", true},
    {"standoff", "clearance under frame", true},
    {"bottom_bracket", "bottom fitting", true},
    {"hole_up", "lower edge to hub", true},
    {"keep_flashing", "clear of flashings", true},
    {"keep_bracket", "clear of frames", true},
    {"lag_clear", "clamp to lag", true},
    {"stock", "bar", false},
    {"wood", "solid wood around the lag", false},
    {"course-edge", "flashing's lower edge", true},
    {"course-block", "hub below the next butt edge", true},
    {"lap", "flashing's top lap", false},
    {"joints", "flashing's sides to joints", false},
    {"vent-flashing", "flashing to vent", true},
    {"vent-bracket", "frame to vent", true},
    {"setback", "distance to the roof's edge", false},
    {"row", "where the line meets the legs", false},
    {"clearance", "room at the bottom fitting", false},
    {"foot-reach", "foot's reach to its leg", true},
    {"pipe-bay", "pipe hole between rafters", true},
    {"pipe-reach", "pipe hole to its port", true},
    {"strut-clear", "room around the strut", true},
    {"apart", "gap between neighbours", false},
    {"strut-clamp", "clamp's place on the strut", true},
    {"strut-span", "lags along the strut", true},
    {"strut-stock", "length of the strut", true},
    {"row-line", "lags on one line", true},
    {"complete", "count of holes", false},
};

enum { TABLE_COUNT = sizeof table / sizeof table[0] };

const struct word *words_all(size_t *count) {
    *count = TABLE_COUNT;
    return table;
}

const char *words_for(const char *file) {
    for (size_t i = 0; i < TABLE_COUNT; i++) {
        if (strcmp(table[i].file, file) == 0) {
            return table[i].sheet;
        }
    }
    return file;
}

const char *words_rule(enum rule rule) {
    return words_for(check_rule_name(rule));
}

const char *sheet_rule_words(const char *rule) {
    return words_for(rule);
}

const char *words_side(const struct roof *roof, enum side side) {
    bool left = (roof->corner == CORNER_LEFT) == (side == SIDE_NEAR);
    return left ? "LEFT" : "RIGHT";
}

const char *words_way(const struct roof *roof, double along_x) {
    return words_side(roof, along_x < 0 ? SIDE_NEAR : SIDE_FAR);
}

const char *words_ordinal(char buffer[WORDS_ORDINAL], size_t number) {
    static const char *const endings[] = {"th", "st", "nd", "rd"};
    size_t last = number % 10;
    bool teen = number / 10 % 10 == 1;
    snprintf(buffer, WORDS_ORDINAL, "%zu%s", number, endings[!teen && last <= 3 ? last : 0]);
    return buffer;
}

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool part_of_word(char c) {
    c = lower(c);
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

/* True where text begins with the whole word, whatever its case. */
static bool begins_with(const char *text, const char *word) {
    size_t i = 0;
    for (; word[i] != '\0'; i++) {
        if (lower(text[i]) != lower(word[i])) {
            return false;
        }
    }
    return !part_of_word(text[i]);
}

/* The longest word kept off sheets that text begins with, or NULL. */
static const struct word *kept_off_at(const char *text) {
    const struct word *longest = NULL;
    for (size_t i = 0; i < TABLE_COUNT; i++) {
        if (table[i].kept_off && begins_with(text, table[i].file) &&
            (longest == NULL || strlen(table[i].file) > strlen(longest->file))) {
            longest = &table[i];
        }
    }
    return longest;
}

/* The number of bytes of "course 19" at the head of text, its number in *course; else 0. */
static size_t numbered_course(const char *text, size_t *course) {
    if (!begins_with(text, course_word)) {
        return 0;
    }
    size_t i = strlen(course_word);
    *course = 0;
    if (text[i] != ' ' || text[i + 1] < '0' || text[i + 1] > '9') {
        return 0;
    }
    for (i++; text[i] >= '0' && text[i] <= '9' && *course <= ROOF_COURSES_MOST; i++) {
        *course = *course * 10 + (size_t)(text[i] - '0');
    }
    return i;
}

const char *words_kept_off(const char *text) {
    size_t course = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (i > 0 && part_of_word(text[i - 1])) {
            continue;
        }
        if (strncmp(text + i, square_banner, sizeof square_banner - 1) == 0) {
            i += sizeof square_banner - 2;
        } else if (kept_off_at(text + i) != NULL || numbered_course(text + i, &course) > 0) {
            return text + i;
        }
    }
    return NULL;
}

/* The number of bytes of one of the roof's own names (or its banner) at the head of text; else 0.
 */
static size_t own_name(const struct roof *roof, const char *text) {
    if (strncmp(text, square_banner, sizeof square_banner - 1) == 0) {
        return sizeof square_banner - 1;
    }
    for (size_t i = 0; i < roof->bracket_count; i++) {
        if (roof->brackets[i].name[0] != '\0' && begins_with(text, roof->brackets[i].name)) {
            return strlen(roof->brackets[i].name);
        }
    }
    for (size_t i = 0; i < roof->vent_count; i++) {
        if (roof->vents[i].name[0] != '\0' && begins_with(text, roof->vents[i].name)) {
            return strlen(roof->vents[i].name);
        }
    }
    for (size_t i = 0; i < roof->pipe_count; i++) {
        if (roof->pipes[i].name[0] != '\0' && begins_with(text, roof->pipes[i].name)) {
            return strlen(roof->pipes[i].name);
        }
    }
    return 0;
}

struct cut_text {
    char *out;
    size_t size, used;
};

static void put(struct cut_text *cut, const char *text, size_t length) {
    for (size_t i = 0; i < length && cut->used + 1 < cut->size; i++) {
        cut->out[cut->used++] = text[i];
    }
    cut->out[cut->used] = '\0';
}

/* Puts the trade's word for what text begins with; returns the bytes of text it stands for. */
static size_t say_one(const struct roof *roof, const char *text, struct cut_text *cut) {
    size_t course = 0;
    size_t taken = own_name(roof, text);
    if (taken > 0) {
        put(cut, text, taken);
        return taken;
    }
    taken = numbered_course(text, &course);
    if (taken > 0) {
        char ordinal[WORDS_ORDINAL];
        words_ordinal(ordinal, course);
        put(cut, ordinal, strlen(ordinal));
        put(cut, " butt edge", strlen(" butt edge"));
        return taken;
    }
    const struct word *word = kept_off_at(text);
    if (word == NULL) {
        return 0;
    }
    const char *sheet = word->sheet;
    if (begins_with(text, "near") && strcmp(word->file, "near") == 0) {
        sheet = words_side(roof, SIDE_NEAR);
    } else if (strcmp(word->file, "far") == 0) {
        sheet = words_side(roof, SIDE_FAR);
    }
    put(cut, sheet, strlen(sheet));
    return strlen(word->file);
}

void words_say(const struct roof *roof, const char *text, char *out, size_t size) {
    struct cut_text cut = {out, size, 0};
    out[0] = '\0';
    for (size_t i = 0; text[i] != '\0';) {
        size_t taken = 0;
        if (i == 0 || !part_of_word(text[i - 1])) {
            taken = say_one(roof, text + i, &cut);
        }
        if (taken == 0) {
            put(&cut, text + i, 1);
            taken = 1;
        }
        i += taken;
    }
}
