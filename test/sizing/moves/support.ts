import { segmentLabel } from '../../../src/plant/plant.js';
import type { Moves } from '../../../src/sizing/moves/moves.js';
import { movesOf } from '../../../src/sizing/moves/search.js';
import { toMa } from '../../../src/units.js';
import { consumer, contextOf, type DeviceSpec, type PlantSpec, supply } from '../../support/plants.js';

/** The moves of a plant by the label of the segment that devices leave. */
export function movesIn(plant: PlantSpec): ReadonlyMap<string, Moves> {
  return new Map([...movesOf(contextOf(plant))].map(([from, moves]) => [segmentLabel(from), moves]));
}

/** A move in words and mA; null where there is none. */
export function told(plant: PlantSpec, label = '1.1') {
  const moves = movesIn(plant).get(label);
  if (moves === undefined) return null;
  const { nearness, to, devices, movedUa, leftUa, marginThereUa } = moves;
  return {
    nearness,
    to: segmentLabel(to),
    devices: devices.map(({ address }) => address),
    mA: [movedUa, leftUa, marginThereUa].map(toMa),
  };
}

/** A supply and devices of these currents, addresses from 1 on; each in a place where one is given. */
export function fed(
  ratingMa: number | readonly number[],
  currentsMa: readonly number[],
  places: readonly string[] = [],
) {
  const ratings = typeof ratingMa === 'number' ? [ratingMa] : ratingMa;
  return [...ratings.map((ma) => supply(ma)), ...currentsMa.map((ma, at) => consumer(at + 1, ma, placeOf(places[at])))];
}

function placeOf(path: string | undefined): Partial<DeviceSpec> {
  return path === undefined ? {} : { places: path.split(' / ') };
}

/** Lines 1.1, 1.2, … of one segment each. */
export function lines(...devices: readonly (readonly DeviceSpec[])[]): Pick<PlantSpec, 'lines'> {
  return { lines: devices.map((segment, at) => ({ line: `1.${at + 1}`, segments: [segment] })) };
}
