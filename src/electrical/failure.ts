import type { Segment } from '../plant/plant.js';
import { sum } from '../units.js';
import { type FeedGroup, partsWith } from './feed-group.js';

/** What a segment is left with once some supplies have failed. */
export interface AfterFailure {
  /** The segments whose load is held together against what is left; the one in question among them. */
  readonly segments: readonly Segment[];
  readonly loadUa: number;
  readonly leftUa: number;
}

/**
 * Holds the load of a segment, with those of the others that it shares supplies with, against the supplies that have not
 * failed. Segments that then have none are dead and draw nothing. Of the parts of the group that are left (see
 * {@link partsWith}) the one that lacks most counts.
 * @param failed ids of supplies' devices
 * @param loadOf what a segment is charged with, µA
 * @returns null if the group shares more supplies than can be gone through
 */
export function afterFailure(
  segment: Segment,
  { segments }: FeedGroup,
  failed: ReadonlySet<string>,
  loadOf: (segment: Segment) => number,
): AfterFailure | null {
  const whole = new Map(segments.map((one) => [one.id, one]));
  const left = segments.map((one) => ({
    ...one,
    supplies: one.supplies.filter(({ device }) => !failed.has(device.id)),
  }));
  const own = left.find(({ id }) => id === segment.id);
  if (own === undefined || own.supplies.length === 0) {
    return { segments: [segment], loadUa: loadOf(segment), leftUa: 0 };
  }
  const alive = left.filter(({ supplies }) => supplies.length > 0);
  const supplies = [...new Map(alive.flatMap((one) => one.supplies).map((one) => [one.device.id, one])).values()];
  const parts = partsWith(own, { segments: alive, supplies });
  if (parts === null) return null;
  const held = parts.map((part): AfterFailure => {
    const carried = part.segments.flatMap(({ id }) => whole.get(id) ?? []);
    return {
      segments: carried,
      loadUa: sum(carried.map(loadOf)),
      leftUa: sum(part.supplies.map(({ ratingUa }) => ratingUa ?? 0)),
    };
  });
  return held.reduce((worst, one) => (one.loadUa - one.leftUa > worst.loadUa - worst.leftUa ? one : worst));
}
