import type { ExpectedInput } from '../expected.js';
import { fitted, type Hypothesis } from './hypothesis.js';
import type { Place } from './places.js';
import { limitShares } from './short-limits.js';

/** Between a screwed-down short and what hardly loads the bus, Ω (derived here: 30 V / 100 Ω is 300 mA). */
const FAULT_OHM = { from: 0.01, to: 100, by: 'ratios' } as const;

/**
 * A short, or nearly one, at each of the places. What leaves the devices there enough voltage is a load, and no short.
 */
export function shorts(input: ExpectedInput, places: readonly Place[]): Hypothesis[] {
  const shares = limitShares(input);
  return places.flatMap((place) => {
    const [first, ...variants] = shares.map((share) => shortAt(place, share, input));
    return first === undefined ? [] : [{ ...first, variants }];
  });
}

function shortAt({ point, name }: Place, limitShare: number, input: ExpectedInput): Hypothesis {
  const hypothesis = fitted('short on the segment', input, {
    span: FAULT_OHM,
    change: (ohm) => ({ short: { point, ohm, limitShare } }),
    text:
      (ohm) =>
      ({ diagnosis }) =>
        diagnosis.causes.shorted({ place: name, ohm: toldOhm(ohm) }),
    startsAtPlan: false,
  });
  return {
    ...hypothesis,
    work: (ohm, done) => {
      const worked = hypothesis.work(ohm, done);
      if (done !== undefined) return worked;
      const there = worked(point === null ? { kind: 'lowest' } : { kind: 'voltage', point });
      return there === null || there.low < input.policy.hardDeviceV ? worked : () => null;
    },
  };
}

/** Below a tenth of an ohm nothing is told of it. */
function toldOhm(ohm: number): number | null {
  return ohm < 0.1 ? null : Math.round(ohm * 10) / 10;
}
