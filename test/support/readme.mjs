// Writes rules and limits into the README, and the shapes of the answers into openapi.yaml, from where the code says them;
// a test holds them equal.
import { readFileSync, writeFileSync } from 'node:fs';
import { stringify } from 'yaml';
import { LIMITS } from '../../dist/limits.js';
import { comparisonJsonSchema } from '../../dist/report/compare/comparison.js';
import { reportJsonSchema } from '../../dist/report/json-schema.js';
import { RULES } from '../../dist/rules/index.js';
import { sourceText } from '../../dist/rules/words.js';

const file = new URL('../../README.md', import.meta.url);
const description = new URL('../../openapi.yaml', import.meta.url);

export function withTables(readme) {
  return withTable(withTable(readme, 'limits', limitTable()), 'rules', ruleTable());
}

function withTable(readme, name, table) {
  const [first, last] = [`<!-- ${name}: made by npm run readme -->`, `<!-- end of ${name} -->`];
  const start = readme.indexOf(first);
  const end = readme.indexOf(last);
  if (start < 0 || end < start) throw new Error(`README.md has no place for the ${name}: ${first} … ${last}`);
  return `${readme.slice(0, start)}${first}\n${table}\n${readme.slice(end)}`;
}

function limitTable() {
  const rows = Object.entries(LIMITS).map(([name, { value, least, most, unit, bounds }]) => {
    const usual = name === 'auditThreads' ? 'processors' : value; // the machine's own
    return `| \`${name}\` | ${usual} | ${least}–${most} | ${unit} | ${bounds} |`;
  });
  return ['| limit | default | range | unit | bounds |', '|---|---|---|---|---|', ...rows].join('\n');
}

function ruleTable() {
  const rows = RULES.map((rule) => {
    const { id, severity, title, limit } = rule;
    return `| \`${id}\` | ${severity} | ${title} | ${limit} | ${sourceText(rule)} |`;
  });
  return ['| rule | severity | what is wrong | limit | from |', '|---|---|---|---|---|', ...rows].join('\n');
}

/** @param {string} openapi */
export function withSchemas(openapi) {
  const [first, last] = ['    # shapes: made by npm run readme\n', '    # end of shapes\n'];
  const [start, end] = [openapi.indexOf(first), openapi.indexOf(last)];
  if (start < 0 || end < start) throw new Error('openapi.yaml has no place for the shapes of answers');
  const text = stringify(shapes(), { lineWidth: 130, aliasDuplicateObjects: false }).replace(/^(?=.)/gm, '    ');
  return `${openapi.slice(0, start)}${first}${text}${openapi.slice(end)}`;
}

/** The answers' schemas as components of the description, by name. */
function shapes() {
  const all = new Map();
  for (const [name, schema] of Object.entries({ Report: reportJsonSchema(), Comparison: comparisonJsonSchema() })) {
    const { $defs, $id, $schema, ...answer } = schema;
    for (const [part, shape] of Object.entries({ [name]: answer, ...$defs })) addShape(all, part, shape);
  }
  const inComponents = JSON.stringify(Object.fromEntries(all)).replaceAll('#/$defs/', '#/components/schemas/');
  return JSON.parse(inComponents, (name, value) => (name === 'id' && typeof value === 'string' ? undefined : value));
}

/** Answers share their parts; two shapes of one name would be two things. */
function addShape(all, name, shape) {
  const before = all.get(name);
  if (before !== undefined && JSON.stringify(before) !== JSON.stringify(shape))
    throw new Error(`two answers have different shapes of the name ${name}`);
  all.set(name, shape);
}

if (import.meta.url === `file://${process.argv[1]}`) {
  writeFileSync(file, withTables(readFileSync(file, 'utf8')));
  writeFileSync(description, withSchemas(readFileSync(description, 'utf8')));
}
