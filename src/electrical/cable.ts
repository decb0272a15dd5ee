import type { Layout, SegmentSite } from '../site/site.js';
import { sum } from '../units.js';
import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import {
  type Bounds,
  boundsOf,
  chokesApart,
  type Drawing,
  deviceToDevice,
  type Placing,
  supplyToDevice,
  toMm,
  UNKNOWN,
} from './cable-bounds.js';
import { piecesOf } from './distances.js';

/** The lengths that the standard bounds, as narrowly as the sheet admits. */
export interface CableFigures {
  /** All cable: the runs, or the length that the sheet gives if that is greater. */
  readonly totalM: Bounds;
  /** Greatest distance of a device from its nearest supply. */
  readonly supplyToDeviceM: Bounds;
  /** Greatest distance between two devices. */
  readonly deviceToDeviceM: Bounds;
  /** Least distance between two supplies with chokes of their own; null where there are not two. */
  readonly chokesApartM: Bounds | null;
  /** What would make the bounds narrower, in words. */
  readonly wanted: readonly string[];
}

export interface CableInput {
  readonly site: SegmentSite;
  readonly deviceIds: readonly string[];
  readonly supplyIds: readonly string[];
  /** Central supplies with a choke of their own. */
  readonly chokedSupplyIds: readonly string[];
  /** For what is wanted; English where none are given. */
  readonly words?: Words;
}

/** Of so many points is it told that no run joins them to the rest; one says what is wrong, hundreds bury it. */
const POINTS_NAMED = 3;

/**
 * The lengths of a segment's cable. Distances are those along the runs, where there are any; cable that is in no run
 * is taken to hang on them somewhere. Whole millimetres.
 */
export function cableFiguresOf(input: CableInput): CableFigures {
  const { layout } = input.site;
  const drawing = layout && drawingOf(layout, input);
  return {
    totalM: totalOf(input.site),
    supplyToDeviceM: supplyToDeviceOf(input, drawing),
    deviceToDeviceM: deviceToDeviceOf(input, drawing),
    chokesApartM: chokesApartOf(input, drawing),
    wanted: drawing ? wantedOf(drawing, input) : wantedWithoutLayout(input),
  };
}

/** Sum of the runs, m. */
export function totalLengthM(layout: Layout): number {
  return sum(layout.runs.map(({ lengthM }) => lengthM));
}

/** Points to which one run leads, in their order. */
export function deadEnds({ points, runs }: Layout): number[] {
  const runsAt = points.map(() => 0);
  for (const end of runs.flatMap(({ from, to }) => [from, to])) runsAt[end] = (runsAt[end] ?? 0) + 1;
  return [...points.keys()].filter((point) => runsAt[point] === 1);
}

function totalOf({ layout, totalLengthM: saidM }: SegmentSite): Bounds {
  if (layout === null) return saidM === null ? UNKNOWN : boundsOf(saidM, saidM);
  const totalM = Math.max(saidM ?? 0, totalLengthM(layout));
  return boundsOf(totalM, totalM);
}

function drawingOf(layout: Layout, { site, deviceIds, supplyIds, chokedSupplyIds }: CableInput): Drawing {
  return {
    layout,
    pieces: piecesOf(layout),
    devices: placingOf(layout, deviceIds),
    supplies: placingOf(layout, supplyIds),
    choked: placingOf(layout, chokedSupplyIds),
    undrawnM: toMm(Math.max(0, (site.totalLengthM ?? 0) - totalLengthM(layout))),
  };
}

function placingOf({ pointOf }: Layout, ids: readonly string[]): Placing {
  const points = ids.flatMap((id) => pointOf.get(id) ?? []);
  return { points, unplaced: ids.length - points.length };
}

/** The sheet's own figure counts where the layout leaves room for it; not below what the layout proves. */
function supplyToDeviceOf({ site, deviceIds, supplyIds }: CableInput, drawing: Drawing | null): Bounds {
  if (deviceIds.length === 0 || supplyIds.length === 0) return UNKNOWN;
  const { farthestM } = site;
  const drawn = drawing ? supplyToDevice(drawing) : upTo(site.totalLengthM);
  if (farthestM === null || (drawn.leastM !== null && drawn.leastM === drawn.mostM)) return drawn;
  return boundsOf(Math.max(farthestM, drawn.leastM ?? 0), farthestM);
}

/** From one device to another it is no farther than past the supply, which is certain where there is only one. */
function deviceToDeviceOf({ site, deviceIds, supplyIds }: CableInput, drawing: Drawing | null): Bounds {
  if (deviceIds.length < 2) return UNKNOWN;
  const overSupplyM = supplyIds.length === 1 && site.farthestM !== null ? 2 * site.farthestM : Number.POSITIVE_INFINITY;
  if (drawing) return deviceToDevice(drawing, overSupplyM);
  const mostM = Math.min(site.totalLengthM ?? Number.POSITIVE_INFINITY, overSupplyM);
  return upTo(Number.isFinite(mostM) ? mostM : null);
}

function chokesApartOf({ site, chokedSupplyIds }: CableInput, drawing: Drawing | null): Bounds | null {
  if (chokedSupplyIds.length < 2) return null;
  return drawing ? chokesApart(drawing) : upTo(site.totalLengthM);
}

function upTo(mostM: number | null): Bounds {
  return mostM === null ? UNKNOWN : boundsOf(0, mostM);
}

function wantedOf(drawing: Drawing, { deviceIds, supplyIds, words = EN }: CableInput): string[] {
  const { devices, supplies, undrawnM } = drawing;
  const { cable } = words.site;
  const wanted: string[] = [];
  if (devices.unplaced > 0) wanted.push(cable.devices({ unplaced: devices.unplaced, all: deviceIds.length }));
  if (supplies.unplaced > 0) wanted.push(cable.supplies({ unplaced: supplies.unplaced, all: supplyIds.length }));
  if (undrawnM > 0) wanted.push(cable.undrawn(undrawnM));
  return [...wanted, ...unjoined(drawing, words)];
}

/** With all supplies placed it is told what none of them reaches; else what is apart from the first point. */
function unjoined({ layout, pieces, supplies }: Drawing, { site: { cable } }: Words): string[] {
  if (pieces.length < 2) return [];
  const supplied = new Set(supplies.points);
  const areKnown = supplied.size > 0 && supplies.unplaced === 0;
  const apart = areKnown ? pieces.filter(({ points }) => !points.some((point) => supplied.has(point))) : [];
  const target = apart.length > 0 ? cable.aSupply : cable.point(layout.points[0] ?? '');
  const firsts = (apart.length > 0 ? apart : pieces.slice(1)).flatMap(({ points }) => points.slice(0, 1));
  const named = firsts
    .slice(0, POINTS_NAMED)
    .map((point) => cable.unjoined({ point: layout.points[point] ?? '', target }));
  const further = firsts.length - named.length;
  return further > 0 ? [...named, cable.furtherParts(further)] : named;
}

function wantedWithoutLayout({ site, words = EN }: CableInput): string[] {
  const { cable } = words.site;
  const wanted = [cable.runs];
  if (site.farthestM === null) wanted.push(cable.farthest);
  if (site.totalLengthM === null) wanted.push(cable.total);
  return wanted;
}
