#!/bin/sh
# A roof from a stranger: names that are markup, formulas, paths and commands, files whose names are
# worse, kits that are no files.  Every command takes it or refuses it with one line; nothing is
# written outside --out, and nothing that a browser, a spreadsheet or a terminal would obey comes out:
#     sh tests/test_hostile.sh PROGRAM
# Other programs read what comes out: node JSON and tables, xmllint drawings and pages where it is.
set -eu
program=$(realpath "$1")
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "hostile: $*" >&2
    exit 1
}

mkdir "$work/roofs" "$work/out" "$work/said"
cd "$work/roofs"
touch ../outside

# ---- Names that a file may have: all of it is text, and all of it is hostile. -------------------
cat >kit.yaml <<'EOF'
kit: '--><script>t=1</script>]]>"''|calc'
EOF
sed -e '/^#/d' -e '/^kit:/d' "$here/roofs/plain-kit.yaml" >>kit.yaml
cat >piped.yaml <<'EOF'
roof: '../../../=cmd|'' /C calc''!A0<script>document.title=1</script>'
zero: '</title></style><img src=x onerror=alert(1)>"%s%n%1000000s; $(touch ../outside2) `id`'
plane: {width: 30', slope: 16' 4", pitch: 5/12}
setback: {eave: 12, ridge: 18, near: 12, far: 12}
courses: {first: 6, exposure: 5 5/8}
rafters:
  list: [{at: 16 1/4}, {at: 40 1/8}, {at: 64}, {at: 88}, {at: 112}, {at: 136}, {at: 160}, {at: 184},
         {at: 208}, {at: 232}, {at: 256}, {at: 280}, {at: 304}, {at: 328}]
vents:
  - {name: '=HYPERLINK("http://x/")&<s>', at: [200, 120], size: [12, 14]}
place:
  - {name: '@SUM(1)"><svg onload=t()>/../..', kit: kit.yaml, want: [60, 40]}
keepouts:
  - {rafter: 2, from: 20, to: 24, why: '<i>${HOME}\x1b[2J'}
pipes:
  - {name: '=1+1&quot;<', bracket: '@SUM(1)"><svg onload=t()>/../..', port: [66, 68], reach: 18,
     bore: 1 3/8, flashing: {width: 9, height: 12, hole_up: 3 1/2, block: 7/8, edge: [0, 1],
     clear: 1/4, lap: 1/2}}
EOF
sed "/^pipes:/,\$d" piped.yaml >roof.yaml

# does CODES WORD...: the command ends with one of those codes; what it says is kept for the search.
count=0
does() {
    wanted=$1
    shift
    count=$((count + 1)) code=0
    timeout 60 "$program" "$@" >"$work/said/$count.out" 2>"$work/said/$count.err" </dev/null || code=$?
    case $wanted in
    *$code*) ;;
    *) fail "exit code $code, not $wanted: $* $(head -c 300 "$work/said/$count.err")" ;;
    esac
}

does "0 1" layout piped.yaml --out ../out/layout --limit 10
does "0 1" layout roof.yaml --json --limit 10
cp "$work/said/$count.out" ../layout.json
cp ../layout.json ../said/layout.json
does "0 1" check roof.yaml ../layout.json --out ../out/check
does "0 1" explain roof.yaml --out ../out/explain --limit 10
does 2 explain roof.yaml '<b>' --limit 10
does "0 1" compare roof.yaml --out ../out/compare --limit 4
node -e '
    const { marks } = JSON.parse(require("fs").readFileSync("../layout.json"));
    const holes = marks.filter(({ row }) => row !== "pipe").slice(0, 2)
        .map(({ bracket, row, x, y }, i) => ({ bracket, row, x, y, found: i ? "air" : "wood" }));
    console.log(JSON.stringify({ drilled: holes }));' >../drilled.json
does "0 1" revise roof.yaml ../drilled.json --out ../out/revise --asbuilt ../out/revise/a.yaml --limit 10

# ---- Files whose names are worse; an error row each where they cannot be roofs. ------------------
escape=$(printf '\033[2J\233\302\233')
turning=$(printf 'a\342\200\256b')
broken=$(printf 'a\377\300\257b')
long=$(printf '%0200d' 0)
lines=$(printf 'x\ny')
for name in "$escape" "$turning" "$broken" "$long" "$lines" '=1+1' '-rf' '<s>"&'\''<u>' '$(id)' '..\..'; do
    cp roof.yaml "./$name.yaml"
done
does "0 1" fleet . --out ../out/fleet --limit 2
does "0 1" fleet . --json --limit 2
cp "$work/said/$count.out" ../said/fleet.json
does 2 layout "./$escape" --quiet
does 2 layout "./$turning" --quiet

