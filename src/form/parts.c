#include "parts.h"

#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))
#define LINES(list) .lines = (list), .line_count = COUNT(list)
#define ART(list) .art = (list), .art_count = COUNT(list)

static const struct form_line zero_lines[] = {
    {"Job", NULL},
    {"Lengths on this form", "inches|mm"},
    {"Zero corner, as you face up", "LEFT|RIGHT"},
    {"Rake: the tape hooks on", NULL},
    {"Eave: the tape hooks on", NULL},
    {"Photo of both edges", "taken"},
};
static const char *const zero_art[] = {
    "   ridge, as you face it",  "  +---------------------+", "  |                     |",
    "  | up the roof         |", "  ^                     |", "  |   along the eave    |",
    "  0--->-----------------+", " ZERO: here on the LEFT",
};

static const struct form_line access_lines[] = {
    {"Ladder stands at", NULL},         {"Ground there", "firm|soft|slopes"},
    {"Eave above the ground", NULL},    {"Anchor, in which rafter", NULL},
    {"Nearest power line is", NULL},    {"  on which side", NULL},
    {"  who was asked about it", NULL},
};
static const char *const access_art[] = {
    "  ___________________ power",
    "     ^  how close?",
    "     v  /\\",
    "       /  \\",
    "      /    \\   anchor at ridge",
    "     /|    |\\",
    "    / |    |",
    "  _/__|____|__ ladder, ground",
};

static const struct form_line face_lines[] = {
    {"Along the eave", NULL},
    {"Along the ridge", NULL},
    {"Up the roof, on shingles", NULL},
    {"Pitch, rise in 12 or degrees", NULL},
    {"Zero corner:  along", NULL},
    {"              up the rake", NULL},
    {"              across", NULL},
    {"Other corner: along", NULL},
    {"              up the rake", NULL},
    {"              across", NULL},
};
static const char *const face_art[] = {
    "  +------- ridge -------+", "  |                     |",  "  |  up the roof        |",
    "  + 6'                  |", "  | \\   corner check    |", "  |   \\ 10'  (3-4-5)    |",
    "  0----+----------------+", "    8'    along the eave",
};

static const struct form_line framing_lines[] = {
    {"Framing", "rafters|TRUSSES"},   {"Size, such as 2x6", NULL},
    {"Wood and grade stamp", NULL},   {"Middle to middle", NULL},
    {"Thickness of one ply", NULL},   {"Span, level, wall to ridge", NULL},
    {"Wall line, up the roof", NULL}, {"Found by", "probe|attic|sound"},
};
static const char *const framing_art[] = {
    "               /\\",
    "             //  \\\\",
    "           //      \\\\",
    " wall    //<- span ->\\\\",
    " line  //|",
    "  ^  //  | outer face",
    "   //    | of the wall",
    " eave    |",
};

static const struct form_line rafter_lines[] = {
    {"Lower line, up the roof", NULL},
    {"  rake to rake along it", NULL},
    {"Upper line, up the roof", NULL},
    {"  rake to rake along it", NULL},
};
static const char *const rafter_art[] = {
    "  +-|---|---|---|-+ upper line",
    "  | |   |   |   | |",
    "  +-|---|---|---|-+ lower line",
    "  |---->|<--------|",
    "   from   from",
    "   LEFT   RIGHT",
};
static const char *const rafter_heads[] = {"Raf-|ter",
                                           "Plies|",
                                           "Good|?",
                                           "Lower line|from LEFT",
                                           "Lower line|from RIGHT",
                                           "LEFT +|RIGHT",
                                           "Upper line|from LEFT",
                                           "Upper line|from RIGHT",
                                           "LEFT +|RIGHT"};
static const int rafter_widths[] = {4, 5, 4, 10, 10, 9, 10, 10, 8};
static const struct form_table rafter_table = {rafter_heads, rafter_widths, 9, 20, true};

