import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/rules/index.js';

/** Files of the folder that hold no rule of their own. */
const NO_RULES = new Set(['rule', 'run', 'words', 'judged', 'by-product', 'judged-waiver', 'on-site', 'index']);

const filesIn = (folder: string, ending: string) =>
  readdirSync(fileURLToPath(new URL(folder, import.meta.url)))
    .filter((name) => name.endsWith(ending))
    .map((name) => name.slice(0, -ending.length));

const ids = RULES.map(({ id }) => id);

describe('the list of rules', () => {
  it('holds exactly the rules of the folder', () => {
    const files = filesIn('../../src/rules/', '.ts').filter((name) => !NO_RULES.has(name));
    expect(
      [...ids].sort(),
      'a rule is a file of src/rules named by its id: add it to RULES in index.ts, or the file to NO_RULES here',
    ).toEqual(files.sort());
  });

  it('names each rule once, in kebab case', () => {
    expect(new Set(ids).size, `an id stands twice among ${ids.join(', ')}: rename one rule`).toBe(ids.length);
    for (const id of ids) expect(id, 'write the id in kebab case, like its file').toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('has a test file for each rule', () => {
    const missing = ids.filter((id) => !filesIn('.', '.test.ts').includes(id));
    expect(missing, `add test/rules/<id>.test.ts with a case that passes and one that finds`).toEqual([]);
  });

  it('keeps the severities of the design', () => {
    // Those whose finding alone may fail a build; too-many-devices is one only above 256.
    const of = (severity: string) => RULES.filter((rule) => rule.severity === severity).map(({ id }) => id);
    expect(of('error').sort()).toEqual([
      'auxiliary-overload',
      'cable-too-long',
      'devices-too-far-apart',
      'duplicate-address',
      'feed-unknown',
      'hold-up-too-short',
      'missing-supply',
      'overloaded-segment',
      'segment-boundaries-unknown',
      'short-circuit-sum',
      'supplies-too-close',
      'supply-not-redundant',
      'supply-rating-unknown',
      'supply-too-far',
      'too-many-devices',
      'too-many-supplies',
    ]);
    expect(of('note').sort()).toEqual([
      'device-unplaced',
      'fan-in-exceeded',
      'oversized-supply',
      'schema-not-known',
      'waiver-unused',
    ]);
  });
});

describe.each(RULES.map((rule) => [rule.id, rule] as const))('the documentation of %s', (id, rule) => {
  it.each(['title', 'why', 'remedy', 'limit', 'source'] as const)('has a %s', (part) => {
    expect(
      rule[part].trim(),
      `${id} has no ${part}: write it in src/rules/${id}.ts, for a planner who has not seen the rule before`,
    ).toMatch(/\p{L}.*\p{L}/u);
  });

  it('names the volume where the limit is from the standard', () => {
    const message = `${id}: name volume and section in \`source\`, or change \`basis\``;
    if (rule.basis === 'standard') expect(rule.source, message).toMatch(/volume \d/);
    else expect(rule.source, message).not.toMatch(/^volume \d/);
  });
});
