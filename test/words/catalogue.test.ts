import { describe, expect, it } from 'vitest';
import { MOST_SHARED_SUPPLIES } from '../../src/electrical/feed-group.js';
import {
  CENTRAL_SUPPLIES,
  DECENTRAL_SUPPLIES,
  FAN_IN_WEIGHT,
  SHORT_CIRCUIT_SUM_MA,
} from '../../src/electrical/standard.js';
import { RULES } from '../../src/rules/index.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';
import { LANGUAGES, wordsOf } from '../../src/words/language.js';

type Leaf = string | ((...facts: never[]) => string);

/** Every text of a catalogue by its path, `report.findings.none`. */
function leavesOf(value: unknown, path: string): [path: string, leaf: Leaf][] {
  if (typeof value === 'string' || typeof value === 'function') return [[path, value as Leaf]];
  return Object.entries(value as object).flatMap(([key, inner]) =>
    leavesOf(inner, path === '' ? key : `${path}.${key}`),
  );
}

/** How figures are written is no text; `figures.test.ts` looks at it. */
const textsOf = ({ language: _, figures: __, ...texts }: typeof EN) => new Map(leavesOf(texts, ''));

const english = textsOf(EN);
const german = textsOf(DE);

/** Words that are the same in both. */
const SAME = new Set(['Name', 'Segment', 'Text', 'Medium', 'Bytes', 'CRC-32', 'Schema', 'redundant']);

/** A name stands for itself in English. */
const IDENTITIES = [
  ...['names.segment', 'names.medium', 'names.setBy', 'names.place'],
  ...['page.names.because', 'page.names.policySource'],
];

/** What a text takes of its facts: `f.loadMa`, or a plain parameter; helpers that get all of them count by their facts. */
function factsIn(leaf: Leaf): string[] {
  if (typeof leaf === 'string') return [];
  const source = leaf.toString().replace(/^function \w+/, '');
  const taken = [...source.matchAll(/\bf\.(\w+)/g)].map(([, name]) => String(name));
  const passed = [...source.matchAll(/\b(\w+)\)?\((?:\{ \.\.\.)?f\b[,)\s]/g)].map(([, name]) => `${name}()`);
  const [, parameters = ''] = source.match(/^\(?([\w\s,=('"]*?)\)?\s*=>/) ?? [];
  const plain = parameters.split(',').map((one) => one.trim().split(/[\s=]/)[0] ?? '');
  const used = plain.filter(
    (name) => name !== '' && name !== 'f' && source.split(new RegExp(`\\b${name}\\b`)).length > 2,
  );
  return [...new Set([...taken, ...passed, ...used])].sort();
}

describe('the catalogue', () => {
  it('has a text in German for every one in English, and no other', () => {
    expect([...german.keys()].sort()).toEqual([...english.keys()].sort());
  });

  it('has no text that is empty', () => {
    for (const [path, leaf] of [...english, ...german]) {
      if (typeof leaf === 'string') expect(leaf.trim(), path).not.toBe('');
    }
  });

  it('leaves no text in English', () => {
    const same = [...german].filter(([path, leaf]) => {
      const other = english.get(path);
      return typeof leaf === 'string' && leaf === other && !SAME.has(leaf);
    });
    expect(
      same.map(([path]) => path),
      'translate it, or name it among the words that are the same',
    ).toEqual([]);
  });

  it('has the texts of every rule, and of no other', () => {
    expect(Object.keys(EN.rules).sort()).toEqual(RULES.map(({ id }) => id).sort());
  });

  it.each([...english].filter(([, leaf]) => typeof leaf === 'function'))(
    'makes %s of the same facts in both',
    (path, leaf) => {
      if (IDENTITIES.includes(path)) return;
      const told = factsIn(leaf);
      expect(factsIn(german.get(path) as Leaf), `${path} tells of other facts`).toEqual(told);
    },
  );
});

describe('the languages', () => {
  it.each(LANGUAGES)('%s is what is loaded for it', async (language) => {
    expect((await wordsOf(language)).language).toBe(language);
  });
});

describe('limits of the standard that texts name', () => {
  it.each([EN, DE])('are those that are judged by ($language)', ({ rules }) => {
    const segment = { segment: '1.1', supplies: [], central: 3, decentral: 0 };
    const said = rules['too-many-supplies'].message(segment).match(/\d+/g);
    expect(said).toEqual(expect.arrayContaining([String(CENTRAL_SUPPLIES), String(DECENTRAL_SUPPLIES)]));
    const shorted = { segment: '1.1', ratingsMa: [], sumMa: 3250 };
    expect(rules['short-circuit-sum'].message(shorted)).toContain(` ${SHORT_CIRCUIT_SUM_MA} mA`);
    const fanIn = { currentExceeded: false, classSumMa: 0, nominalMa: null, weightExceeded: true, weight: 300 };
    expect(rules['fan-in-exceeded'].message({ segment: '1.1', ...fanIn })).toContain(` ${FAN_IN_WEIGHT.below}.`);
    const tangled = { segment: '1.1', cause: 'tangled', loadMa: 0, chokes: [] } as const;
    expect(rules['feed-unknown'].message(tangled)).toContain(` ${MOST_SHARED_SUPPLIES} `);
  });
});
