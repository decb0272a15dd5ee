import { beforeAll, describe, expect, it } from 'vitest';
import { formatMarkdown } from '../../src/report/format/markdown.js';
import { formatText } from '../../src/report/format/text.js';
import { DE } from '../../src/words/de/words.js';
import type { Words } from '../../src/words/words.js';
import { reportOfPlant } from '../support/reports.js';
import { SIZED_PLANTS } from '../support/sized-plants.js';

const PARTS = ['sizing', 'proposals', 'schedule'] as const;

/** Guards: what they tell of is ruled out before, as far as anybody knows. */
const NEVER_TOLD = ['sizing.unsplit.couplersTooMuch', 'sizing.unsplit.noSupplyForPiece'];

/** The same texts; those made of facts note by path that they were told. */
function noting<T>(value: T, path: string, told: Set<string>): T {
  if (typeof value === 'function') {
    return ((...facts: unknown[]) => {
      told.add(path);
      return value(...facts);
    }) as T;
  }
  if (typeof value !== 'object' || value === null) return value;
  const noted = Object.entries(value).map(([key, inner]) => [key, noting(inner, `${path}.${key}`, told)]);
  return Object.fromEntries(noted) as T;
}

function leavesOf(value: unknown, path: string): [path: string, leaf: unknown][] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) => leavesOf(inner, `${path}.${key}`));
}

describe('the texts about supplies', () => {
  const told = new Set<string>();
  let written = '';

  beforeAll(async () => {
    const noted = Object.fromEntries(PARTS.map((part) => [part, noting(DE[part], part, told)]));
    const words = { ...DE, ...noted } as Words;
    for (const [, plant] of SIZED_PLANTS) {
      const report = await reportOfPlant(plant, words);
      const text = formatText(report, { words }) + formatMarkdown(report, { archive: '', words });
      const reasons = report.segments.map(({ proposal }) => proposal.because); // of which some only programs are told
      written += [text, ...reasons].join(' ').replace(/\s+/g, ' ');
    }
  });

  const isTold = (path: string, leaf: unknown) => (typeof leaf === 'string' ? written.includes(leaf) : told.has(path));

  it.each(PARTS)('of %s are all told of one of the plants that the other tests look at', (part) => {
    const untold = leavesOf(DE[part], part).filter(([path, leaf]) => !isTold(path, leaf));
    const paths = untold.map(([path]) => path).filter((path) => !NEVER_TOLD.includes(path));
    expect(paths, 'add a plant of which it is told to sized-plants.ts').toEqual([]);
  });
});
