import { describe, expect, it } from 'vitest';
import { tooManySupplies } from '../../src/rules/too-many-supplies.js';
import { consumer, type DeviceSpec, supply } from '../support/plants.js';
import { BOUNDS_MISSING, oldForm, only, onMedium, repeater, said, UNPOWERED } from '../support/rules.js';

const supplies = (n: number, ma?: number): DeviceSpec[] => Array.from({ length: n }, () => supply(ma));
const fedBy = (...groups: DeviceSpec[][]) => only([...groups.flat(), consumer(1, 10)]);

describe('too-many-supplies', () => {
  it.each([
    ['two central ones', fedBy(supplies(2, 320))],
    ['eight decentral ones', fedBy(supplies(8, 25))],
    ['two central and eight decentral ones', fedBy(supplies(2, 160), supplies(8, 80))],
    ['three at the greatest decentral rating', fedBy(supplies(3, 80))],
    ['a central and an unrated one', fedBy(supplies(1, 320), supplies(1))],
    ['none', fedBy()],
  ])('passes %s', (_, plant) => {
    expect(said(tooManySupplies, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it.each([
    ['three central ones', fedBy(supplies(3, 160)), 3, 0],
    ['nine decentral ones', fedBy(supplies(9, 25)), 0, 9],
    ['three 1 µA above the greatest decentral rating', fedBy(supplies(3, 80.001)), 3, 0],
    ['two central and an unrated one, which counts as central', fedBy(supplies(2, 160), supplies(1)), 3, 0],
    ['both too many', fedBy(supplies(3, 160), supplies(9, 40)), 3, 9],
  ])('finds %s', (_, plant, central, decentral) => {
    expect(said(tooManySupplies, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', central, decentral, supplies: Array(central + decentral).fill('Supply') },
          message: expect.stringContaining(`${central} central and ${decentral} decentral supplies`),
          remedy: expect.stringContaining('surplus'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('finds surplus supplies with nothing to feed, too', () => {
    expect(said(tooManySupplies, only(supplies(3, 160))).found).toHaveLength(1);
  });

  it('skips a line whose bounds are not known, as each side may have its own', () => {
    const plant = oldForm([...supplies(3, 160), consumer(1, 10), repeater(64)]);
    expect(said(tooManySupplies, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${BOUNDS_MISSING}` } });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(tooManySupplies, onMedium(medium, supplies(3, 160)))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
