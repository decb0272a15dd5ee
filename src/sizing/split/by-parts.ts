import { at, Bins, filled, type Packing } from './bins.js';
import { pour } from './first-fit.js';
import { improved } from './improve.js';
import type { Load } from './load.js';
import type { PartsBound } from './parts.js';

/** Halvings of the span between the least greatest load and the capacity. */
const HALVINGS = 12;

/**
 * The packing that the bound itself points to: the segments of each part filled group after group, each following on where the one
 * before it ended, up to the lowest load at which that works out.
 * @returns null where it does not, as items are no liquid
 */
export function byParts(load: Load, bound: PartsBound): Packing | null {
  let [low, high] = [at(bound.greatest, bound.torn), load.capacity];
  let best = poured(load, bound, low) ?? poured(load, bound, high);
  for (let step = 0; step < HALVINGS && best !== null && low < high; step++) {
    const middle = Math.floor((low + high) / 2);
    const bins = poured(load, bound, middle);
    if (bins === null) low = middle + 1;
    else [best, high] = [bins, middle];
  }
  return best === null ? null : improved(filled(load, best.counts)).counts;
}

function poured(load: Load, { parts }: PartsBound, capacity: number): Bins | null {
  const size = parts.reduce((sum, { segments }) => sum + segments, 0);
  const bins = new Bins(load, size, capacity);
  let from = 0;
  for (const { groups, segments } of parts) {
    if (!inTurn(bins, groups, from, from + segments)) return null;
    from += segments;
  }
  return bins;
}

function inTurn(bins: Bins, groups: readonly number[], from: number, upTo: number): boolean {
  let bin = from;
  for (const group of groups) {
    let left = at(bins.load.groups, group).count - pour(bins, bin, group);
    while (left > 0) {
      bin++;
      if (bin === upTo) return false;
      left -= pour(bins, bin, group);
    }
  }
  return true;
}
