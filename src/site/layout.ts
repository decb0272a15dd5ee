import { BASE_TEMPERATURE_C, cableNamed, type KnownCable, ohmPerKmAt } from './cables.js';
import type { SheetSegment } from './sheet.js';
import type { Cable, Layout, Run } from './site.js';

/** The cable that the sheet gives for a whole segment, null if it gives none. @param place where the entry stands */
export function cableOf(entry: SheetSegment, place: string): Cable | null {
  const { cable, loopResistance, temperature = BASE_TEMPERATURE_C, doubledPair } = entry;
  const conditions = { temperatureC: temperature, pairs: pairsOf(doubledPair) };
  if (cable !== undefined) return { ...tabled(cable), ...conditions };
  if (loopResistance === undefined) return null;
  const source = `set by hand in the site sheet (${place}.loopResistance)`;
  return { name: null, loopOhmPerKm: loopResistance, source, ...conditions };
}

/**
 * The runs of a segment between their points, with the resistance of each.
 * @param pointOf names of the points by the id of what sits there
 * @returns null where the sheet gives no runs
 */
export function layoutOf(
  entry: SheetSegment,
  cable: Cable | null,
  pointOf: ReadonlyMap<string, string>,
): Layout | null {
  if (entry.runs.length === 0) return null;
  const points = [...new Set(entry.runs.flatMap(({ from, to }) => [from, to]))];
  const position = positions(points);
  return {
    points,
    runs: entry.runs.map((run): Run => {
      const { from, to, length: lengthM } = run;
      const ohm = (lengthM / 1000) * ohmPerKmOf(run, entry, cable);
      return { from: position(from), to: position(to), lengthM, ohm };
    }),
    pointOf: new Map([...pointOf].map(([device, point]) => [device, position(point)])),
  };
}

function ohmPerKmOf(run: SheetSegment['runs'][number], entry: SheetSegment, cable: Cable | null): number {
  const { loopOhmPerKm } = run.cable === undefined ? present(cable, 'a cable for the run') : tabled(run.cable);
  const pairs = pairsOf(run.doubledPair ?? entry.doubledPair);
  return ohmPerKmAt(loopOhmPerKm, entry.temperature ?? BASE_TEMPERATURE_C, pairs);
}

/** Where points are in the list of them. The shape of the sheet has it that each is there. */
export function positions(points: readonly string[]): (point: string) => number {
  const at = new Map(points.map((point, index) => [point, index]));
  return (point) => present(at.get(point), point);
}

function pairsOf(isDoubled: boolean): 1 | 2 {
  return isDoubled ? 2 : 1;
}

function tabled(name: string): KnownCable {
  return present(cableNamed(name), name);
}

/** What the checks of the sheet have seen to. */
function present<T>(found: T | null | undefined, what: string): T {
  if (found === null || found === undefined) throw new Error(`the checked sheet lacks ${what}`);
  return found;
}
