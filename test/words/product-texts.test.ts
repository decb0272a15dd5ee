import { describe, expect, it } from 'vitest';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';

const placesOn = (lines: number) =>
  Array.from({ length: lines }, (_, line) => ({ segment: `1.${line}`, devices: ['a', 'b'] }));

function notDeclared(lines: number, devices = 2 * lines): string[] {
  const facts = { product: 'P', isUpperSide: false, assumedMa: 10, devices, places: placesOn(lines) };
  return [EN, DE].map(({ rules }) => rules['current-not-declared'].message(facts));
}

function implausible(lines: number): string[] {
  const turns = placesOn(lines).map(({ segment }) => ({ segment, toTightMa: 5, toInsufficientMa: null }));
  return [EN, DE].map(({ rules }) => rules['current-implausible'].advice({ turns, devices: 2 }));
}

describe('a product on many lines', () => {
  it('names what is left out of its lines as lines, not as devices', () => {
    expect(notDeclared(7)).toEqual([
      expect.stringMatching(/\(2 on line 1\.0, .*, 2 on line 1\.5 and on 1 more line\)\.$/),
      expect.stringMatching(/\(2 auf Linie 1\.0, .*, 2 auf Linie 1\.5 und auf 1 weiteren Linie\)\.$/),
    ]);
    expect(notDeclared(240)).toEqual([
      expect.stringMatching(/2 on line 1\.5 and on 234 more lines\)\.$/),
      expect.stringMatching(/2 auf Linie 1\.5 und auf 234 weiteren Linien\)\.$/),
    ]);
    expect(notDeclared(6).join()).not.toMatch(/more|weitere/);
  });

  it('names as lines those whose verdict turns, too', () => {
    expect(implausible(8)).toEqual([
      expect.stringMatching(/ and 2 more lines\.$/),
      expect.stringMatching(/ und 2 weitere Linien\.$/),
    ]);
  });
});

describe('a current that is assumed', () => {
  it('is assumed for a device, or for each of several', () => {
    expect(notDeclared(1, 1)).toEqual([
      expect.stringContaining('10 mA are assumed for 1 device ('),
      expect.stringContaining('angenommen sind 10 mA für 1 Gerät ('),
    ]);
    expect(notDeclared(1)).toEqual([
      expect.stringContaining('10 mA are assumed for each of 2 devices ('),
      expect.stringContaining('angenommen sind 10 mA für jedes von 2 Geräten ('),
    ]);
  });
});
