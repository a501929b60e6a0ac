/* What a fleet comes to: figures from the record, and the text that tells them. */
#include "fleet_inner.h"

#include "markup.h"
#include "sheet.h"

#include <math.h>
#include <string.h>

enum { BAR_WIDTH = 40 };

static enum outcome bin_row(void *taker, const struct record_row *entry) {
    struct fleet_summary *summary = taker;
    const struct fleet_row *row = &entry->row;
    if (isfinite(row->forgiveness)) {
        const double inches =
            row->measure == MEASURE_MM ? row->forgiveness / LENGTH_MM_PER_INCH : row->forgiveness;
        summary->bins[fleet_bin(inches)]++;
    }
    return OUTCOME_DONE;
}

enum outcome fleet_summarise(struct fleet *fleet, struct fleet_summary *summary,
                             struct problems *problems) {
    struct fleet_summary made = {.listed = 0};
    enum outcome outcome = record_count(fleet->record, false, &made.listed, made.count);
    if (outcome == OUTCOME_DONE) {
        outcome = record_rules(fleet->record, &made);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = record_each(fleet->record, RECORD_ALL, bin_row, &made);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = record_slowest(fleet->record, &made);
    }
    if (outcome == OUTCOME_DONE) {
        *summary = made;
    }
    return fleet_told(fleet, outcome, problems);
}

static void write_counts(const struct fleet_summary *summary, FILE *stream) {
    size_t done = 0;
    for (size_t i = 0; i < FLEET_STATUS_COUNT; i++) {
        done += summary->count[i];
    }
    fprintf(stream, "%zu roof%s", summary->listed, summary->listed == 1 ? "" : "s");
    if (done < summary->listed) {
        fprintf(stream, ", %zu of them not looked at yet", summary->listed - done);
    }
    fprintf(stream, "\n  %8zu  work\n  %8zu  do NOT work\n", summary->count[FLEET_OK],
            summary->count[FLEET_BLOCKED]);
    if (summary->count[FLEET_UNDECIDED] > 0) {
        fprintf(stream, "  %8zu  NOT DECIDED within the limit\n", summary->count[FLEET_UNDECIDED]);
    }
    if (summary->count[FLEET_ERROR] > 0) {
        fprintf(stream, "  %8zu  could not be read or laid out: see the report\n",
                summary->count[FLEET_ERROR]);
    }
}

static void write_rules(const struct fleet_summary *summary, FILE *stream) {
    if (summary->count[FLEET_BLOCKED] == 0) {
        return;
    }
    fputs("\nWhat stands in the way\n", stream);
    for (size_t i = 0; i < summary->rule_count; i++) {
        fprintf(stream, "  %8zu  %s\n", summary->rules[i].count,
                sheet_rule_words(summary->rules[i].rule));
    }
    if (summary->without_marks > 0) {
        fprintf(stream, "  %8zu  no place at all\n", summary->without_marks);
    }
}

static void write_bins(const struct fleet_summary *summary, FILE *stream) {
    size_t most = 0;
    for (size_t bin = 0; bin < FLEET_BINS; bin++) {
        most = summary->bins[bin] > most ? summary->bins[bin] : most;
    }
    if (most == 0) {
        return;
    }
    fputs("\nRoom to miss\n", stream);
    for (size_t bin = 0; bin < FLEET_BINS; bin++) {
        const size_t bar = (summary->bins[bin] * BAR_WIDTH + most - 1) / most;
        fprintf(stream, "  %8zu  ", summary->bins[bin]);
        if (bar == 0) {
            fprintf(stream, "%s\n", fleet_bin_text(bin));
        } else {
            fprintf(stream, "%-22s %.*s\n", fleet_bin_text(bin), (int)bar,
                    "########################################");
        }
    }
}

static void write_slowest(const struct fleet_summary *summary, FILE *stream) {
    if (summary->slow_count > 0) {
        fputs("\nSlowest\n", stream);
    }
    for (size_t i = 0; i < summary->slow_count; i++) {
        const char *file = summary->slowest[i].file;
        const size_t length = strlen(file);
        const bool cut = length > 62;
        fprintf(stream, "  %8.2f s  %s", summary->slowest[i].seconds, cut ? "..." : "");
        markup_put_plain(stream, cut ? file + length - 59 : file);
        fputc('\n', stream);
    }
}

enum outcome fleet_write_summary(const void *subject, FILE *stream) {
    const struct fleet_summary *summary = subject;
    write_counts(summary, stream);
    write_rules(summary, stream);
    write_bins(summary, stream);
    write_slowest(summary, stream);
    return OUTCOME_DONE;
}
