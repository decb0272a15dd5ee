import type { ExpectedInput } from '../expected.js';
import { fitOf, type Match, type Misfit, matchOf, scoreOf, supplyLeeway } from './fit.js';
import type { Hypothesis, Sentence } from './hypothesis.js';
import type { Told } from './probe.js';
import type { Reading } from './reading.js';
import { leastOver } from './search.js';

/** A cause that was held against the readings. */
export interface Tried extends Told {
  readonly text: Sentence;
  readonly fit: number;
  readonly misfits: readonly Misfit[];
}

/**
 * Holds a hypothesis against the readings, its figure and its variant being what fits best.
 * @returns null where it can be held against none of them, or is best where it is the plan itself
 */
export function tried(hypothesis: Hypothesis, readings: readonly Reading[], plan: ExpectedInput): Tried | null {
  const all = [hypothesis, ...(hypothesis.variants ?? [])].flatMap((one) => triedAlone(one, readings, plan) ?? []);
  return all.reduce<Tried | null>((best, one) => (best === null || one.fit > best.fit ? one : best), null);
}

function triedAlone(hypothesis: Hypothesis, readings: readonly Reading[], plan: ExpectedInput): Tried | null {
  const { kind, span, change, work, text, liberties, startsAtPlan } = hypothesis;
  const leeway = supplyLeeway(plan);
  const matchAt = (figure: number): Match | null => matchOf(readings, work(figure), leeway);
  const figure = span === null ? 0 : leastOver(span, (at) => matchAt(at)?.mean ?? Number.POSITIVE_INFINITY).x;
  if (span !== null && startsAtPlan && figure === span.from) return null;
  const match = matchAt(figure);
  if (match === null) return null;
  return {
    kind,
    worked: work(figure),
    change: change(figure),
    afterDoing: (done) => work(figure, done),
    text: text(figure),
    fit: fitOf(scoreOf(match, liberties)),
    misfits: match.misfits,
  };
}
