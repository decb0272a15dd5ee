import { ORIGINS, type ReportSegment } from '../../report.js';
import type { Hatch } from './svg.js';

/**
 * How things are told apart: by a stroke and a word, and by a colour of the palette of Okabe and Ito ("Color Universal
 * Design", 2008), which readers with any kind of colour vision tell apart. The style sheet has the colours by class.
 */

/** What a segment’s column is hatched with, by its verdict. */
export const VERDICT_HATCH: { readonly [verdict in ReportSegment['verdict']]: Hatch } = {
  insufficient: 'crossed',
  unfed: 'none',
  undecidable: 'falling',
  tight: 'rising',
  sufficient: 'none',
  idle: 'none',
  'not-bus-powered': 'none',
};

/** Of what a load is made up, in the order that it is drawn in. */
export const PARTS = [...ORIGINS, 'auxiliary', 'others'] as const;

export type Part = (typeof PARTS)[number];

export const PART_HATCH: { readonly [part in Part]: Hatch } = {
  declared: 'none',
  overridden: 'falling',
  assumed: 'rising',
  auxiliary: 'crossed',
  others: 'none',
};
