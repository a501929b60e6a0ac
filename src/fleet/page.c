/* The summary as pages for a browser: no script, no other file, readable without colour. */
#include "fleet_inner.h"

#include "markup.h"
#include "sheet.h"

#include <math.h>
#include <string.h>

/* The plot, in its own units. */
enum {
    PLOT_LABEL = 170, /* left of the bars */
    PLOT_BAR = 320,
    PLOT_WIDTH = PLOT_LABEL + PLOT_BAR + 70,
    PLOT_STEP = 22
};

static const char head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta name=\"viewport\" content=\"width=device-width\">\n<title>Roofs laid out</title>\n"
    "<style>\n"
    "body { font-family: sans-serif; margin: 1.5em; max-width: 75em; color: #222; }\n"
    "table { border-collapse: collapse; }\n"
    "th, td { text-align: left; padding: .15em .8em .15em 0; border-bottom: 1px solid #ccc; }\n"
    "td.n, th.n { text-align: right; white-space: nowrap; }\n"
    "td.file { overflow-wrap: anywhere; min-width: 16em; }\n"
    ".no { font-weight: bold; }\n"
    "svg text { font-size: 13px; }\n"
    "@media print { a { color: inherit; } }\n"
    "</style>\n</head>\n<body>\n";

size_t fleet_pages(const struct fleet_summary *summary) {
    const size_t pages = (summary->listed + FLEET_PAGE_ROOFS - 1) / FLEET_PAGE_ROOFS;
    return pages > 0 ? pages : 1;
}

const char *fleet_page_name(char name[FLEET_PAGE_NAME], size_t number) {
    if (number == 1) {
        snprintf(name, FLEET_PAGE_NAME, "summary.html");
    } else {
        snprintf(name, FLEET_PAGE_NAME, "summary-%zu.html", number);
    }
    return name;
}

/* ---- Figures --------------------------------------------------------------------------------- */

static void put_count(FILE *stream, size_t count, const char *what) {
    fprintf(stream, "<tr><td class=\"n\">%zu</td><td>", count);
    markup_put(stream, what);
    fputs("</td></tr>\n", stream);
}

static void put_counts(const struct fleet_summary *summary, FILE *stream) {
    size_t done = 0;
    for (size_t i = 0; i < FLEET_STATUS_COUNT; i++) {
        done += summary->count[i];
    }
    fputs("<table>\n", stream);
    put_count(stream, summary->count[FLEET_OK], "work");
    put_count(stream, summary->count[FLEET_BLOCKED], "do NOT work");
    put_count(stream, summary->count[FLEET_UNDECIDED], "NOT DECIDED within the limit");
    put_count(stream, summary->count[FLEET_ERROR], "could not be read or laid out");
    if (done < summary->listed) {
        put_count(stream, summary->listed - done, "not looked at yet");
    }
    fputs("</table>\n", stream);
}

static void put_rules(const struct fleet_summary *summary, FILE *stream) {
    if (summary->count[FLEET_BLOCKED] == 0) {
        return;
    }
    fputs("<h2>What stands in the way</h2>\n<table>\n", stream);
    for (size_t i = 0; i < summary->rule_count; i++) {
        put_count(stream, summary->rules[i].count, sheet_rule_words(summary->rules[i].rule));
    }
    if (summary->without_marks > 0) {
        put_count(stream, summary->without_marks, "no place at all");
    }
    fputs("</table>\n", stream);
}

/* Bars of roofs that work are full, those of others hatched by an outline: it prints in black. */
static void put_plot(const struct fleet_summary *summary, FILE *stream) {
    size_t most = 1;
    for (size_t bin = 0; bin < FLEET_BINS; bin++) {
        most = summary->bins[bin] > most ? summary->bins[bin] : most;
    }
    fprintf(stream,
            "<h2>Room to miss</h2>\n<svg role=\"img\" aria-label=\"Roofs by their room to miss\" "
            "width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\">\n",
            PLOT_WIDTH, FLEET_BINS * PLOT_STEP, PLOT_WIDTH, FLEET_BINS * PLOT_STEP);
    for (size_t bin = 0; bin < FLEET_BINS; bin++) {
        const size_t top = bin * PLOT_STEP;
        const double bar = (double)summary->bins[bin] * PLOT_BAR / (double)most;
        fprintf(stream, "<text x=\"%d\" y=\"%zu\" text-anchor=\"end\">%s</text>", PLOT_LABEL - 8,
                top + 15, fleet_bin_text(bin));
        fprintf(stream,
                "<rect x=\"%d\" y=\"%zu\" width=\"%.1f\" height=\"%d\" stroke=\"#333\" "
                "fill=\"%s\"/>",
                PLOT_LABEL, top + 3, bar, PLOT_STEP - 6, fleet_bin_works(bin) ? "#4a6741" : "none");
        fprintf(stream, "<text x=\"%.1f\" y=\"%zu\">%zu</text>\n", PLOT_LABEL + bar + 6, top + 15,
                summary->bins[bin]);
    }
    fputs("</svg>\n<p>Full bars: roofs that work.</p>\n", stream);
}

static void put_slowest(const struct fleet_summary *summary, FILE *stream) {
    if (summary->slow_count == 0) {
        return;
    }
    fputs("<h2>Slowest</h2>\n<table>\n", stream);
    for (size_t i = 0; i < summary->slow_count; i++) {
        fprintf(stream, "<tr><td class=\"n\">%.2f s</td><td class=\"file\">",
                summary->slowest[i].seconds);
        markup_put(stream, summary->slowest[i].file);
        fputs("</td></tr>\n", stream);
    }
    fputs("</table>\n", stream);
}

