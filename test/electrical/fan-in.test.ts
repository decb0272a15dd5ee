import { describe, expect, it } from 'vitest';
import { currentClass } from '../../src/electrical/fan-in.js';
import { balanceOfSegment, choke, consumer, supply } from '../support/plants.js';

/** Design, the balance, 9; the classes themselves are checked against the standard in test/outside. */
describe('the fan-in of a segment', () => {
  it('adds up the class of each item, not of the sum', () => {
    // 2.6 → 5, 2.6 → 5, 18 → 20, 21 → 25, nothing declared: 10 → 10; the sum alone, 54.2, would be 55
    const devices = [consumer(1, 2.6), consumer(2, 2.6), consumer(3, 18), consumer(4, 21), { address: 5 }];
    expect(balanceOfSegment(devices).fanIn).toEqual({ classSumUa: 65_000, weight: 20 }); // 5 × 4
  });

  it('leaves supplies and passive parts out', () => {
    expect(balanceOfSegment([supply(640), choke(), consumer(1, 10)]).fanIn).toEqual({ classSumUa: 10_000, weight: 4 });
  });

  it('weighs a device that draws nothing, which has no class', () => {
    expect(balanceOfSegment([consumer(1, 0)]).fanIn).toEqual({ classSumUa: 0, weight: 4 });
  });

  it('is not given where nothing draws', () => {
    expect(balanceOfSegment([supply(640)]).fanIn).toBeNull();
  });

  it('never rates a current below itself', () => {
    for (let ua = 0; ua <= 60_000; ua += 7) {
      const surplus = currentClass(ua) - ua;
      expect(surplus >= 0 && surplus < (ua <= 20_000 ? 2_500 : 5_000)).toBe(true);
    }
  });
});