# ---- Kits that are no kit files: a line each, and no waiting. -----------------------------------
mkfifo fifo
mkdir folder
ln -s loop loop
ln -s /etc/passwd link
truncate -s 1G large
for kit in fifo /dev/zero /dev/stdin /dev/tty folder loop link large /proc/self/mem /etc/passwd ../../../../../../etc/passwd \
    'kit.yaml/' '' "$long$long" ';id' '~' '-' 'http://x/kit.yaml' 'file:///etc/passwd'; do
    sed "s|kit: kit.yaml|kit: '$kit'|" roof.yaml >bad.yaml
    does 2 layout bad.yaml --quiet --out ../out/none
    [ "$(grep -c . "$work/said/$count.err")" -le 3 ] || fail "kit $kit: more than a line"
done
for roof in fifo /dev/zero folder loop large; do
    does 2 layout "$roof" --quiet
    does 2 check roof.yaml "$roof" --quiet
    does 2 revise roof.yaml "$roof" --quiet
done
rm bad.yaml

# ---- What came of it. ---------------------------------------------------------------------------
[ ! -e "$work/out/none" ] || fail "a refused roof left a folder"
find "$work" -mindepth 1 -maxdepth 1 | sed 's|.*/||' | sort | tr '\n' ' ' >"$work.list"
[ "$(cat "$work.list")" = "drilled.json layout.json out outside roofs said " ] ||
    fail "written beside --out: $(cat "$work.list")"
rm "$work.list"
[ "$(find . -type f -exec printf x \; | wc -c)" -eq 14 ] || fail "written among the roofs: $(find . -type f)"
find "$work/out" -name '.*' | grep . && fail "files half written are left"

# Bytes that terminals obey, or that turn what stands beside them: in no text that comes out.
obeyed='\001-\010\013\014\016-\037\177'
beyond='|\302[\200-\237]|\342\200[\213\216\217\250-\256]|\342\201[\246-\251]|\377'
markup='<(script>(t|document)|img|svg onload|s>|u>|i>\$)'
# holds_none PATTERN WORD...: find, by those words, comes to no text that has it.
holds_none() {
    pattern=$1
    shift
    LC_ALL=C find "$work/said" "$work/out" -type f "$@" -exec grep -alE "$pattern" {} + && fail "above: $pattern"
    return 0
}
holds_none "$(printf "[$obeyed]$beyond")" ! -name '*.p[dn][fg]' ! -name '*.record'
holds_none "$(printf '\r')" ! -name '*.p[dn][fg]' ! -name '*.record' ! -name '*.csv'
holds_none "$markup" \( -name '*.html' -o -name '*.svg' \)

# Other people's readers.
if command -v xmllint >/dev/null 2>&1; then
    find "$work/out" -name '*.svg' -exec xmllint --noout --nonet {} + || fail "a drawing is no XML"
    find "$work/out" -name '*.html' -exec xmllint --noout --nonet --html {} + 2>"$work/html" || true
    grep -v 'Tag \(svg\|g\|rect\|line\|text\|title\|desc\|polygon\|polyline\|circle\|path\|main\|nav\|section\|footer\|header\) invalid' \
        "$work/html" | grep 'error :' && fail "a page is no HTML"
fi
node - "$work" <<'EOF'
const { readFileSync, readdirSync, statSync } = require("fs");
const { join } = require("path");
const walk = (folder) => readdirSync(folder).flatMap((name) =>
  statSync(join(folder, name)).isDirectory() ? walk(join(folder, name)) : [join(folder, name)]);
const fields = (text) => {                       // RFC 4180
  const rows = [[]];
  const part = /("(?:[^"]|"")*"|[^,"\r\n]*)(,|\r\n|$)/gy;
  for (let found; part.lastIndex < text.length && (found = part.exec(text)); ) {
    rows.at(-1).push(found[1].replace(/^"|"$/g, "").replaceAll('""', '"'));
    if (found[2] === "\r\n") rows.push([]);
  }
  if (part.lastIndex < text.length) throw new Error("no table");
  return rows.filter(({ length }) => length > 0);
};
let tables = 0;
for (const file of ["out", "said"].flatMap((name) => walk(join(process.argv[2], name)))) {
  const name = "../../../=cmd|' /C calc'!A0<script>document.title=1</script>";
  if (file.endsWith("fleet.json")) {
    const rows = readFileSync(file, "utf8").trim().split("\n").map((line) => JSON.parse(line));
    if (rows.length !== 12 || rows.some(({ roof }) => roof !== name)) throw new Error(file);
  } else if (file.endsWith("layout.json") && JSON.parse(readFileSync(file, "utf8")).roof !== name) {
    throw new Error(`${file}: the roof has another name`);
  } else if (file.endsWith(".json")) {
    JSON.parse(readFileSync(file, "utf8"));
  } else if (file.endsWith(".csv")) {
    const rows = fields(readFileSync(file, "utf8"));
    const width = rows[0].length;
    for (const row of rows) {
      if (row.length !== width) throw new Error(`${file}: ${row.length} fields, not ${width}`);
      const run = row.find((field) => /^[\s]*[=+@-]/.test(field) && !/^-[0-9.]+$/.test(field));
      if (run !== undefined) throw new Error(`${file}: a formula: ${run}`);
    }
    tables++;
  }
}
if (tables < 3) throw new Error(`only ${tables} tables`);
EOF
echo "$count commands"
