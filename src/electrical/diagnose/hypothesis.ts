import type { ExpectedInput } from '../expected.js';
import type { Change } from './change.js';
import type { CauseKind } from './kinds.js';
import type { Span } from './search.js';
import { type Worked, workedOut } from './worked.js';

/** Something that may be the case, as a case to be worked out. */
export interface Hypothesis {
  readonly kind: CauseKind;
  /** What it leaves open beyond the plan: nothing, that it is so, or a figure as well. */
  readonly liberties: 'none' | 'departs' | 'fitted';
  /** Where its figure is looked for; null where it has none. */
  readonly span: Span | null;
  /** The start of the span is the plan itself, and no cause. */
  readonly startsAtPlan: boolean;
  /** @param figure of the span; 0 where it has none */
  readonly work: (figure: number) => Worked;
  /** One sentence, with figures. */
  readonly text: (figure: number) => string;
  /** By which the resistance of the cable is greater. */
  readonly ohmFactor: (figure: number) => number;
}

/** One case, with no figure of its own. */
export function supposed(kind: CauseKind, input: ExpectedInput, change: Change, text: string): Hypothesis {
  return {
    kind,
    liberties: kind === 'as planned' ? 'none' : 'departs',
    span: null,
    startsAtPlan: false,
    work: () => workedOut(input, change),
    text: () => text,
    ohmFactor: () => 1,
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
    more,
  }: {
    span: Span;
    change: (figure: number) => Change;
    text: (figure: number) => string;
    more?: Partial<Hypothesis>;
  },
): Hypothesis {
  return {
    kind,
    liberties: 'fitted',
    span,
    startsAtPlan: true,
    work: (figure) => workedOut(input, change(figure)),
    text,
    ohmFactor: () => 1,
    ...more,
  };
}
