import type { Words } from '../../words/words.js';
import type { ExpectedInput } from '../expected.js';
import { bothOf, type Change } from './change.js';
import type { CauseKind } from './kinds.js';
import type { Span } from './search.js';
import { type Worked, workedOut } from './worked.js';

/** A sentence in the language of some texts. */
export type Sentence = (words: Words) => string;

/** Something that may be the case, as a case to be worked out. */
export interface Hypothesis {
  readonly kind: CauseKind;
  /** What it leaves open beyond the plan: nothing, that it is so, or a figure as well. */
  readonly liberties: 'none' | 'departs' | 'fitted';
  /** Where its figure is looked for; null where it has none. */
  readonly span: Span | null;
  /** The start of the span is the plan itself, and no cause. */
  readonly startsAtPlan: boolean;
  /** What differs from the plan. @param figure of the span; 0 where it has none */
  readonly change: (figure: number) => Change;
  /** The case worked out. @param done to the plant for a measurement */
  readonly work: (figure: number, done?: Change) => Worked;
  /** The same cause with other guesses at what is no part of it; the best fitting one counts. */
  readonly variants?: readonly Hypothesis[];
  /** One sentence, with figures. */
  readonly text: (figure: number) => Sentence;
}

/** One case, with no figure of its own. */
export function supposed(kind: CauseKind, input: ExpectedInput, change: Change, text: Sentence): Hypothesis {
  return {
    kind,
    liberties: kind === 'as planned' ? 'none' : 'departs',
    span: null,
    startsAtPlan: false,
    change: () => change,
    work: (_, done = {}) => workedOut(input, bothOf(change, done)),
    text: () => text,
  };
}

/** A case with a figure that is fitted. */
export function fitted(
  kind: CauseKind,
  input: ExpectedInput,
  {
    span,
    change,
    text,
    startsAtPlan = true,
  }: {
    span: Span;
    change: (figure: number) => Change;
    text: (figure: number) => Sentence;
    startsAtPlan?: boolean;
  },
): Hypothesis {
  return {
    kind,
    liberties: 'fitted',
    span,
    change,
    work: (figure, done = {}) => workedOut(input, bothOf(change(figure), done)),
    text,
    startsAtPlan,
  };
}
