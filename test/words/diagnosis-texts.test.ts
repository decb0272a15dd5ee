import { describe, expect, it } from 'vitest';
import { diagnose } from '../../src/electrical/diagnose/diagnose.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';
import type { Words } from '../../src/words/words.js';
import { type Drawn, everywhere, type Fault, inputFor, type Said, shown } from '../electrical/diagnose/faults.js';
import { FORK, TREE, TWO } from '../electrical/diagnose/plants.js';
import { englishWordsIn, withoutNames } from '../support/languages.js';

/** Each fault as it is measured everywhere, or as it is only seen. */

const faulty = (fault: Fault, drawn = TREE): [Drawn, Said] => [
  drawn,
  { ...everywhere(shown(drawn, fault)), others: [[100, 100], [40]] },
];

const CASES: Readonly<Record<string, readonly [Drawn, Said]>> = {
  'nothing wrong': faulty({}),
  'a longer cable': faulty({ ohmFactor: 1.9 }),
  'a greater load': faulty({ extra: [150.5, 3] }),
  'devices off at a point': faulty({ offPoint: 2 }),
  'devices off anywhere': faulty({ shareOff: 0.5 }),
  'an open cable': faulty({ openRun: 1 }),
  'a short': faulty({ short: [0, 3] }),
  'a short with some resistance': faulty({ short: [3.5, 2] }),
  'another segment': faulty({ strangeMa: 200 }),
  'a supply out': faulty({ supplyOut: 0 }, TWO),
  'all supplies out': [TWO, everywhere({ currents: [0, 0], voltages: [0, 0, 0, 0, 0] })],
  'what nothing fits': [TREE, everywhere({ currents: [20], voltages: [30, 12, 29, 3, 30] })],
  'a dead segment': [FORK, { symptom: 'dead', others: [[40]] }],
  'a far end that drops out': [TREE, { symptom: 'far end drops out', terminalV: null, others: [[40]] }],
  'a supply at its limit': [TWO, { symptom: 'supply at its limit', others: [[40]] }],
  'no cable': [TWO, { currentsMa: [150, 60], entry: { layout: null } }],
};

const diagnosedIn = ([drawn, said]: readonly [Drawn, Said], words: Words) => {
  const diagnosis = diagnose({ ...inputFor(drawn, said), words });
  if (diagnosis === null) throw new Error('nothing was measured');
  return diagnosis;
};

describe.each(Object.entries(CASES))('%s', (_name, said) => {
  const [english, german] = [diagnosedIn(said, EN), diagnosedIn(said, DE)];

  it('is told in German', () => {
    const texts = [
      ...german.observations.map(({ what }) => what),
      ...german.causes.flatMap(({ text, misfits, next }) => [text, ...misfits.map(({ what }) => what), next?.measure]),
      ...german.missing,
    ].join(' | ');
    expect(englishWordsIn(withoutNames(texts, ['Supply 1', 'Supply 2', 'Supply']))).toEqual([]);
    expect(texts.match(/\d\.\d+ (?:mA|V|Ω)/)).toBeNull();
  });

  it('has the same causes in the same order, with the same figures', () => {
    const bare = ({ causes, further }: typeof german) => [
      causes.map(({ kind, fit, next }) => [kind, fit, next?.here, next?.otherwise, next?.against, next?.againstRank]),
      further,
    ];
    expect(bare(german)).toEqual(bare(english));
    const numbers = (text: string) => (text.match(/\d+(?:[.,]\d+)*/g) ?? []).map((one) => one.replace(',', '.')).sort();
    for (const [at, { text }] of german.causes.entries()) {
      expect(numbers(text)).toEqual(numbers(english.causes[at]?.text ?? ''));
    }
  });
});
