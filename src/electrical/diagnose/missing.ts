import { deviceLabel } from '../../plant/plant.js';
import { supplyLeeway } from './fit.js';
import { mostPlaces, mostRuns, placesOf } from './places.js';
import type { Reading } from './reading.js';
import type { ToldInput } from './target.js';
import { isLaid } from './worked.js';

/** What keeps causes from being computed, or told apart better, in words. */
export function missingFor(plan: ToldInput, readings: readonly Reading[]): string[] {
  const { segment, entry, site } = plan;
  const { missing } = plan.words.diagnosis;
  if (segment.supplies.length === 0) return [missing.feed];
  return [
    ...(readings.length === 0 ? [missing.limit] : []),
    ...(isLaid(plan) ? placesMissing(plan) : runsMissing(plan)),
    ...(supplyLeeway(plan).low === supplyLeeway(plan).high ? [] : [missing.terminals]),
    ...segment.supplies
      .filter(({ device, ratingUa }) => (site.supplies.get(device.id)?.limitUa ?? ratingUa) === null)
      .map(({ device }) => missing.limitOf(deviceLabel(device))),
    ...boundsMet(plan, entry.layout?.runs.length ?? 0),
  ];
}

function runsMissing({ entry, words }: ToldInput): string[] {
  const { missing } = words.diagnosis;
  if (entry.layout !== null) return [missing.supplyPlaces];
  const lengths = entry.farthestM === null && entry.totalLengthM === null ? [missing.length] : [];
  return [missing.runs, ...lengths];
}

function placesMissing({ segment, entry, words }: ToldInput): string[] {
  const unplaced = segment.loads.filter(({ device }) => !entry.layout?.pointOf.has(device.id)).length;
  return unplaced === 0 ? [] : [words.site.cable.devices({ unplaced, all: segment.loads.length })];
}

function boundsMet(plan: ToldInput, runs: number): string[] {
  if (!isLaid(plan)) return [];
  const { missing } = plan.words.diagnosis;
  const furtherPoints = placesOf(plan, true).length - mostPlaces(plan);
  const furtherRuns = runs - mostRuns(plan);
  return [
    ...(furtherPoints > 0 ? [missing.furtherPoints(furtherPoints)] : []),
    ...(furtherRuns > 0 ? [missing.furtherRuns(furtherRuns)] : []),
  ];
}
