import { describe, expect, it } from 'vitest';
import { siteSheetStale } from '../../src/rules/site-sheet-stale.js';
import { check, consumer, supply } from '../support/plants.js';
import { only, said } from '../support/rules.js';

const plant = (sheet?: object) => ({
  ...only([supply(320), consumer(1, 10), consumer(2, 10)]),
  ...(sheet ? { sheet } : {}),
});

/** Of another archive than the test plants are from. */
const EARLIER = { archive: 'b'.repeat(64) };

describe('site-sheet-stale', () => {
  it('passes a sheet whose names are all there, whichever archive it was written for', () => {
    const sheet = { ...EARLIER, segments: [{ segment: '1.1', connected: ['1.1.1'] }] };
    expect(said(siteSheetStale, plant(sheet))).toEqual({ found: [], coverage: { '1.1': 'passed', '*': 'passed' } });
  });

  it('finds devices that are gone, by segment, with the names that are most like them', () => {
    const sheet = { ...EARLIER, segments: [{ segment: '1.1', connected: ['1.1.1', '1.1.3', '1.1.4'] }] };
    expect(said(siteSheetStale, plant(sheet))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          segments: ['1.1'],
          facts: { names: [{ place: 'segments[0].connected[1]', kind: 'device', name: '1.1.3' }, { name: '1.1.4' }] },
          message:
            'The site sheet for line 1.1 names the device 1.1.3 and the device 1.1.4, which the archive does not have; what it says of them is not applied.',
          remedy: expect.stringContaining('segments[0].connected[1] (nearest: 1.1.1'),
        },
      ],
      coverage: { '1.1': 'found', '*': 'passed' },
    });
    expect(check(siteSheetStale, plant(sheet)).findings[0]?.measure).toMatchObject({ value: 2, limit: 0 });
  });

  it('says where a device is now that has moved', () => {
    const moved = { lines: [...(plant().lines ?? []), { line: '1.2', segments: [[consumer(1, 10)]] }] };
    const sheet = { ...EARLIER, segments: [{ segment: '1.1', connected: ['1.2.1'] }] };
    expect(said(siteSheetStale, { ...moved, sheet }).found[0]?.message).toBe(
      'The site sheet for line 1.1 names the device 1.2.1 (it is on 1.2), which the archive does not have there; what it says of it is not applied.',
    );
  });

  it('finds segments that are gone, on the installation', () => {
    const sheet = { ...EARLIER, segments: [{ segment: '1.2', critical: true }] };
    expect(said(siteSheetStale, plant(sheet))).toMatchObject({
      found: [
        {
          segments: [],
          message:
            'The site sheet names the segment 1.2, which the archive does not have; what it says of it is not applied.',
        },
      ],
      coverage: { '1.1': 'passed', '*': 'found' },
    });
  });

  it('skips a plant without a sheet', () => {
    const { findings, coverage } = check(siteSheetStale, plant());
    expect(findings).toEqual([]);
    expect(coverage).toContainEqual(expect.objectContaining({ status: 'skipped', missing: 'a site sheet' }));
  });
});
