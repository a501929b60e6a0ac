// Holds docs/keys.md against the tables that the program reads by and against the schemas, which
// tests/test_keys.c and schema.mjs hold against the program: node keys.mjs ROOT.
//   - every key has its row, and no row is about a key that there is none of;
//   - what must be written is called required (in a kit: has no default), nothing else is;
//   - words, defaults, least and most are those of the schemas.
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {readTables} from './tables.mjs';

const root = process.argv[2];
const tables = readTables(root);
const page = readFileSync(join(root, 'docs/keys.md'), 'utf8');

let failures = 0;
function fail(text) {
  console.error(`keys.md: ${text}`);
  failures += 1;
}

// Every key below a table with its path: rafters.list.at.
function leavesOf(table, path) {
  return Object.entries(tables[table]).flatMap(([key, {must, below}]) => {
    const at = path === '' ? key : `${path}.${key}`;
    return below === undefined ? [{at, must}] : leavesOf(below, at);
  });
}

// The cells of each row of a section's first table that has a column of keys.
function rowsOf(heading) {
  const section = page.split(/^## /m).find((text) => text.startsWith(heading));
  return section.split('\n').filter((line) => /^\| `/.test(line))
    .map((line) => line.split('|').slice(1, -1).map((cell) => cell.trim()));
}

// What each row says of each key: {path: {kind, given, group}}.
function documented(heading, kitFlashing) {
  const found = {};
  let parent = '';
  let last = '';
  let children = [];
  for (const [keys, kind, given] of rowsOf(heading)) {
    for (const [, name] of keys.matchAll(/`([^`]+)`/g)) {
      const at = name.startsWith('…') ? `${parent}.${name.slice(1)}`
        : name.startsWith('.') ? last.replace(/[^.]*$/, '') + name.slice(1) : name;
      if (!name.startsWith('…') && !name.startsWith('.')) {
        parent = name;
      }
      last = at;
      const braces = kind.match(/^\{([a-z, _]+)\}/);
      children = braces ? braces[1].split(', ') : /^the same$/.test(kind) ? children : [];
      if (/^as `flashing` of a kit/.test(kind)) {
        kitFlashing.forEach((key) => { found[`${at}.${key}`] = {group: at}; });
      } else if (children.length > 0) {
        children.forEach((key) => { found[`${at}.${key}`] = {group: at}; });
      }
      found[at] = {kind, given};
    }
  }
  return found;
}

// The schema of a path; lists are passed through.
function schemaOf(schema, path) {
  return path.split('.').reduce((at, key) => {
    const inside = at.type === 'array' ? at.items : at;
    return inside.properties[key];
  }, schema);
}

function compareWords(path, schema, kind) {
  const listed = [...kind.matchAll(/`([^`]+)`/g)].map(([, word]) => word);
  if (schema.enum.slice().sort().join() !== listed.slice().sort().join()) {
    fail(`${path}: words ${listed}, not ${schema.enum}`);
  }
}

function compareLimits(path, schema, kind) {
  const integer = (schema.anyOf ?? []).find(({type}) => type === 'integer');
  if (integer?.minimum !== undefined && integer.maximum !== undefined &&
      !kind.includes(`${integer.minimum} to ${integer.maximum}`)) {
    fail(`${path}: not said to be ${integer.minimum} to ${integer.maximum}: ${kind}`);
  }
  const {minItems, maxItems} = schema;
  if (maxItems !== undefined && maxItems === minItems) {
    const entries = kind.match(/\[([^\]]*)\]/)?.[1].split(',').length;
    if (entries !== maxItems) {
      fail(`${path}: not a list of ${maxItems}: ${kind}`);
    }
  } else if (maxItems !== undefined &&
      !kind.includes(minItems > 0 ? `${minItems} to ${maxItems}` : `up to ${maxItems}`)) {
    fail(`${path}: not said to be ${minItems ?? 0} to ${maxItems}: ${kind}`);
  }
  const refers = (schema.allOf ?? [schema]).filter(({$ref}) => $ref !== undefined).map(({$ref}) => $ref.replace(/.*\//, ''));
  if (refers.includes('lengthAbove') !== /length above 0/.test(kind) && !/^the same/.test(kind)) {
    fail(`${path}: ${refers} there, ${kind} here`);
  }
}

// Defaults that no schema tells, since they follow from other keys or stand in another unit.
const following = new Set(['rafters.tolerance', 'rafters.heights', 'lag.edge', 'lag.side.thickness',
  'lag.side.bearing', 'weight.centre_dry', 'vents.keep_bracket', 'tape']);

function compareDefault(path, schema, given) {
  const plain = given.replaceAll('`', '');
  if (schema.default === undefined) {
    if (/^[\d.]/.test(plain) && !following.has(path)) {
      fail(`${path}: default ${plain} here, none in the schema`);
    }
    return;
  }
  const value = String(schema.default);
  if (plain !== value && !new RegExp(`^${value.replace('.', '\\.')}(?=[ ;,(])(?! \\d)`).test(plain)) {
    fail(`${path}: default ${plain || 'none'}, not ${value}`);
  }
}

function compareAll(heading, kind, table, kitFlashing) {
  const schema = JSON.parse(readFileSync(join(root, 'docs', `${kind}.schema.json`), 'utf8'));
  const found = documented(heading, kitFlashing);
  const leaves = leavesOf(table, '').filter(({at}) => !at.startsWith('pipes.flashing.allowable'));
  for (const {at, must} of leaves) {
    const row = found[at];
    if (row === undefined) {
      fail(`no row for ${at}`);
    } else if (row.group === undefined) {
      const required = kind === 'roof' ? /^required$/.test(row.given) : row.given === '';
      // In a group that may be left out, a kit's default tells what comes of that.
      const groupOnly = kind === 'kit' && /^no `/.test(row.given);
      if (must && !required && !groupOnly) {
        fail(`${at} is required, and not said to be`);
      } else if (!must && required) {
        fail(`${at} may be left out, and is said to be required`);
      }
      const part = schemaOf(schema, at);
      if (part.enum !== undefined) {
        compareWords(at, part, row.kind);
      }
      compareLimits(at, part, row.kind);
      compareDefault(at, part, row.given);
    }
  }
  const known = new Set(leaves.flatMap(({at}) => at.split('.').map(
    (_, i, keys) => keys.slice(0, i + 1).join('.'))));
  Object.keys(found).filter((at) => !known.has(at)).forEach((at) => fail(`there is no key ${at}`));
  return leaves.length;
}

const kitFlashing = Object.keys(tables.schema_flashing_fields).filter((key) => key !== 'allowable');
const roofs = compareAll('Roof file', 'roof', 'roof_fields', kitFlashing);
const kits = compareAll('Kit file', 'kit', 'kit_fields', kitFlashing);
if (roofs + kits < 110) {
  fail(`only ${roofs + kits} keys found in src/survey`);
}
console.log(`keys.md: ${roofs} keys of a roof and ${kits} of a kit, each with its row`);
process.exit(failures === 0 ? 0 : 1);