static const struct form_line deck_lines[] = {
    {"Deck", "plywood|OSB|boards"},     {"Deck thickness", NULL},
    {"Gap between boards", NULL},       {"Layers of shingles", "1|2|more"},
    {"Thickness of all layers", NULL},  {"Age of the shingles", NULL},
    {"Bend a tab: it", "bends|CRACKS"}, {"Air warm or cold just then", NULL},
    {"Seals lift", "easily|hard|torn"},
};
static const char *const deck_art[] = {
    "       ______________",          "    __/______________ shingles",
    "   _/________________ how many", "  ===================  deck",
    "     | |         | |",           "     | | rafter  | |",
};

static const struct form_line edge_lines[] = {
    {"One course, edge to edge", NULL},
    {"Widest difference seen", NULL},
    {"Three-tab: cutout to cutout", NULL},
    {"One of the 1st course, from 0", NULL},
};
static const char *const edge_art[] = {
    "  |____|____|____| 3rd edge",      "  |__|____|____|_| 2nd",
    "  |____|____|____| 1st butt edge", "  ^              ^",
    "  | LEFT   RIGHT | tape up the",   "  +----- eave ---+ roof here",
};
static const char *const edge_heads[] = {"Butt edge number|counted from the eave",
                                         "Up the roof at|the LEFT rake",
                                         "Up the roof at|the RIGHT rake"};
static const int edge_widths[] = {24, 26, 26};
static const struct form_table edge_table = {edge_heads, edge_widths, 3, 4, false};

static const struct form_line vent_lines[] = {
    {"Shingle lifted to see it", "yes|no"},
    {"Flues: hot, maker's clearance", NULL},
};
static const char *const vent_art[] = {
    "     +----------+",         "     |  flange  |  ^ up", "     |   (  )   |  | the",
    "     | lies under  | roof", "     +-shingles-+",       "  ----->  middle from LEFT",
};
static const char *const vent_heads[] = {"What it is|",
                                         "Middle,|from LEFT",
                                         "Middle,|from RIGHT",
                                         "Middle, up|the roof",
                                         "Flange,|along",
                                         "Flange,|up",
                                         "How|tall"};
static const int vent_widths[] = {16, 11, 11, 11, 8, 8, 7};
static const struct form_table vent_table = {vent_heads, vent_widths, 7, 8, false};

static const struct form_line attic_lines[] = {
    {"Seen from below", "yes|no way in"},
    {"Rafters there are dry", "yes|no"},
};
static const char *const attic_art[] = {
    "  =====================  deck", "  | |//split  | |   | |", "  | |   ~~~wire~~~  | |",
    "  | |===splice=|=|  | |",       "  | |     (duct)    | |",
};
static const char *const attic_heads[] = {
    "Raf-|ter", "From,|up the roof", "To,|up the roof",
    "Split, splice, notch, knot, wire, duct,|leak: what it is"};
static const int attic_widths[] = {4, 13, 13, 45};
static const struct form_table attic_table = {attic_heads, attic_widths, 4, 8, false};

static const struct form_line frame_lines[] = {
    {"Keep clear: from the eave", NULL}, {"  from the ridge", NULL},
    {"  from the LEFT rake", NULL},      {"  from the RIGHT rake", NULL},
    {"Between two frames", NULL},        {"Real frame taped, as its kit", "yes|no"},
    {"Pipes: bore, how many", NULL},     {"  ports: from its LEFT, up it", NULL},
};
static const char *const frame_art[] = {
    "  +---------------------+", "  |    +---------+      |", "  |    |--top----|      |",
    "  |    |  frame  |      |", "  |    |--bottom-|      |", "  |--->+---------+      |",
    "  0---------------------+",
};
static const char *const frame_heads[] = {"Frame|",
                                          "Kit|",
                                          "Wanted: lower corner|from zero rake",
                                          "Wanted:|up the roof",
                                          "Top|strut/feet",
                                          "Bottom|strut/feet"};
static const int frame_widths[] = {7, 14, 21, 11, 10, 10};
static const struct form_table frame_table = {frame_heads, frame_widths, 6, 4, false};

