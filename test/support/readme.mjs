// Writes the rules into the README from where the rules say them; a test holds the two equal.
import { readFileSync, writeFileSync } from 'node:fs';
import { RULES } from '../../dist/rules/index.js';
import { sourceText } from '../../dist/rules/words.js';

const START = '<!-- rules: made by npm run readme -->';
const END = '<!-- end of rules -->';
const file = new URL('../../README.md', import.meta.url);

export function withRules(readme) {
  const start = readme.indexOf(START);
  const end = readme.indexOf(END);
  if (start < 0 || end < start) throw new Error(`README.md has no place for the rules: ${START} … ${END}`);
  return `${readme.slice(0, start)}${START}\n${ruleTable()}\n${readme.slice(end)}`;
}

function ruleTable() {
  const rows = RULES.map((rule) => {
    const { id, severity, title, limit } = rule;
    return `| \`${id}\` | ${severity} | ${title} | ${limit} | ${sourceText(rule)} |`;
  });
  return ['| rule | severity | what is wrong | limit | from |', '|---|---|---|---|---|', ...rows].join('\n');
}

if (import.meta.url === `file://${process.argv[1]}`) writeFileSync(file, withRules(readFileSync(file, 'utf8')));
