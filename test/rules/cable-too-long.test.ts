import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cableTooLong } from '../../src/rules/cable-too-long.js';
import type { Cable, SegmentSite } from '../../src/site/site.js';
import { check, consumer, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { lineLayout, NO_CABLE, notOnSite, onSite, starLayout } from '../support/site-plants.js';

const DEVICES = [supply(640), consumer(1, 10), consumer(2, 10)];
const PAIR: Cable = { name: null, loopOhmPerKm: 73.2, source: 'test', temperatureC: 20, pairs: 1 };

const cabled = (entry: Partial<SegmentSite>, cablePerSegmentM = 1000) =>
  onSite(DEVICES, entry, { policy: { cablePerSegmentM } });

/** At most 1000 m on a segment (volume 3/2/2). */
describe('cable-too-long', () => {
  it.each([
    ['exactly 1000 m told', cabled({ totalLengthM: 1000 })],
    ['exactly 1000 m in runs', cabled({ layout: starLayout([400, 300, 300]) })],
    ['exactly the policy’s own limit', cabled({ totalLengthM: 500 }, 500)],
    ['600 m of two pairs, which are no 1200 m', cabled({ cable: { ...PAIR, pairs: 2 }, layout: lineLayout([600]) })],
  ])('passes %s', (_, plant) => {
    expect(said(cableTooLong, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 mm more, and says by how much', () => {
    const plant = cabled({ totalLengthM: 1000.001 });
    expect(said(cableTooLong, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', lengthM: 1000.001, isExact: true, limitM: 1000, excessM: 0.001 },
          message: 'The cable of line 1.1 is 1000.001 m long; 1000 m are allowed: 0.001 m too much.',
          remedy: expect.stringMatching(/^Split the segment so that 0\.001 m or more/),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(cableTooLong, plant).findings[0]?.measure).toEqual({
      quantity: 'cable of the segment',
      unit: 'm',
      value: 1000.001,
      limit: 1000,
      holds: 'at most',
      setBy: 'cablePerSegmentM',
    });
  });

  it.each([
    ['1 mm more in runs', cabled({ layout: starLayout([400, 300, 300.001]) }), 1000.001],
    ['1 mm above the policy’s own limit', cabled({ totalLengthM: 500.001 }, 500), 500.001],
    ['told cable of which some is in no run', cabled({ totalLengthM: 1200, layout: lineLayout([900]) }), 1200],
    ['runs beyond the length that is told', cabled({ totalLengthM: 900, layout: lineLayout([1100]) }), 1100],
  ])('finds %s', (_, plant, lengthM) => {
    expect(said(cableTooLong, plant).found).toMatchObject([{ facts: { lengthM } }]);
  });

  it('finds runs exactly if they add up to more than the limit', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 6 }), (lengthsM) => {
        const totalM = lengthsM.reduce((sum, one) => sum + one, 0);
        const { findings } = check(cableTooLong, cabled({ layout: lineLayout(lengthsM) }));
        expect(findings.map(({ measure }) => measure.value)).toEqual(totalM > 1000 ? [totalM] : []);
      }),
    );
  });

  it('skips a sheet that tells no length, and asks for one', () => {
    expect(said(cableTooLong, cabled({})).coverage).toEqual({
      '1.1': expect.stringMatching(/^skipped: the runs of its cable.*; the length of all its cable$/),
    });
  });

  it.each(notOnSite(DEVICES, { totalLengthM: 2000 }, NO_CABLE))('skips %s', (_, plant, missing) => {
    expect(said(cableTooLong, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
