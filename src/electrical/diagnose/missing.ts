import { deviceLabel } from '../../plant/plant.js';
import type { ExpectedInput } from '../expected.js';
import { supplyLeeway } from './fit.js';
import { mostPlaces, mostRuns, placesOf } from './places.js';
import type { Reading } from './reading.js';
import { isLaid } from './worked.js';

/** What keeps causes from being computed, or told apart better, in words. */
export function missingFor(plan: ExpectedInput, readings: readonly Reading[]): string[] {
  const { segment, entry, site } = plan;
  if (segment.supplies.length === 0) return ['which supply feeds the segment'];
  return [
    ...(readings.length === 0 ? ['what the supply delivers at most'] : []),
    ...(isLaid(plan) ? placesMissing(plan) : runsMissing(plan)),
    ...(supplyLeeway(plan).low === supplyLeeway(plan).high ? [] : ['the voltage at the terminals of the supplies']),
    ...segment.supplies
      .filter(({ device, ratingUa }) => (site.supplies.get(device.id)?.limitUa ?? ratingUa) === null)
      .map(({ device }) => `what ${deviceLabel(device)} delivers at most`),
    ...boundsMet(plan, entry.layout?.runs.length ?? 0),
  ];
}

function runsMissing({ entry }: ExpectedInput): string[] {
  if (entry.layout !== null) return ['where the supplies sit'];
  const lengths = entry.farthestM === null && entry.totalLengthM === null ? ['the length of the cable'] : [];
  return ['the runs of the cable, and where devices and supplies sit', ...lengths];
}

function placesMissing({ segment, entry }: ExpectedInput): string[] {
  const unplaced = segment.loads.filter(({ device }) => !entry.layout?.pointOf.has(device.id)).length;
  return unplaced === 0 ? [] : [`where ${unplaced} of ${segment.loads.length} devices sit`];
}

function boundsMet(plan: ExpectedInput, runs: number): string[] {
  if (!isLaid(plan)) return [];
  const furtherPoints = placesOf(plan, true).length - mostPlaces(plan);
  const furtherRuns = runs - mostRuns(plan);
  return [
    ...(furtherPoints > 0 ? [`faults at ${furtherPoints} points between those that were gone through`] : []),
    ...(furtherRuns > 0 ? [`breaks in ${furtherRuns} runs between those that were gone through`] : []),
  ];
}