static const struct form_line weather_lines[] = {
    {"Snow on the roof, psf or kPa", NULL}, {"Wind speed, mph or m/s", NULL},
    {"Open country, woods, coast", NULL},   {"Middle of roof above ground", NULL},
    {"Who gave these figures", NULL},
};
static const char *const weather_art[] = {
    "     * snow *",           "    *  * /\\  *    <=== wind",
    "       /  ^ \\     <===", "     /    |   \\",
    "    |  height  |",        "  __|_____v____|__",
};

static const struct form_line signed_lines[] = {
    {"Measured by", NULL},
    {"Date and weather", NULL},
    {"Checked by, another person", NULL},
    {"Date", NULL},
};
static const struct form_part parts[] = {
    {.title = "ZERO EDGES",
     .why = "Whoever chalks the roof hooks the tape where you hooked it: metal, board or shingle, "
            "outer or inner face.",
     LINES(zero_lines),
     ART(zero_art),
     .sketch = SKETCH_ZERO},
    {.title = "GETTING UP",
     .why = "Before anything is measured. A power line closer than the local rule: stop, and have "
            "it seen to.",
     LINES(access_lines),
     ART(access_art),
     .sketch = SKETCH_ACCESS},
    {.title = "THE FACE",
     .why =
         "The corner check tells whether the corner is true: 3-4-5, as large as the roof allows, "
         "such as 6', 8', 10'.",
     LINES(face_lines),
     ART(face_art),
     .sketch = SKETCH_FACE},
    {.title = "FRAMING",
     .why = "Trusses: no hole without an engineer. The wall line matters because no lag goes out "
            "over the eave.",
     LINES(framing_lines),
     ART(framing_art),
     .sketch = SKETCH_FRAMING},
    {.title = "RAFTERS",
     .why =
         "Middle of each rafter on both lines that will be chalked, from the LEFT and again from "
         "the RIGHT. The two must add up to rake to rake within 1/4 in (6 mm); if not, measure "
         "again. More rafters: take this page twice.",
     LINES(rafter_lines),
     ART(rafter_art),
     .sketch = SKETCH_RAFTERS,
     .table = &rafter_table},
    {.title = "DECK AND SHINGLES",
     .why = "The lag has to pass all of it. Shingles that crack when bent cannot be lifted: wait "
            "for warmth, or leave it.",
     LINES(deck_lines),
     ART(deck_art),
     .sketch = SKETCH_DECK},
    {.title = "BUTT EDGES",
     .why = "Flashings sit on courses. Tape the first butt edge, and one high up that you counted, "
            "at both sides.",
     LINES(edge_lines),
     ART(edge_art),
     .sketch = SKETCH_EDGES,
     .table = &edge_table},
    {.title = "VENTS AND WHATEVER STICKS OUT",
     .why = "The flange under the shingles counts, not what you see of it: feel for its edges.",
     LINES(vent_lines),
     ART(vent_art),
     .sketch = SKETCH_VENTS,
     .table = &vent_table},
    {.title = "SNOW AND WIND",
     .why = "From the building office or an engineer, if strength is to be looked at.",
     LINES(weather_lines),
     ART(weather_art),
     .sketch = SKETCH_WEATHER},
    {.title = "FROM THE ATTIC",
     .why = "Where no lag may go. Count rafters from the zero corner, the first is 1.",
     LINES(attic_lines),
     ART(attic_art),
     .sketch = SKETCH_ATTIC,
     .table = &attic_table},
    {.title = "THE FRAMES",
     .why = "What is to stand there, and where the owner wants it.",
     LINES(frame_lines),
     ART(frame_art),
     .sketch = SKETCH_FRAMES,
     .table = &frame_table},
    {.title = "SIGNED",
     .why = "A survey that nobody checked is a guess. Who checks tapes three readings of each "
            "table again, from the other side, before reading what stands there.",
     LINES(signed_lines),
     .sketch = SKETCH_NONE},
};

const struct form_part *form_parts(size_t *count) {
    *count = COUNT(parts);
    return parts;
}

size_t form_word(const char **text, const char **word) {
    const size_t length = strcspn(*text, "|");
    *word = *text;
    *text = (*text)[length] == '\0' ? NULL : *text + length + 1;
    return length;
}
