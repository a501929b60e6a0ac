// Holds docs/roof.schema.json and docs/kit.schema.json against files, by another reader of YAML and
// another judge of schemas: node schema.mjs ROOT, ROOT being the top folder.
//   - they know the keys that the program reads, no more and no fewer, and ask for those it asks for;
//   - every roof and kit in roofs/, and what the tests start from, passes;
//   - every bad roof and kit in tests/roofs/bad is refused, by the reader or by the schema, but for
//     those whose fault no schema can tell: they are listed here, and must pass.
import {readFileSync, readdirSync} from 'node:fs';
import {join} from 'node:path';
import {Ajv} from 'ajv';
import {parseDocument} from 'yaml';
import {readTables} from './tables.mjs';

const root = process.argv[2];
const ajv = new Ajv({allErrors: true, strictRequired: false, strictTypes: false});
const schemas = {};
const judges = {};
for (const kind of ['roof', 'kit']) {
  schemas[kind] = JSON.parse(readFileSync(join(root, 'docs', `${kind}.schema.json`), 'utf8'));
  judges[kind] = ajv.compile(schemas[kind]);
}

let failures = 0;
function fail(text) {
  console.error(`schema: ${text}`);
  failures += 1;
}

// ---- Keys ----
const tables = readTables(root);
let keys = 0;

function compareKeys(table, schema, path) {
  const known = schema.properties ?? {};
  for (const [key, {must, below}] of Object.entries(tables[table])) {
    keys += 1;
    const at = path === '' ? key : `${path}.${key}`;
    if (at === 'pipes[].flashing.allowable') {
      continue; // read, and refused: a pipe carries nothing
    }
    if (known[key] === undefined) {
      fail(`no key ${at}`);
      continue;
    }
    if (must && !(schema.required ?? []).includes(key)) {
      fail(`${at} may be left out there`);
    }
    if (below !== undefined) {
      const list = known[key].type === 'array';
      compareKeys(below, list ? known[key].items : known[key], at + (list ? '[]' : ''));
    }
  }
  for (const key of Object.keys(known)) {
    if (tables[table][key] === undefined) {
      fail(`${path}: a key ${key} that the program does not read`);
    }
  }
}

compareKeys('roof_fields', schemas.roof, '');
compareKeys('kit_fields', schemas.kit, '');
if (keys < 120) {
  fail(`only ${keys} keys found in src/survey`);
}

// ---- Files ----
// What is wrong with a file, null if nothing is; unreadable: told by the reader of YAML.
function faultOf(path, kind) {
  let value = null;
  try {
    const text = new TextDecoder('utf-8', {fatal: true}).decode(readFileSync(path));
    const document = parseDocument(text, {uniqueKeys: true});
    if (document.errors.length > 0) {
      throw document.errors[0];
    }
    value = document.toJS();
  } catch (error) {
    return {unreadable: true, text: error.message};
  }
  const judge = judges[kind];
  const good = judge(value);
  return good ? null : {text: ajv.errorsText(judge.errors), keys: judge.errors.map(keyOf)};
}

// The key that an error is about, as the program writes it: rafters.list[2].at.
function keyOf({instancePath, params}) {
  const key = instancePath.replace(/\/(\d+)/g, (_, index) => `[${Number(index) + 1}]`)
    .replace(/\//g, '.').slice(1);
  const more = params.property ?? params.missingProperty ?? params.additionalProperty;
  return more === undefined ? key : key === '' ? more : `${key}.${more}`;
}

// True if the errors are about that key, or about the group around it.
function isAbout(keys, key) {
  return keys.some((told) => told !== '' && (told.startsWith(key) || key.startsWith(told)));
}

function yamlsIn(folder) {
  return readdirSync(join(root, folder))
    .filter((name) => /\.ya?ml$/.test(name))
    .map((name) => join(root, folder, name));
}

let passed = 0;
function mustPass(path, kind) {
  const fault = faultOf(path, kind);
  if (fault !== null) {
    fail(`${path} is good, and refused: ${fault.text}`);
  }
  passed += 1;
}

yamlsIn('roofs').forEach((path) => mustPass(path, 'roof'));
yamlsIn('roofs/kits').forEach((path) => mustPass(path, 'kit'));
mustPass(join(root, 'tests/roofs/plain.yaml'), 'roof');
mustPass(join(root, 'tests/roofs/plain-kit.yaml'), 'kit');

// Faults that no schema tells: figures held against each other, files named, bytes of the file.
const beyond = new Set(readFileSync(join(root, 'tests/readers/beyond-schema.txt'), 'utf8')
  .split('\n').filter((line) => line !== '' && !line.startsWith('#')));

let refused = 0;
let unreadable = 0;
for (const path of yamlsIn('tests/roofs/bad')) {
  const name = path.slice(path.lastIndexOf('/') + 1);
  if (name.startsWith('survey_layout') || name.startsWith('survey_drilled')) {
    continue; // neither a roof nor a kit
  }
  const isKit = name.startsWith('survey_kit_') &&
    /^kit/m.test(readFileSync(path, 'utf8').split('\n').filter((l) => !l.startsWith('#'))[0] ?? '');
  const fault = faultOf(path, isKit ? 'kit' : 'roof');
  if (fault === null && !beyond.has(name)) {
    fail(`${name} is bad, and passes`);
  } else if (fault !== null && beyond.has(name)) {
    fail(`${name} is told after all: take it off beyond-schema.txt (${fault.text})`);
  }
  const told = readFileSync(path, 'latin1').match(/^# Refused: (\S+)/)?.[1];
  if (fault?.keys !== undefined && told !== undefined && !isAbout(fault.keys, told)) {
    fail(`${name} is refused for another reason than ${told}: ${fault.text}`);
  }
  refused += fault !== null ? 1 : 0;
  unreadable += fault?.unreadable ? 1 : 0;
  beyond.delete(name);
}
for (const name of beyond) {
  fail(`beyond-schema.txt names ${name}, which is not there`);
}

console.log(`schema: ${keys} keys; ${passed} good files pass, ${refused} bad ones do not ` +
  `(${unreadable} of them are no YAML)`);
process.exit(failures === 0 ? 0 : 1);
