import { sum } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { GREATEST_SUPPLY_V, SHORT_CIRCUIT_SUM_MA } from '../standard.js';
import { terminalsOf } from '../voltage/sources.js';
import { apart, nearestTo, type Range, shifted } from './range.js';
import type { Reading } from './reading.js';
import type { Worked } from './worked.js';

export interface Misfit {
  readonly what: string;
  readonly measured: number;
  readonly computed: number;
  readonly unit: string;
}

/** How a case stands to what was read. */
export interface Match {
  /** Mean over the readings of the squared misfit, in tolerances, and of the price of a range. */
  readonly mean: number;
  /** What lies beyond its tolerance. */
  readonly misfits: readonly Misfit[];
}

/**
 * What a departure from the plan costs, and what a freely fitted figure in it costs besides, as a mean square in
 * tolerances. It is an information criterion (misfit plus a price for each liberty) whose price is derived from the
 * tolerance: errors within half of it come to a mean square of at most 1/4, so no departure from the plan is ever
 * preferred to the plan because of such errors alone. A fitted figure costs half as much again, so that of two causes
 * that explain the same the one wins that leaves nothing to choose.
 */
const DEPARTURE = 1 / 4;
const FITTED = 1 / 8;

/**
 * What a reading costs where the case does not say one figure but a range: this for each e-fold of the range against
 * what agrees with a reading, so WIDTH · ln(1 + w), w being the width in whole tolerances to both sides (derived here: of
 * figures spread evenly over the range one in 1 + w agrees, and ln(1 + w) is the surprise when it does, priced like a
 * departure). A case that says "anything from 0 to 20 V" so costs 0.76 for a voltage, and one that says "28 V" and is
 * right nothing; a range within the tolerance costs little. Only the part of a range counts that would not be what was
 * seen, as a symptom is a range itself.
 */
const WIDTH = 1 / 4;

/** Above these no bus has anything, so a range without an end is no wider. */
const GREATEST = { mA: SHORT_CIRCUIT_SUM_MA, V: GREATEST_SUPPLY_V };

function widthPrice({ seen, unit, tolerance }: Reading, { low, high }: Range): number {
  const most = Math.max(low, Math.min(high, GREATEST[unit]));
  const within = Math.max(0, Math.min(most, seen.high) - Math.max(low, seen.low));
  return WIDTH * Math.log(1 + (most - low - within) / (2 * tolerance));
}

/** What is compared: the mean of misfits and ranges and the price of the liberties; lower is better. */
export function scoreOf({ mean }: Match, liberties: 'none' | 'departs' | 'fitted'): number {
  if (liberties === 'none') return mean;
  return mean + DEPARTURE + (liberties === 'fitted' ? FITTED : 0);
}

/**
 * 1 for a perfect match, 1/2 where the readings are a whole tolerance off, next to nothing at two: 1 / (1 + score⁴).
 * Rounded, so that what is equal but for rounding is equal.
 */
export function fitOf(score: number): number {
  return Math.round(1e6 / (1 + score ** 4)) / 1e6;
}

/** By how much all supplies may be above what is taken for them, V; nothing where the sheet states their voltage. */
export function supplyLeeway({ segment, site, policy }: ExpectedInput): Range {
  const unsaid = segment.supplies.filter(({ device }) => typeof site.supplies.get(device.id)?.terminalV !== 'number');
  if (unsaid.length === 0) return { low: 0, high: 0 };
  const typical = unsaid.map((supply) => terminalsOf(supply, 'typical', site, policy).emfV);
  const least = unsaid.map((supply) => terminalsOf(supply, 'least', site, policy).emfV);
  return {
    low: Math.min(...least) - Math.min(...typical),
    high: Math.max(0, GREATEST_SUPPLY_V - Math.max(...typical)),
  };
}

/**
 * Holds a case against the readings that it can be held against.
 * @param leeway of the supplies' voltage: within it every voltage is moved alike, by what suits the case best, as no
 *   cause is more likely for what nobody knows of the supplies
 * @returns null if it can be held against none of them, or not against all that was seen: half a symptom fits anything
 */
export function matchOf(readings: readonly Reading[], worked: Worked, leeway: Range): Match | null {
  const pairs = readings.flatMap((reading) => {
    const range = worked(reading.target);
    return range === null ? [] : [{ reading, range }];
  });
  const isSeenLost = readings.some((one) => !one.isMeasured && !pairs.some(({ reading }) => reading === one));
  if (pairs.length === 0 || isSeenLost) return null;
  const by = bestShift(pairs, leeway);
  const widthPrices = sum(pairs.map(({ reading, range }) => widthPrice(reading, range)));
  return {
    mean: meanSquare(pairs, by) + widthPrices / pairs.length,
    misfits: pairs
      .map(({ reading, range }) => ({ reading, range: moved(reading, range, by) }))
      .filter(({ reading, range }) => apart(reading.seen, range) > reading.tolerance)
      .map(({ reading, range }) => ({
        what: reading.what,
        measured: rounded(nearestTo(reading.seen, range), reading.unit),
        computed: rounded(nearestTo(range, reading.seen), reading.unit),
        unit: reading.unit,
      })),
  };
}

interface Pair {
  readonly reading: Reading;
  readonly range: Range;
}

function meanSquare(pairs: readonly Pair[], by: number): number {
  const squares = pairs.map(({ reading, range }) => {
    return (apart(reading.seen, moved(reading, range, by)) / reading.tolerance) ** 2;
  });
  return squares.reduce((a, b) => a + b, 0) / squares.length;
}

/** A voltage moves with the supply's, unless there is none. */
function moved({ unit }: Reading, range: Range, by: number): Range {
  return unit === 'V' && range.low > 0 ? shifted(range, by) : range;
}

/** Halvings of the leeway: 3.5 V to less than a microvolt. */
const STEPS = 40;

/** The mean square is convex in the shift, so thirds close in on its least; none where none is better. */
function bestShift(pairs: readonly Pair[], { low, high }: Range): number {
  let [from, to] = [low, high];
  for (let step = 0; step < STEPS && from < to; step++) {
    const third = (to - from) / 3;
    if (meanSquare(pairs, from + third) <= meanSquare(pairs, to - third)) to -= third;
    else from += third;
  }
  const best = (from + to) / 2;
  return meanSquare(pairs, best) < meanSquare(pairs, 0) - 1e-9 ? best : 0;
}

/** To what a meter shows: a hundredth of a volt, a tenth of anything else. */
export function rounded(value: number, unit: 'mA' | 'V' | 'Ω'): number {
  const parts = unit === 'V' ? 100 : 10;
  return Math.round(value * parts) / parts;
}
