import type { Balance } from '../electrical/balance.js';
import { segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { fromMa, toMa, toMaOrNull } from '../units.js';
import { noPower } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const assumptionDecides = segmentRule({
  id: 'assumption-decides',
  severity: 'warning',
  basis: 'standard',
  missing: noPower,
  *check(balance, { policy, words }) {
    const { segment, sensitivity, verdict } = balance;
    if (sensitivity === null || sensitivity.atLow === sensitivity.atHigh) return;
    const turn = firstTurn(balance, policy);
    const turnsAtMa = toMaOrNull(turn?.averageUa ?? null);
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.loadAtHigh,
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
