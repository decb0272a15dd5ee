import type { Device, Segment, Supply } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import { whereOf } from '../sizing/where.js';

/** Where a supply that is there stands: on the board that the site sheet names, else in its place in the building. */
export function presentPlace({ device }: Supply, of: readonly Segment[], site: Site | null): string {
  return boardOf(device, site) ?? whereOf(device) ?? areaOf(of);
}

/**
 * Where a supply that is bought for segments is to go: to the board of one that feeds them now, else to its place, else
 * to where most of their devices are, else anywhere in the area.
 */
export function boughtPlace(
  segments: readonly Segment[],
  site: Site | null,
  devices = segments.flatMap((segment) => segment.devices),
): string {
  const supplies = segments.flatMap((segment) => segment.supplies.map(({ device }) => device));
  return (
    firstOf(supplies.map((device) => boardOf(device, site))) ??
    firstOf(supplies.map(whereOf)) ??
    mostAt(devices, site) ??
    areaOf(segments)
  );
}

/** Where most of some devices are; null where none of them is anywhere. */
export function mostAt(devices: readonly Device[], site: Site | null): string | null {
  return commonest(devices.map((device) => boardOf(device, site) ?? whereOf(device)));
}

function boardOf({ id }: Device, site: Site | null): string | null {
  return site?.supplies.get(id)?.board ?? null;
}

function firstOf(places: readonly (string | null)[]): string | null {
  return places.find((place) => place !== null) ?? null;
}

/** The place that comes most often, of several the first by name; null where there is none. */
function commonest(places: readonly (string | null)[]): string | null {
  const counts = new Map<string, number>();
  for (const place of places) if (place !== null) counts.set(place, (counts.get(place) ?? 0) + 1);
  const [first] = [...counts].sort(([a, of], [b, ofOther]) => ofOther - of || (a < b ? -1 : 1));
  return first?.[0] ?? null;
}

function areaOf([segment]: readonly Segment[]): string {
  return `area ${segment?.line.areaAddress}`;
}
