#!/bin/sh
# The schemas that editors complete and flag keys by: they know the keys that the program reads, pass
# every roof and kit, and refuse every bad one whose fault a schema can tell.  docs/keys.md has a row
# for every key, with the same words, defaults and limits.
#     sh tests/test_schema.sh PROGRAM
# Needs node, and `npm install` done in tests/readers.
set -eu
here=$(cd "$(dirname "$0")" && pwd)

fail() {
    echo "schema: $*" >&2
    exit 1
}

command -v node >/dev/null || fail "no node here (Debian: nodejs)"
for name in ajv yaml; do
    [ -d "$here/readers/node_modules/$name" ] || fail "run \`npm install\` in tests/readers first"
done
node "$here/readers/schema.mjs" "$here/.."
node "$here/readers/keys.mjs" "$here/.."
