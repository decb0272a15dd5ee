import type { Comparison } from '../../src/report/compare/comparison.js';

/** A comparison in numbers. */
export function countsOf({ findings, segments, segmentsAdded, segmentsRemoved }: Comparison) {
  const { unchanged, ...lists } = findings;
  return {
    ...Object.fromEntries(Object.entries(lists).map(([state, changes]) => [state, changes.length])),
    unchanged,
    segments: segments.length,
    segmentsAdded: segmentsAdded.length,
    segmentsRemoved: segmentsRemoved.length,
  };
}

export const NO_CHANGES = {
  new: 0,
  fixed: 0,
  worsened: 0,
  improved: 0,
  segments: 0,
  segmentsAdded: 0,
  segmentsRemoved: 0,
};
