import { describe, expect, it } from 'vitest';
import { tooManyDevices } from '../../src/rules/too-many-devices.js';
import { consumers, coupler, type PlantSpec, supply } from '../support/plants.js';
import { BOUNDS_MISSING, oldForm, only, onMedium, repeater, said, UNPOWERED } from '../support/rules.js';

const MISC = [supply(1280), { is: { isAccessory: true } }, { is: { isCable: true } }];

describe('too-many-devices', () => {
  it.each([0, 1, 64])('passes %i participants, not counting supplies, accessories and cables', (n) => {
    expect(said(tooManyDevices, only([...MISC, ...consumers(n, 2.5)]))).toEqual({
      found: [],
      coverage: { '1.1': 'passed' },
    });
  });

  it.each([
    [65, 'note', 64, false, 'with a device of the classic type on it, 64 are allowed', 'data sheets'],
    [256, 'note', 64, false, 'with a device of the classic type on it, 64 are allowed', 'data sheets'],
    [257, 'error', 256, true, 'no device type allows more than 256', 'no part has more than 256'],
  ])('finds %i as %s', (participants, severity, most, isImpossible, words, advice) => {
    expect(said(tooManyDevices, only([...MISC, ...consumers(participants, 2.5)]))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity,
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', participants, most, isImpossible },
          message: `Line 1.1 has ${participants} participants; ${words}.`,
          remedy: expect.stringContaining(advice),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('counts the couplers that reach the segment from below', () => {
    const plant = (n: number): PlantSpec => ({
      lines: [
        { line: '1.0', segments: [consumers(n, 2.5)] },
        { line: '1.1', segments: [[coupler(5)]] },
      ],
    });
    expect(said(tooManyDevices, plant(63)).found).toEqual([]);
    expect(said(tooManyDevices, plant(64)).found).toMatchObject([{ segments: ['1.0'], facts: { participants: 65 } }]);
  });

  it('goes by the policy’s limits', () => {
    const policy = { devicesClassic: 2, devicesGreatest: 3 };
    const severities = [2, 3, 4].map((n) => said(tooManyDevices, only(consumers(n, 5), policy)).found[0]?.severity);
    expect(severities).toEqual([undefined, 'note', 'error']);
  });

  it('skips a line whose bounds are not known', () => {
    expect(said(tooManyDevices, oldForm([...consumers(300, 2.5), repeater(64)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${BOUNDS_MISSING}` },
    });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(tooManyDevices, onMedium(medium, consumers(257, 2.5)))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