/* ---- The table of roofs -----------------------------------------------------------------------
 */

struct table {
    const struct fleet *fleet;
    FILE *stream;
    uint64_t last; /* the number of the row put last */
};

static const char *answer_words(enum fleet_status status) {
    switch (status) {
    case FLEET_OK:
        return "works";
    case FLEET_BLOCKED:
        return "does NOT work";
    case FLEET_UNDECIDED:
        return "NOT DECIDED";
    default:
        return "error";
    }
}

/* The part of a sheet's folder below the folder of the pages, or NULL. */
static const char *below(const struct fleet *fleet, const char *sheets) {
    const size_t length = fleet->sheets == NULL ? 0 : strlen(fleet->sheets);
    const bool is_below = length > 0 && sheets != NULL &&
                          strncmp(sheets, fleet->sheets, length) == 0 && sheets[length] == '/';
    return is_below ? sheets + length + 1 : NULL;
}

static void put_file(const struct table *table, const struct record_row *entry) {
    const char *folder = below(table->fleet, entry->sheets);
    if (folder != NULL) {
        fprintf(table->stream, "<a href=\"%s/%s\">", folder, table->fleet->sheet);
    }
    markup_put(table->stream, entry->file);
    fputs(folder != NULL ? "</a>" : "", table->stream);
    if (folder != NULL && table->fleet->printed[0] != '\0') {
        fprintf(table->stream, " (<a href=\"%s/%s\">PDF</a>)", folder, table->fleet->printed);
    }
}

static void put_length(const struct table *table, double length, enum measure measure) {
    if (isfinite(length)) {
        const double shown =
            measure == MEASURE_MM ? round(length * 10) / 10 : round(length * 1000) / 1000;
        fprintf(table->stream, "%.*f %s", measure == MEASURE_MM ? 1 : 3, shown == 0 ? 0.0 : shown,
                measure == MEASURE_MM ? "mm" : "in");
    }
}

static enum outcome put_roof(void *taker, const struct record_row *entry) {
    struct table *table = taker;
    const struct fleet_row *row = &entry->row;
    FILE *stream = table->stream;
    table->last = entry->number;
    fputs("<tr><td class=\"file\">", stream);
    put_file(table, entry);
    fputs("</td><td>", stream);
    markup_put(stream, row->roof);
    fprintf(stream, "</td><td%s>%s</td><td class=\"n\">",
            row->status == FLEET_OK ? "" : " class=\"no\"", answer_words(row->status));
    put_length(table, row->forgiveness, row->measure);
    fputs("</td><td class=\"n\">", stream);
    if (row->holes >= 0) {
        fprintf(stream, "%ld", row->holes);
    }
    fputs("</td><td class=\"n\">", stream);
    put_length(table, row->moved, row->measure);
    fputs("</td><td>", stream);
    markup_put(stream, row->status == FLEET_ERROR ? row->error
                       : row->rule[0] == '\0'     ? ""
                                                  : sheet_rule_words(row->rule));
    if (row->mark[0] != '\0') {
        fputs(", ", stream);
        markup_put(stream, row->mark);
    }
    fputs("</td></tr>\n", stream);
    return ferror(stream) == 0 ? OUTCOME_DONE : OUTCOME_FAULT;
}

static void put_pages(const struct fleet_page *page, FILE *stream) {
    const size_t pages = fleet_pages(page->summary);
    if (pages == 1) {
        return;
    }
    fputs("<p>", stream);
    for (size_t number = 1; number <= pages; number++) {
        if (number == page->number) {
            fprintf(stream, "<b>%zu</b> ", number);
        } else {
            char name[FLEET_PAGE_NAME];
            fprintf(stream, "<a href=\"%s\">%zu</a> ", fleet_page_name(name, number), number);
        }
    }
    fputs("</p>\n", stream);
}

enum outcome fleet_write_page(const void *subject, FILE *stream) {
    const struct fleet_page *page = subject;
    struct fleet *fleet = page->fleet;
    const bool goes_on = page->number > 1 && fleet->paged == page->number - 1;
    struct record_span span = {.most = FLEET_PAGE_ROOFS};
    if (goes_on) {
        span.after = fleet->paged_to;
    } else {
        span.skip = (page->number - 1) * FLEET_PAGE_ROOFS;
    }
    struct table table = {.fleet = fleet, .stream = stream, .last = span.after};
    fputs(head, stream);
    fprintf(stream, "<h1>%zu roof%s laid out</h1>\n", page->summary->listed,
            page->summary->listed == 1 ? "" : "s");
    if (page->number == 1) {
        put_counts(page->summary, stream);
        put_plot(page->summary, stream);
        put_rules(page->summary, stream);
        put_slowest(page->summary, stream);
    }
    fputs("<h2>Every roof</h2>\n", stream);
    put_pages(page, stream);
    fputs("<table>\n<tr><th>File, with its sheet</th><th>Roof</th><th>Answer</th>"
          "<th class=\"n\">Room to miss</th><th class=\"n\">Holes</th>"
          "<th class=\"n\">Off the wish</th><th>Tightest, or in the way</th></tr>\n",
          stream);
    const enum outcome outcome = record_each(fleet->record, span, put_roof, &table);
    fleet->paged = page->number;
    fleet->paged_to = table.last;
    fputs("</table>\n", stream);
    put_pages(page, stream);
    fputs("</body>\n</html>\n", stream);
    return outcome;
}
