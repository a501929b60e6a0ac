#include "pocket.h"

#include "leaf.h"

static void put_lines(struct leaf *leaf, const char *const *lines) {
    for (; *lines != NULL; lines++) {
        fprintf(leaf->stream, "%s\n", *lines);
    }
}

static void put(struct leaf *leaf, const char *markup) {
    fputs(markup, leaf->stream);
}

/* Nothing is fetched from anywhere: the page forbids it to itself. */
static void put_head(struct leaf *leaf) {
    put(leaf, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
              "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
              "<meta name=\"color-scheme\" content=\"light dark\">\n"
              "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
              "style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; "
              "form-action 'none'\">\n<title>");
    leaf_text(leaf, leaf->pocket->answer->roof->name);
    put(leaf, ": chalk sheet</title>\n<style>\n");
    put_lines(leaf, leaf_look);
    put(leaf, "</style>\n</head>\n");
}

static void put_title(struct leaf *leaf) {
    const struct answer *answer = leaf->pocket->answer;
    const char *stamp = sheet_stamp(answer);
    fprintf(leaf->stream, "<body data-sheet=\"%s\">\n<header>\n<h1>", answer->fingerprint);
    leaf_text(leaf, answer->roof->name);
    put(leaf, "</h1>\n");
    if (stamp != NULL) {
        fprintf(leaf->stream, "<p class=\"stamp\">%s</p>\n", stamp);
    }
    fprintf(leaf->stream, "<p>CHALK SHEET, fingerprint %s</p>\n", answer->fingerprint);
    put(leaf, "<p id=\"lost\" hidden>This browser keeps no ticks for a page opened this way: they "
              "are gone when it is closed.</p>\n</header>\n");
}

/* The ways through the page; what needs the script to work appears with it. */
static void put_ways(struct leaf *leaf) {
    const bool works = leaf->pocket->answer->status == STATUS_OK;
    put(leaf, "<nav aria-label=\"Parts of the sheet\">\n<a href=\"#stop\">Stop</a>\n");
    put(leaf, works ? "<a href=\"#ground\">Ground</a>\n" : "");
    put(leaf, "<a href=\"#drawing\">Drawing</a>\n");
    put(leaf, works ? "<a href=\"#roof\">Roof</a>\n<a href=\"#holes\">Holes</a>\n" : "");
    put(leaf, "</nav>\n");
    put(leaf, "<section id=\"modes\" aria-label=\"What is shown\" hidden>\n"
              "<button type=\"button\" id=\"all\" aria-pressed=\"true\">All</button>\n"
              "<button type=\"button\" id=\"one\" aria-pressed=\"false\">One at a time</button>\n"
              "<p id=\"count\" role=\"status\"></p>\n</section>\n");
}

static void put_foot(struct leaf *leaf) {
    put(leaf, "</main>\n<section id=\"walk\" aria-label=\"From one to the next\" hidden>\n"
              "<button type=\"button\" id=\"back\">Back</button>\n"
              "<p id=\"where\" role=\"status\"></p>\n"
              "<button type=\"button\" id=\"next\">Next</button>\n</section>\n"
              "<footer>\n<p>END OF SHEET, fingerprint ");
    put(leaf, leaf->pocket->answer->fingerprint);
    put(leaf, ". The same one stands on every part of it.</p>\n"
              "<button type=\"button\" id=\"clear\" hidden>Clear all ticks</button>\n"
              "</footer>\n<p id=\"print\" aria-hidden=\"true\">");
    leaf_text(leaf, leaf->pocket->answer->roof->name);
    fprintf(leaf->stream, ", fingerprint %s%s%s</p>\n", leaf->pocket->answer->fingerprint,
            sheet_stamp(leaf->pocket->answer) != NULL ? ". " : "",
            sheet_stamp(leaf->pocket->answer) != NULL ? sheet_stamp(leaf->pocket->answer) : "");
    put(leaf, "<script>\n");
    put_lines(leaf, leaf_script);
    put(leaf, "</script>\n</body>\n</html>\n");
}

static void take(void *subject, const struct piece *piece) {
    leaf_take(subject, piece);
}

enum outcome pocket_write(const struct pocket *pocket, FILE *stream) {
    struct leaf leaf = {.stream = stream, .pocket = pocket};
    const struct sheet_taker taker = {take, &leaf};
    put_head(&leaf);
    put_title(&leaf);
    put_ways(&leaf);
    put(&leaf, "<main>\n");
    const enum outcome outcome = pocket->telling != NULL
                                     ? pocket->telling->tell(pocket->telling->subject, &taker)
                                     : sheet_tell(pocket->answer, &taker);
    leaf_end(&leaf);
    if (!leaf.drawn) {
        leaf_draw(&leaf);
    }
    put_foot(&leaf);
    return leaf.failed ? OUTCOME_FAULT : outcome;
}
