import { describe, expect, it } from 'vitest';
import type { WaiverOutcome } from '../../src/rules/judged-waiver.js';
import { waiverOutgrown } from '../../src/rules/waiver-outgrown.js';
import { judged, OUTCOMES, saidOfWaivers } from '../support/waivers.js';

const messageOf = (outcome: WaiverOutcome) => saidOfWaivers(waiverOutgrown, [judged(outcome)])[0]?.message;

describe('waiver-outgrown', () => {
  it('passes waivers that ended in any other way', () => {
    const others = OUTCOMES.filter(({ is }) => is !== 'outgrown' && is !== 'incomparable');
    const all = others.map((outcome) => judged(outcome));
    expect(saidOfWaivers(waiverOutgrown, all)).toEqual([]);
  });

  it('finds one whose figure is worse, rounded so that it never reads as the limit', () => {
    const outgrown = {
      is: 'outgrown',
      value: 84.000001,
      quantity: 'load',
      limit: { value: 84, unit: '%' },
      isFloor: false,
    } as const;
    expect(saidOfWaivers(waiverOutgrown, [judged(outgrown)])).toEqual([
      {
        outcome: 'outgrown',
        measure: { quantity: 'load', unit: '%', value: 84.000001, limit: 84, holds: 'at most' },
        message:
          'The waiver of low-headroom for 1.1 by A. Planner covers the figure (load) up to 84 %; now it is 84.1 %, and the finding counts again.',
        remedy:
          'Bring the figure back, or accept the new one if the reason still holds (the canteen closes in spring).',
      },
    ]);
  });

  it('of a figure of which less is worse says how far down it was accepted', () => {
    const outgrown = {
      is: 'outgrown',
      value: 1,
      quantity: 'couplers',
      limit: { value: 2, unit: 'couplers' },
      isFloor: true,
    } as const;
    expect(saidOfWaivers(waiverOutgrown, [judged(outgrown)])).toMatchObject([
      {
        measure: { value: 1, limit: 2, holds: 'at least' },
        message: expect.stringContaining('down to 2 couplers; now it is 1 couplers,'),
      },
    ]);
  });

  it.each([
    [{ is: 'no figure' }, 'the finding has no figure'],
    [{ is: 'no share' }, 'the finding’s figure is no share of anything'],
    [{ is: 'other unit', unit: 'devices' }, 'the finding’s figure is in devices'],
  ] as const)('finds one that cannot be held against the finding: %j', (because, text) => {
    const limit = { value: 540, unit: 'mA' };
    const incomparable = { is: 'incomparable', because, quantity: 'takers', limit, isFloor: false } as const;
    expect(messageOf(incomparable)).toBe(
      `The waiver of low-headroom for 1.1 by A. Planner covers the figure (takers) up to 540 mA, but ${text}; it does not count.`,
    );
    expect(saidOfWaivers(waiverOutgrown, [judged(incomparable)])).toMatchObject([
      { measure: { value: null, limit: 540, unit: 'mA' }, remedy: expect.stringContaining('`accepted`') },
    ]);
  });
});
