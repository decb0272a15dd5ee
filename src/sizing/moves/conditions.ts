import { type Segment, segmentLabel } from '../../plant/plant.js';
import { toMa } from '../../units.js';
import type { Sized, SizingWords } from '../sized.js';
import type { Moves } from './moves.js';
import type { Target } from './targets.js';

/** Between which segments devices move, and what the sheet says of these. */
interface Between extends Pick<Sized, 'site' | 'policy' | 'words'> {
  readonly from: Segment;
  readonly target: Target;
}

type Texts = SizingWords['sizing']['moves'];

/** What a move depends on, in words: what no figure decides, and what else changes with it. */
export function conditionsOf(moves: Omit<Moves, 'conditions'>, between: Between): string[] {
  const texts = between.words.sizing.moves;
  return [
    ...nearnessTexts(moves, texts),
    ...addressTexts(moves, between.from, texts),
    ...assumedTexts(moves, texts),
    ...thereTexts(moves, between),
  ];
}

function nearnessTexts({ nearness, to }: Omit<Moves, 'conditions'>, { notNear, near, relay }: Texts): string[] {
  const segment = segmentLabel(to);
  return [nearness === 'electrically possible' ? notNear(segment) : near({ segment, nearness }), relay(segment)];
}

function addressTexts({ to }: Omit<Moves, 'conditions'>, from: Segment, { sameLine, otherLine }: Texts): string[] {
  return [to.line === from.line ? sameLine(to.line.address) : otherLine];
}

function assumedTexts(moves: Omit<Moves, 'conditions'>, { assumed }: Texts): string[] {
  const { devices, movedUa, assumedDevices, assumedUa } = moves;
  if (assumedDevices === 0) return [];
  const [assumedMa, movedMa] = [toMa(assumedUa), toMa(movedUa)];
  return [assumed({ assumed: assumedDevices, devices: devices.length, assumedMa, movedMa })];
}

function thereTexts(
  { to, devices, isVoltageOpen }: Omit<Moves, 'conditions'>,
  { from, target, site, policy, words }: Between,
): string[] {
  const texts = words.sizing.moves;
  const segment = segmentLabel(to);
  const [left, there] = [site?.segments.get(from.id), site?.segments.get(to.id)];
  const participants = target.placesUsed + devices.length;
  const isOnlyFromCritical = left?.isCritical === true && there?.isCritical !== true;
  const isBeyondClassic = participants > policy.devicesClassic;
  return [
    ...(isBeyondClassic ? [texts.newerType({ segment, participants })] : []),
    ...(isVoltageOpen ? [texts.noVoltages(segment)] : []),
    ...(there?.holdUp ? [texts.holdUp(segment)] : []),
    ...(isOnlyFromCritical ? [texts.fromCritical({ from: segmentLabel(from), to: segment })] : []),
  ];
}

/** @param sources all segments of which devices could move to one, this one among them */
export function rivalTexts(from: Segment, to: Segment, sources: readonly Segment[], { sizing }: SizingWords): string[] {
  const other = sources.find((one) => one !== from);
  if (other === undefined) return [];
  const [ofOther, toHere] = [segmentLabel(other), segmentLabel(to)];
  return [sizing.moves.rivals({ other: ofOther, more: sources.length - 2, to: toHere })];
}
