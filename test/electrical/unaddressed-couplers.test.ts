import { describe, expect, it } from 'vitest';
import { couplerMissing } from '../../src/rules/coupler-missing.js';
import { segmentBoundariesUnknown } from '../../src/rules/segment-boundaries-unknown.js';
import { check, consumer, contextOf, coupler, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';

/** A coupler that is planned and has no individual address yet. */
const unaddressed: DeviceSpec = { name: 'Coupler', ma: 6, is: { isCoupler: true } };

const plant = (...onLine: DeviceSpec[]): PlantSpec => ({
  schema: 14,
  lines: [
    { line: '1.0', devices: [supply(160), consumer(1, 10)] },
    { line: '1.1', devices: [supply(320), consumer(1, 10), ...onLine] },
  ],
});

const verdicts = (spec: PlantSpec) => contextOf(spec).balances.map(({ verdict, load }) => [verdict, load.totalUa]);

describe('a coupler without an address', () => {
  it('is the coupler of a line that has no other: it is charged on the line above too, and cuts nothing', () => {
    expect(verdicts(plant(unaddressed))).toEqual([
      ['sufficient', 16_000],
      ['sufficient', 16_000],
    ]);
    expect(check(couplerMissing, plant(unaddressed)).findings).toEqual([]);
  });

  it('may cut a line that has its coupler already, so that nothing is certain there', () => {
    const spec = plant(coupler(6), unaddressed);
    expect(verdicts(spec)).toEqual([
      ['sufficient', 16_000],
      ['undecidable', 22_000],
    ]);
    expect(check(segmentBoundariesUnknown, spec).findings).toHaveLength(1);
  });

  it('draws nothing from the line above where it is IP-enabled', () => {
    const ip = { ...unaddressed, is: { ...unaddressed.is, isIpEnabled: true } };
    expect(verdicts(plant(ip))).toEqual([
      ['sufficient', 10_000],
      ['sufficient', 16_000],
    ]);
  });

  it('that stands on no line joins nothing', () => {
    const { installation } = contextOf({ ...plant(), unassigned: [unaddressed] });
    expect(installation.unplaced.map(({ joins }) => joins)).toEqual([null]);
  });
});
