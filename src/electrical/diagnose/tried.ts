import type { ExpectedInput } from '../expected.js';
import { fitOf, type Match, type Misfit, matchOf, scoreOf, supplyLeeway } from './fit.js';
import type { Hypothesis } from './hypothesis.js';
import type { Told } from './next.js';
import type { Reading } from './reading.js';
import { leastOver } from './search.js';

/** A cause that was held against the readings. */
export interface Tried extends Told {
  readonly text: string;
  readonly fit: number;
  readonly misfits: readonly Misfit[];
}

/**
 * Holds a hypothesis against the readings, its figure being what fits best.
 * @returns null where it can be held against none of them, or is best where it is the plan itself
 */
export function tried(hypothesis: Hypothesis, readings: readonly Reading[], plan: ExpectedInput): Tried | null {
  const { kind, span, work, text, liberties, ohmFactor, startsAtPlan } = hypothesis;
  const leeway = supplyLeeway(plan);
  const matchAt = (figure: number): Match | null => matchOf(readings, work(figure), leeway);
  const figure = span === null ? 0 : leastOver(span, (at) => matchAt(at)?.meanSquare ?? Number.POSITIVE_INFINITY).x;
  if (span !== null && startsAtPlan && figure === span.from) return null;
  const match = matchAt(figure);
  if (match === null) return null;
  return {
    kind,
    worked: work(figure),
    ohmFactor: ohmFactor(figure),
    text: text(figure),
    fit: fitOf(scoreOf(match, liberties)),
    misfits: match.misfits,
  };
}
