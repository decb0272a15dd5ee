import type { z } from 'zod';
import { MOST_FAULTS } from '../documents/document.js';
import { Nearest, nearestText } from '../documents/nearest.js';
import { quoted } from '../errors.js';
import { sum } from '../units.js';
import { type LINE, MOST_RUNS, type SEGMENT, type SUPPLY } from './shapes.js';

/** What the parts of a sheet cannot say together, whatever the archive. */

type Path = readonly (string | number)[];
type Tell = (path: Path, allowed: string) => void;
/** The end of an error’s text: names that are like one that is not there. */
type Like = (name: string, names: () => Iterable<string>) => string;
type Segment = z.infer<typeof SEGMENT>;

/** The most points of a whole sheet: far beyond any site, and soon enough computed. */
const MOST_POINTS = 5000;

/** So many more runs than points may a segment have: each one beyond a tree closes a ring. */
const MOST_RINGS = 50;

/** Typical voltage of a supply, V (volume 9/2 §2.2: 28–31 V, typically 30 V). */
const TYPICAL_SUPPLY_V = 30;

interface Sheet {
  readonly lines: readonly z.infer<typeof LINE>[];
  readonly supplies: readonly z.infer<typeof SUPPLY>[];
  readonly segments: readonly Segment[];
}

/** Holds the parts of a sheet against each other. */
export function checkSheet({ lines, supplies, segments }: Sheet, context: z.RefinementCtx): void {
  let told = 0;
  const tell: Tell = (path, message) => {
    told += 1;
    context.addIssue({ code: 'custom', message, path: [...path] });
  };
  const nearest = new Nearest();
  const like: Like = (name, names) => (told < MOST_FAULTS ? nearestText(nearest.to(name, names).map(quoted)) : '');
  refuseTwice(
    lines.map(({ line }, index) => [['lines', index, 'line'], line]),
    'one entry for each line',
    tell,
  );
  refuseTwice(
    supplies.map(({ supply }, index) => [['supplies', index, 'supply'], supply]),
    'one entry for each supply',
    tell,
  );
  refuseTwice(
    segments.map(({ segment }, index) => [['segments', index, 'segment'], segment]),
    'one entry for each segment',
    tell,
  );
  lines.forEach(({ segments: parts }, index) => {
    checkParts(parts, ['lines', index, 'segments'], tell);
  });
  supplies.forEach(({ terminalVoltage: typical, leastTerminalVoltage: least }, index) => {
    if (least === undefined || least <= (typical ?? TYPICAL_SUPPLY_V)) return;
    const most =
      typical === undefined
        ? `at most ${TYPICAL_SUPPLY_V} V, what a supply typically gives (volume 9/2 §2.2), without terminalVoltage beside it`
        : `at most terminalVoltage, ${typical} V`;
    tell(['supplies', index, 'leastTerminalVoltage'], most);
  });
  segments.forEach((segment, index) => {
    checkSegment(segment, ['segments', index], tell, like);
  });
  const points = sum(segments.map((segment) => pointsOf(segment).size));
  if (points > MOST_POINTS) tell(['segments'], `at most ${MOST_POINTS} points of runs in all, not ${points}`);
}

function checkParts(parts: Sheet['lines'][number]['segments'], path: Path, tell: Tell): void {
  const numbers = parts.map(({ number }, index) => [[...path, index, 'number'], String(number)] as const);
  refuseTwice(numbers, 'one segment of each number', tell);
  refusePlacedTwice(parts, path, tell);
}

function checkSegment(segment: Segment, path: Path, tell: Tell, like: Like): void {
  const { fedBy = [], connected = [], measured, totalLength, farthest, places } = segment;
  checkCable(segment, path, tell);
  refuseTwice(entries(fedBy, [...path, 'fedBy']), 'each supply once', tell);
  refuseTwice(entries(connected, [...path, 'connected']), 'each device once', tell);
  const measuredAt = measured?.currents.map(
    ({ supply }, index) => [[...path, 'measured', 'currents', index, 'supply'], supply] as const,
  );
  refuseTwice(measuredAt ?? [], 'one current for each supply', tell);
  refusePlacedTwice(places, [...path, 'places'], tell);
  if (totalLength !== undefined && farthest !== undefined && farthest > totalLength) {
    tell([...path, 'farthest'], `at most totalLength, ${totalLength} m`);
  }
  checkRuns(segment, path, tell);
  checkPoints(segment, path, tell, like);
}

function checkCable(segment: Segment, path: Path, tell: Tell): void {
  const { cable, loopResistance, temperature, doubledPair, runs } = segment;
  if (cable !== undefined && loopResistance !== undefined) tell([...path, 'loopResistance'], 'nothing beside cable');
  if (cable !== undefined || loopResistance !== undefined) return;
  const bare = runs.findIndex((run) => run.cable === undefined);
  if (bare >= 0) tell([...path, 'runs', bare, 'cable'], 'a cable, here or for the whole segment');
  if (runs.length > 0) return;
  const about = temperature !== undefined ? 'temperature' : doubledPair ? 'doubledPair' : null;
  if (about !== null) tell([...path, about], 'a cable or loopResistance beside it');
}

/** Points are what the runs name. */
function pointsOf({ runs }: Segment): ReadonlySet<string> {
  return new Set(runs.flatMap(({ from, to }) => [from, to]));
}

/** Cable of a bus is a tree with a ring or two; a mesh is none, and to solve it takes time that grows with its cube. */
function checkRuns(segment: Segment, path: Path, tell: Tell): void {
  const { runs } = segment;
  runs.forEach(({ from, to }, index) => {
    if (from === to) tell([...path, 'runs', index, 'to'], 'another point than from');
  });
  const points = pointsOf(segment).size;
  if (points > MOST_RUNS) tell([...path, 'runs'], `runs between at most ${MOST_RUNS} points, not ${points}`);
  if (runs.length > points + MOST_RINGS) {
    tell([...path, 'runs'], `at most ${MOST_RINGS} runs more than points (${points}): cable of a bus is no mesh`);
  }
}

function checkPoints(segment: Segment, path: Path, tell: Tell, like: Like): void {
  const { places, planned, measured } = segment;
  const points = pointsOf(segment);
  const check = (list: readonly { readonly at?: string | undefined }[], key: Path) => {
    list.forEach(({ at }, index) => {
      if (at === undefined || points.has(at)) return;
      const isNone = points.size === 0;
      const allowed = isNone
        ? 'a point of runs, and there are none; give runs'
        : `a point of runs${like(at, () => points)}`;
      tell([...path, ...key, index, 'at'], allowed);
    });
  };
  check(places, ['places']);
  check(planned, ['planned']);
  check(measured?.voltages ?? [], ['measured', 'voltages']);
}

interface Placing {
  readonly devices: readonly string[];
  readonly locations: readonly string[];
}

function refusePlacedTwice(groups: readonly Placing[], path: Path, tell: Tell): void {
  for (const key of ['devices', 'locations'] as const) {
    const all = groups.flatMap((group, index) => entries(group[key], [...path, index, key]));
    refuseTwice(all, `each of the ${key} once`, tell);
  }
}

function entries(names: readonly string[], path: Path): (readonly [Path, string])[] {
  return names.map((name, index) => [[...path, index], name]);
}

function refuseTwice(named: readonly (readonly [Path, string])[], allowed: string, tell: Tell): void {
  const seen = new Set<string>();
  for (const [path, name] of named) {
    if (seen.has(name)) tell(path, allowed);
    seen.add(name);
  }
}
