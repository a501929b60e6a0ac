# Everything that the program writes about some roofs, into a folder, so that two programs, or one in
# two surroundings, can be held against each other byte by byte:
#     sh tests/write_all.sh PROGRAM FOLDER ROOF...
# ROOFs are names in roofs/, without .yaml.
set -eu
program=$1
folder=$2
shift 2
case $program in /*) ;; *) program=$PWD/$program ;; esac
mkdir -p "$folder"
folder=$(cd "$folder" && pwd)
cd "$(dirname "$0")/../roofs"

# run NAME WORD...: standard output and error, and the exit code.
run() {
    name=$1
    shift
    code=0
    "$program" "$@" >"$folder/$name.out" 2>"$folder/$name.err" || code=$?
    echo "$code" >"$folder/$name.code"
    [ "$code" -le 2 ] || { echo "write_all: exit $code: $*" >&2 && exit 1; }
}

for roof in "$@"; do
    run "$roof-layout" layout "$roof.yaml"
    run "$roof-json" layout "$roof.yaml" --json --from far --burn 1
    run "$roof-files" layout "$roof.yaml" --out "$folder/$roof"
    run "$roof-model" layout "$roof.yaml" --quiet --model "$folder/$roof.lp"
    run "$roof-check" check "$roof.yaml" "$folder/$roof-json.out"
    run "$roof-check-json" check "$roof.yaml" "$folder/$roof-json.out" --json
    run "$roof-explain" explain "$roof.yaml"
    run "$roof-explain-json" explain "$roof.yaml" --json
    # With loads its searches are long: no clock may end them, however slow the machine.
    run "$roof-compare" compare "$roof.yaml" --limit 900
    run "$roof-compare-json" compare "$roof.yaml" --limit 900 --json
done
run revise revise easy.yaml drilled/easy.yaml --out "$folder/revise" --asbuilt "$folder/asbuilt.yaml"
run revise-json revise easy.yaml drilled/easy.yaml --json
run practice practice --level 3 --seed 7 --out "$folder/practice"
run survey survey --out "$folder/survey"
run refused check easy.yaml easy.yaml
roofs=$(for roof in "$@"; do echo "$roof.yaml"; done)
# shellcheck disable=SC2086 # a list of names
run fleet fleet $roofs --jobs 2 --out "$folder/fleet"
# shellcheck disable=SC2086
run fleet-rows fleet $roofs --jobs 1 --json
# How long a roof took is another thing every time.
sed -i "/<td class=\"n\">[0-9.]* s<\\/td>/d" "$folder/fleet/summary.html"
sed -i "/^ *[0-9.]* s  /d" "$folder/fleet.out"
rm -f "$folder"/fleet/*.record*
