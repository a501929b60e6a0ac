#!/bin/sh
# Who may see whom: the checker, the marks and the roof share nothing with the optimiser, each engine
# is known in one place only, and the public header stands alone.  Run from the tree's root; the program's path is not needed.

# Tells every breach in the tree below the current folder: each file of src and include is read once,
# then what it sees, directly or through other headers, is held against what it may see.
breaches() {
    # shellcheck disable=SC2016 # the dollars are for awk
    find src include -name '*.[ch]' | sort | xargs awk '
    BEGIN {
        optimiser = "program.h candidates.h model.h layout.h solve.h glpk.h"
        yaml = "cyaml.h yaml.h"
        checker = " rules.h check.h marks.h roof.h length.h problem.h "
        for (i = 1; i < ARGC; i++) {
            known[ARGV[i]] = 1
            name = ARGV[i]
            if (!sub(/\.h$/, "&", name)) continue
            sub(/.*\//, "", name)
            project[name] = 1
            if (ARGV[i] ~ /^src\/(program|layout)\//) optimiser = optimiser " " name
        }
    }

    # An include: the name of its header, without the folder.
    /^[ \t]*#[ \t]*include[ \t]*[<"]/ {
        name = $0
        sub(/^[^<"]*[<"]/, "", name)
        sub(/[>"].*/, "", name)
        sub(/.*\//, "", name)
        includes[FILENAME] = includes[FILENAME] " " name
    }

    # Where it lies: beside the file, or in include; empty for headers of the system.
    function find_header(file, name,    beside) {
        beside = file
        sub(/[^\/]*$/, "", beside)
        if ((beside name) in known) return beside name
        return ("include/" name) in known ? "include/" name : ""
    }

    function look(file,    names, count, i, header) {
        count = split(includes[file], names, " ")
        for (i = 1; i <= count; i++) {
            if (names[i] in seen) continue
            seen[names[i]] = 1
            header = find_header(file, names[i])
            if (header != "") look(header)
        }
    }

    function must_not_see(file, list,    names, count, i) {
        count = split(list, names, " ")
        for (i = 1; i <= count; i++)
            if (names[i] in seen) print file " sees " names[i]
    }

    # Of the headers of this project, the checker includes its own and its inputs only.
    function includes_only(file, allowed,    names, count, i) {
        count = split(includes[file], names, " ")
        for (i = 1; i <= count; i++)
            if (names[i] in project && index(allowed, " " names[i] " ") == 0)
                print file " includes " names[i]
    }

    END {
        for (file in known) {
            split("", seen)
            look(file)
            if (file ~ /^src\/(check|marks|roof)\//) must_not_see(file, optimiser)
            if (file ~ /^src\/check\//) includes_only(file, checker)
            if (file == "include/ruddle.h") includes_only(file, " ")
            if (file != "src/layout/solve.c") must_not_see(file, "glpk.h")
            if (file !~ /^src\/survey\//) must_not_see(file, yaml)
        }
    }' | sort -u
}

# proves NAME FILE LINE: a sound made-up tree with that line in that file must be found at fault.
proves() {
    rm -rf "$made_up/src" "$made_up/include"
    mkdir -p "$made_up/src/check" "$made_up/src/marks" "$made_up/src/roof" "$made_up/src/layout" \
        "$made_up/src/survey" "$made_up/src/sheet" "$made_up/include"
    echo '#include <glpk.h>' >"$made_up/src/layout/solve.c"
    echo '#include <cyaml/cyaml.h>' >"$made_up/src/survey/survey.c"
    echo '#include "marks.h"' >"$made_up/include/check.h"
    : >"$made_up/include/marks.h"
    : >"$made_up/include/program.h"
    : >"$made_up/include/sheet.h"
    echo '#include <stddef.h>' >"$made_up/include/ruddle.h"
    : >"$made_up/src/sheet/words.h"
    : >"$made_up/src/layout/inner.h"
    echo '#include "check.h"' >"$made_up/src/check/check.c"
    sound=$(cd "$made_up" && breaches)
    if [ -n "$sound" ]; then
        echo "$1: a sound tree is found at fault: $sound"
        failed=1
    fi
    echo "$3" >>"$made_up/$2"
    if [ -z "$(cd "$made_up" && breaches)" ]; then
        echo "$1: this breach would not be found"
        failed=1
    fi
}

failed=0
if ! [ -d src/check ] || ! [ -d include ]; then
    echo 'to be run from the root of the tree'
    exit 1
fi
found=$(breaches)
if [ -n "$found" ]; then
    echo "$found"
    failed=1
fi

made_up=$(mktemp -d) || exit 1
trap 'rm -rf "$made_up"' EXIT
proves 'checker includes the program' src/check/check.c '#include "program.h"'
proves 'checker by a path' src/check/rule.c '# include "../layout/solve.h"'
proves 'checker by a path into another folder' src/check/rule.c '#include "../sheet/words.h"'
proves 'roof includes a private header of the layout' src/roof/roof.c '#include "../layout/inner.h"'
proves 'checker includes GLPK' src/check/check.c '#include <glpk.h>'
proves 'checker includes another module' src/check/check.c '#include "sheet.h"'
proves 'checker through a public header' include/marks.h '#include "program.h"'
proves 'private header of the checker' src/check/rules.h '#include "candidates.h"'
proves 'marks include YAML' src/marks/marks.c '#include <cyaml/cyaml.h>'
proves 'roof includes the layout' src/roof/roof.c '#include "layout.h"'
proves 'GLPK elsewhere in the layout' src/layout/layout.c '#include <glpk.h>'
proves 'GLPK in a public header' include/sheet.h '#include <glpk.h>'
proves 'YAML on the sheet' src/sheet/sheet.c '  #  include <yaml.h>'
proves 'YAML in a public header' include/sheet.h '#include <cyaml/cyaml.h>'
proves 'the public header includes another' include/ruddle.h '#include "sheet.h"'

if [ "$failed" -eq 0 ]; then
    echo "$(find src include -name '*.[ch]' | wc -l) files keep to their side; 15 made-up breaches found"
fi
exit "$failed"
