import { describe, expect, it } from 'vitest';
import { DEFAULT_POLICY } from '../../src/policy/effective.js';
import { figureText } from '../../src/report/format/text-findings.js';
import { reportMeasure } from '../../src/report/measure.js';
import { RULES } from '../../src/rules/index.js';
import type { Measure, Rule } from '../../src/rules/rule.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';

/** What a figure and its limit read as in English and in German. */
function told(what: Omit<Measure, 'quantity'>): [english: string, german: string] {
  const english = reportMeasure({ quantity: 'it', ...what }, RULES[0] as Rule, DEFAULT_POLICY);
  return [figureText({ measure: english }, EN), figureText({ measure: { ...english, quantity: 'es' } }, DE)];
}

describe('the figure of a finding', () => {
  it.each([
    [
      'counted, with a floor',
      { unit: 'couplers', value: 0, limit: 1, holds: 'at least' },
      'it 0, must be at least 1; 1 too few',
      'es 0, mindestens 1; 1 zu wenig',
    ],
    [
      'counted, with a ceiling',
      { unit: 'participants', value: 65, limit: 64, holds: 'at most' },
      'it 65, must be at most 64; 1 too many',
      'es 65, höchstens 64; 1 zu viel',
    ],
    [
      'counted, by more than one',
      { unit: 'supplies', value: 4, limit: 2, holds: 'at most' },
      'it 4, must be at most 2; 2 too many',
      'es 4, höchstens 2; 2 zu viele',
    ],
    [
      'measured, with a floor',
      { unit: 'V', value: 20.5, limit: 21, holds: 'at least' },
      'it 20.5 V, must be at least 21 V; 0.5 V too little',
      'es 20,5 V, mindestens 21 V; 0,5 V zu wenig',
    ],
    [
      'measured, with a ceiling',
      { unit: 'mA', value: 700, limit: 640, holds: 'at most' },
      'it 700 mA, must be at most 640 mA; 60 mA too much',
      'es 700 mA, höchstens 640 mA; 60 mA zu viel',
    ],
    [
      'measured, with a strict limit',
      { unit: 'mA', value: 375, limit: 320, holds: 'below' },
      'it 375 mA, must be below 320 mA; 55 mA too much',
      'es 375 mA, muss unter 320 mA liegen; 55 mA zu viel',
    ],
    [
      'right on a strict limit',
      { unit: 'mA', value: 320, limit: 320, holds: 'below' },
      'it 320 mA, must be below 320 mA',
      'es 320 mA, muss unter 320 mA liegen',
    ],
    [
      'on the right side, as one of a waiver may be',
      { unit: 'mA', value: 319, limit: 320, holds: 'at most' },
      'it 319 mA, must be at most 320 mA; 1 mA within the limit',
      'es 319 mA, höchstens 320 mA; 1 mA innerhalb der Grenze',
    ],
    [
      'a number, of which no difference is told',
      { unit: 'schema number', value: 30, limit: 23, holds: 'at most' },
      'it 30, must be at most 23',
      'es 30, höchstens 23',
    ],
    [
      'not known',
      { unit: 'mA', value: null, limit: 1, holds: 'at least' },
      'it not known, must be at least 1 mA',
      'es nicht bekannt, mindestens 1 mA',
    ],
  ] as const)('says on which side of its limit it is: %s', (_, what, english, german) => {
    expect(told(what)).toEqual([english, german]);
  });
});
