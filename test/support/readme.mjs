// Writes rules and limits into the README from where the code says them; a test holds the two equal.
import { readFileSync, writeFileSync } from 'node:fs';
import { LIMITS } from '../../dist/limits.js';
import { RULES } from '../../dist/rules/index.js';
import { sourceText } from '../../dist/rules/words.js';

const file = new URL('../../README.md', import.meta.url);

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

if (import.meta.url === `file://${process.argv[1]}`) writeFileSync(file, withTables(readFileSync(file, 'utf8')));
