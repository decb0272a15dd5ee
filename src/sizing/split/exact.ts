import { assignmentOf, type Goal } from './assignment.js';
import { at, byScore, filled, holds, type Packing, scoreOf } from './bins.js';
import { flowOf } from './fewest.js';
import { improved } from './improve.js';
import type { Load } from './load.js';
import { solve } from './solver.js';
import { wholeGroupsOf } from './whole.js';

/** A packing, and what no packing can be better than. */
export interface Found {
  readonly packing: Packing;
  /** Of the objective that was searched, in its unit. */
  readonly bound: number;
}

/** Larger programs take the solver longer than the search may last, and WebAssembly's memory with it. */
const MOST_COLUMNS = 3000;

/**
 * Fewest segments. Every solution is checked here before it counts.
 * @param from a packing to fall back to
 * @param least segments that are needed for certain
 */
export async function fewestSegments(load: Load, from: Packing, least: number, seconds: number): Promise<Found> {
  const flow = flowOf(load);
  if (flow === null) return oneByOne(load, from, least, seconds);
  const { values, bound } = await solve(flow.program, seconds);
  const packing = values === null ? null : flow.packingOf(values);
  return { packing: better(load, from, packing), bound: Math.max(least, bound ?? 0) };
}

/** From the bound upwards, whether so many do. */
async function oneByOne(load: Load, from: Packing, least: number, seconds: number): Promise<Found> {
  const end = performance.now() + seconds * 1000;
  let bound = least;
  for (; bound < from.length; bound++) {
    const goal: Goal = { least: 'any', tornFrom: 0, tornTo: Number.POSITIVE_INFINITY, greatestFrom: 0 };
    const assignment = assignmentOf(load, bound, goal, null);
    if (assignment.program.columns.length > MOST_COLUMNS) break;
    const answer = await solve(assignment.program, (end - performance.now()) / 1000);
    const packing = better(load, from, answer.values === null ? null : assignment.packingOf(answer.values));
    if (packing !== from) return { packing, bound };
    if (answer.bound !== Number.POSITIVE_INFINITY) break;
  }
  return { packing: from, bound };
}

/**
 * Fewest groups torn, or least greatest load, with as many segments as there are.
 * @param from a packing to begin with, and to fall back to
 */
export async function least(load: Load, from: Packing, goal: Goal, seconds: number): Promise<Found> {
  const known = goal.least === 'torn' ? goal.tornFrom : goal.greatestFrom;
  const whole = goal.least === 'greatest load' && goal.tornTo === 0;
  const assignment = whole ? wholeGroupsOf(load, from, known) : assignmentOf(load, from.length, goal, from);
  if (assignment.program.columns.length > MOST_COLUMNS) return { packing: from, bound: known };
  const { values, bound } = await solve(assignment.program, seconds);
  const packing = better(load, from, values === null ? null : assignment.packingOf(values));
  // none at all, where there is one to begin with: the solver is wrong
  const told = bound === null || bound === Number.POSITIVE_INFINITY ? known : bound + assignment.offset;
  return { packing, bound: Math.max(known, told) };
}

/** The new packing where it is one and better, improved in place; else the one that was there. */
function better(load: Load, from: Packing, packing: Packing | null): Packing {
  if (packing === null || !holds(load, packing)) return from;
  const bins = improved(filled(load, packing));
  const used = bins.counts.filter((_, bin) => at(bins.held, bin) > 0);
  return byScore(scoreOf(bins), scoreOf(filled(load, from))) < 0 ? used : from;
}
