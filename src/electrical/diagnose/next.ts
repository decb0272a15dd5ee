import { rounded } from './fit.js';
import type { CauseKind } from './kinds.js';
import { differenceOf, type Probe, type Told } from './probe.js';
import type { Range } from './range.js';

/** A measurement that tells a cause from another one. */
export interface NextMeasurement {
  /** `voltage at hall`. */
  readonly measure: string;
  /** What it would show if this is the cause. */
  readonly here: Figure;
  /** What it would show if the other is. */
  readonly otherwise: Figure;
  readonly unit: 'mA' | 'V' | 'Ω';
  /** Kind of the other cause. */
  readonly against: CauseKind;
  /** Which cause of the list the other is, 1 being the first. */
  readonly againstRank: number;
}

/** Between which bounds a meter would show something; both null for an open circuit, high alone for no upper bound. */
export interface Figure {
  readonly low: number | null;
  readonly high: number | null;
}

/** Below a whole tolerance a meter does not tell two cases apart; the rest is rounding. */
const TOLD_APART = 1 - 1e-9;

/**
 * The measurement at which a cause differs most, in tolerances, from the best-fitting other one that any measurement
 * tells from it. What disturbs the bus less goes before what tells more.
 * @param cause one of those listed; @param listed best first; @param stages from `probesOf`
 * @returns null where nothing tells it from any of the others
 */
export function nextFor(
  cause: Told,
  listed: readonly Told[],
  stages: readonly (readonly Probe[])[],
): NextMeasurement | null {
  for (const [at, other] of listed.entries()) {
    if (other === cause) continue;
    for (const probes of stages) {
      const found = bestOf(probes, cause, other);
      if (found !== null) return { ...found, against: other.kind, againstRank: at + 1 };
    }
  }
  return null;
}

function bestOf(probes: readonly Probe[], cause: Told, other: Told) {
  let best: { probe: Probe; here: Range; otherwise: Range } | null = null;
  let most = TOLD_APART;
  for (const probe of probes) {
    const here = probe.shows(cause);
    const otherwise = probe.shows(other);
    if (here === null || otherwise === null) continue;
    const differs = differenceOf(probe, here, otherwise);
    if (differs < most) continue;
    // The next one has to differ by more than rounding.
    most = differs * (1 + 1e-6);
    best = { probe, here, otherwise };
  }
  if (best === null) return null;
  const { measure, unit } = best.probe;
  return { measure, unit, here: figureOf(best.here, unit), otherwise: figureOf(best.otherwise, unit) };
}

function figureOf({ low, high }: Range, unit: Probe['unit']): Figure {
  const figure = (value: number) => (Number.isFinite(value) ? rounded(value, unit) : null);
  return { low: figure(low), high: figure(high) };
}
