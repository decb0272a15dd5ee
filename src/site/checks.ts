import type { z } from 'zod';
import { Nearest, nearestText } from '../documents/nearest.js';
import { quoted } from '../errors.js';
import type { LINE, SEGMENT, SUPPLY } from './shapes.js';

/** What the parts of a sheet cannot say together, whatever the archive. */

type Path = readonly (string | number)[];
type Tell = (path: Path, allowed: string) => void;
type Segment = z.infer<typeof SEGMENT>;

interface Sheet {
  readonly lines: readonly z.infer<typeof LINE>[];
  readonly supplies: readonly z.infer<typeof SUPPLY>[];
  readonly segments: readonly Segment[];
}

/** Holds the parts of a sheet against each other. */
export function checkSheet({ lines, supplies, segments }: Sheet, context: z.RefinementCtx): void {
  const tell: Tell = (path, message) => context.addIssue({ code: 'custom', message, path: [...path] });
  const nearest = new Nearest();
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
    if (typical === undefined || least === undefined || least <= typical) return;
    tell(['supplies', index, 'leastTerminalVoltage'], `at most terminalVoltage, ${typical} V`);
  });
  segments.forEach((segment, index) => {
    checkSegment(segment, ['segments', index], tell, nearest);
  });
}

function checkParts(parts: Sheet['lines'][number]['segments'], path: Path, tell: Tell): void {
  const numbers = parts.map(({ number }, index) => [[...path, index, 'number'], String(number)] as const);
  refuseTwice(numbers, 'one segment of each number', tell);
  refusePlacedTwice(parts, path, tell);
}

function checkSegment(segment: Segment, path: Path, tell: Tell, nearest: Nearest): void {
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
  checkPoints(segment, path, tell, nearest);
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
function checkPoints(segment: Segment, path: Path, tell: Tell, nearest: Nearest): void {
  const { runs, places, planned, measured } = segment;
  const points = new Set(runs.flatMap(({ from, to }) => [from, to]));
  runs.forEach(({ from, to }, index) => {
    if (from === to) tell([...path, 'runs', index, 'to'], 'another point than from');
  });
  const check = (list: readonly { readonly at?: string | undefined }[], key: Path) => {
    list.forEach(({ at }, index) => {
      if (at === undefined || points.has(at)) return;
      const like = nearestText(nearest.to(at, () => points).map(quoted));
      const allowed = points.size === 0 ? 'a point of runs, and there are none; give runs' : `a point of runs${like}`;
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
