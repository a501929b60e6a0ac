# Read in by tests of pages: whether what a page shows is what a command prints.

# shown_in SHOWN PRINTED: without a line `...` between them, lines must follow each other.
shown_in() {
    awk '
        NR == FNR { printed[++count] = $0; next }
        $0 == "..." { gap = 1; next }
        {
            found = 0
            for (i = at + 1; i <= count && !found; i++) {
                if (printed[i] == $0) { found = 1; at = i }
                else if (!gap && shown > 0) { break }
            }
            if (!found) { print "not printed there: " $0; wrong = 1; exit }
            gap = 0
            shown++
        }
        END { if (wrong || shown == 0) exit 1 }' "$2" "$1"
}

# shown_proves FOLDER: that comparison can fail: wrong line, wrong order, a gap that is not told,
# nothing.  The folder is for its files.
shown_proves() {
    printf 'a\nb\nc\n' >"$1/printed"
    printf 'a\n...\nc\n' >"$1/good"
    shown_in "$1/good" "$1/printed" || fail "the comparison refuses what is right"
    for wrong in 'a\nx\n' 'b\na\n' 'a\nc\n' '...\n'; do
        # shellcheck disable=SC2059 # the format is the text
        printf "$wrong" >"$1/wrong"
        if shown_in "$1/wrong" "$1/printed" >/dev/null; then
            fail "the comparison lets pass: $wrong"
        fi
    done
}
