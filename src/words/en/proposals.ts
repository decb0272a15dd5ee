import type { ActionName, ChoiceFacts, PlanFacts } from '../facts.js';
import { names } from './names.js';
import { count, figures } from './sentences.js';

const { list, milliamps, number, volts } = figures;

const MOST_NAMED = 12;

/** A choice of supplies, and what it leaves. */
const choice = {
  /** `keep Supply 320 mA, add 640 mA (plain, PS-640)`. */
  supplies: (f: ChoiceFacts) =>
    [
      ...(f.kept.length === 0 ? [] : [`keep ${list(f.kept)}`]),
      ...(f.removed.length === 0 ? [] : [`remove ${list(f.removed)}`]),
      ...(f.added.length === 0 ? [] : [`${f.kept.length + f.removed.length === 0 ? 'order' : 'add'} ${list(f.added)}`]),
    ].join(', '),
  present: (f: { name: string | null; ratedMa: number | null }) =>
    `${f.name} ${f.ratedMa === null ? '(not rated)' : milliamps(f.ratedMa)}`,
  at: (point: string) => `at ${point}`,
  margin: (f: {
    marginMa: number;
    targetMa: number;
    plannedMa: number;
    leastV: number | null;
    price: number | null;
  }) => {
    const planned = f.plannedMa === 0 ? '' : ` with ${milliamps(f.plannedMa)} planned`;
    const voltage = f.leastV === null ? '' : `, at least ${volts(f.leastV)} at every device`;
    const price = f.price === null ? '' : `, price ${number(f.price)}`;
    return `${milliamps(f.marginMa)} left to the target of ${milliamps(f.targetMa)}${planned}${voltage}${price}`;
  },
};

/** A segment that is split. */
const split = {
  title: (f: { where: string; lines: number; because: string | null; proved: string }) =>
    `${f.where}: split into itself and ${count(f.lines, 'new line')}, as ${f.because}. ${f.proved}`,
  proved: (f: PlanFacts) => {
    const places = f.torn === 0 ? 'no place is' : count(f.torn, 'place is', 'places are');
    const fewest =
      f.gapSegments === 0
        ? 'No fewer would do'
        : `At least ${f.lowerBound} segments are needed, ${f.pieces} were found`;
    const parted = `${places} parted${f.gapTorn === 0 ? '' : `, which might be ${f.gapTorn} fewer`}`;
    const even = f.gapEvenMa === 0 ? '' : `; the greatest load might be up to ${milliamps(f.gapEvenMa)} less`;
    return `${fewest}; ${parted}${even} (${names.splitMethods[f.method]}).`;
  },
  /** What stays, or what a new line gets. */
  piece: (f: {
    line: string;
    isNew: boolean;
    devices: number;
    loadMa: number;
    couplerMa: number | null;
    supplies: string;
  }) => {
    const who = f.isNew ? `New line ${f.line} gets` : `Line ${f.line} keeps`;
    const own = f.couplerMa === null ? '' : `, with its coupler of ${milliamps(f.couplerMa)}`;
    return `${who} ${count(f.devices, 'device')}: ${milliamps(f.loadMa)}${own}; ${f.supplies}.`;
  },
  moved: (devices: readonly string[]) => `Moved: ${list(devices, MOST_NAMED)}.`,
  aFreeAddress: 'a free address',
  above: (f: { line: string; kind: 'present' | 'new' | 'IP'; couplers: number; ma: number }) => {
    const couplers = count(f.couplers, 'new coupler');
    if (f.kind === 'IP') return `Line ${f.line} above is IP: the ${couplers} draw nothing of it.`;
    const load = `${couplers}, ${milliamps(f.ma)}`;
    return f.kind === 'new'
      ? `Line ${f.line} above is not there yet: it has to be made; of this split it gets ${load}.`
      : `Line ${f.line} above gets ${load}; its own proposal counts them.`;
  },
  /** A main line that has to be made as well. */
  mainLine: (f: { line: string; couplers: number; loadMa: number; supplies: string | null }) => {
    const load = `New main line ${f.line}: ${count(f.couplers, 'coupler')}, ${milliamps(f.loadMa)}`;
    return f.supplies === null ? `${load}, which no supplies from stock carry.` : `${load}; ${f.supplies}.`;
  },
};

/** Devices that could be moved instead. */
const moves = {
  move: (f: { devices: readonly string[]; movedMa: number; to: string; near: string }) =>
    `move ${count(f.devices.length, 'device')} (${list(f.devices, MOST_NAMED)}), ${milliamps(f.movedMa)} to line ${f.to}, ${f.near}`,
  left: (f: { hereMa: number; thereMa: number }) =>
    `${milliamps(f.hereMa)} left to the target here, ${milliamps(f.thereMa)} there`,
  fewer: 'Fewer devices might do; that was too much to work out.',
  notNear: 'which is electrically possible only: no place that they share is known',
  near: (f: { nearness: 'same board or room' | 'same floor'; places: readonly string[] }) =>
    `on the ${f.nearness} (${list(f.places)})`,
};

/** What to do about supplies. */
export const proposals = {
  title: (changes: number) => `Proposals: ${count(changes, 'change')} to the supplies`,
  heading: 'Proposals',
  cut: 'The rest is cut; the JSON report has all of it.',
  or: 'Or:',
  mind: 'Mind:',
  lines: (segments: readonly string[]) => `${segments.length === 1 ? 'Line' : 'Lines'} ${list(segments)}`,
  withCouplers: (f: { where: string; couplers: number; ma: number }) =>
    `${f.where}, with ${count(f.couplers, 'new coupler')} of proposed splits (${milliamps(f.ma)})`,
  nothing: (f: { where: string; action: ActionName; because: string | null }) =>
    `${f.where}: ${names.actions[f.action]}, as ${f.because}.`,
  choice,
  split,
  moves,
};
