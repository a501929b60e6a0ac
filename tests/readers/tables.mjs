// The tables that the program reads by, taken from its sources: {key: {must, below}}, below being the
// name of a table or undefined.
import {readFileSync} from 'node:fs';
import {join} from 'node:path';

function tablesOf(root, ...names) {
  const text = names.map((name) => readFileSync(join(root, 'src/survey', name), 'utf8')).join('\n');
  const values = {};
  for (const [, name, fields] of text.matchAll(
    /cyaml_schema_value_t (\w+) = \{\s*CYAML_VALUE_MAPPING\([^;]*?(\w+_fields)\)/g)) {
    values[name] = fields;
  }
  const tables = {};
  for (const [, name, body] of text.matchAll(
    /cyaml_schema_field_t (\w+_fields)\[\] = \{(.*?)CYAML_FIELD_END/gs)) {
    tables[name] = {};
    for (const [, macro, key, rest] of body.matchAll(/(\w+)\("(\w+)",(.*?)\)(?=,\s|\s*$)/gs)) {
      const group = rest.match(/(\w+_fields)\s*$/)?.[1];
      const entry = rest.match(/&(\w+_value)/)?.[1];
      tables[name][key] = {must: !/OPTIONAL/.test(macro + rest), below: group ?? values[entry]};
    }
  }
  return tables;
}

export function readTables(root) {
  return tablesOf(root, 'schema_roof.c', 'schema_kit.c');
}
