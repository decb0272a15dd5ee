import type { Balance } from '../electrical/balance.js';
import { segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { fromMa, toMa, toMaOrNull } from '../units.js';
import { noPower } from './judged.js';
import { segmentRule } from './rule.js';
import { count, milliamps, segmentSubject } from './words.js';

export const assumptionDecides = segmentRule({
  id: 'assumption-decides',
  title: 'The verdict hangs on currents that nobody declared',
  severity: 'warning',
  why: 'With what such devices draw at least the segment is judged one way, with what they draw at most another. The rule of thumb decides, and nobody has looked.',
  remedy:
    'Look the currents up in the data sheets and enter them in the policy; the list of unknown products says which.',
  limit: 'the verdict is the same at both bounds of the assumed currents',
  basis: 'standard',
  source: 'volume 3/2/2: a standard device draws 3 to 12 mA; the bounds are the policy’s',
  missing: noPower,
  *check(balance, { policy }) {
    const { segment, sensitivity, verdict } = balance;
    if (sensitivity === null || sensitivity.atLow === sensitivity.atHigh) return;
    const turn = firstTurn(balance, policy);
    const turnsAtMa = toMaOrNull(turn?.averageUa ?? null);
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'load at the upper bound of the assumed currents',
        unit: 'mA',
        value: toMa(sensitivity.highUa),
        limit: toMaOrNull(turn?.loadUa ?? null),
        holds: 'at most',
        setBy: 'assumedHighMa',
        breakEvenMa: turnsAtMa,
      },
      restsOn: 'assumed',
      facts: {
        segment: segmentLabel(segment),
        verdict,
        assumedItems: balance.judged.load.assumedItems,
        lowMa: policy.assumedLowMa,
        highMa: policy.assumedHighMa,
        loadAtLowMa: toMa(sensitivity.lowUa),
        loadAtHighMa: toMa(sensitivity.highUa),
        atLow: sensitivity.atLow,
        atHigh: sensitivity.atHigh,
        turnsAtMa,
      },
    };
  },
  message: (f) =>
    `Line ${f.segment} is ${f.verdict}, but ${count(f.assumedItems, 'item')} of its load ${f.assumedItems === 1 ? 'is' : 'are'} assumed: at ${milliamps(f.lowMa)} each it would be ${f.atLow} (${milliamps(f.loadAtLowMa)}), at ${milliamps(f.highMa)} each ${f.atHigh} (${milliamps(f.loadAtHighMa)})${f.turnsAtMa === null ? '' : `; it turns above an average of ${milliamps(f.turnsAtMa)}`}.`,
  advice: (f) =>
    `Look up the ${f.assumedItems === 1 ? 'current' : `${f.assumedItems} currents`} that ${f.assumedItems === 1 ? 'is' : 'are'} assumed on line ${f.segment}.`,
});

interface Turn {
  /** Of the assumed currents, µA. */
  readonly averageUa: number;
  /** Of the segment, µA. */
  readonly loadUa: number;
}

/** Where, within the bounds of the assumed currents, the verdict first becomes another. */
function firstTurn({ breakEven, targetUa, judged }: Balance, { assumedLowMa, assumedHighMa }: Policy): Turn | null {
  const turns = [
    { averageUa: breakEven.toTightUa, loadUa: targetUa },
    { averageUa: breakEven.toInsufficientUa, loadUa: judged.usableUa },
  ].filter((turn): turn is Turn => turn.averageUa !== null && turn.loadUa !== null);
  const within = turns.filter(
    ({ averageUa }) => averageUa >= fromMa(assumedLowMa) && averageUa < fromMa(assumedHighMa),
  );
  return within.sort((a, b) => a.averageUa - b.averageUa)[0] ?? null;
}
