import { type Segment, segmentLabel } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import type { Site } from '../../site/site.js';
import { toMa } from '../../units.js';
import type { Moves } from './moves.js';
import type { Target } from './targets.js';

/** Between which segments devices move, and what the sheet says of these. */
interface Between {
  readonly from: Segment;
  readonly target: Target;
  readonly site: Site | null;
  readonly policy: Policy;
}

/** What a move depends on, in words: what no figure decides, and what else changes with it. */
export function conditionsOf(moves: Omit<Moves, 'conditions'>, between: Between): string[] {
  return [
    ...nearnessTexts(moves),
    ...addressTexts(moves, between),
    ...assumedTexts(moves),
    ...thereTexts(moves, between),
  ];
}

function nearnessTexts({ nearness, to }: Omit<Moves, 'conditions'>): string[] {
  const there = `the cable of line ${segmentLabel(to)}`;
  return [
    nearness === 'electrically possible'
      ? `Only electrically possible: nothing in the archive says that ${there} comes near.`
      : `By the places that are named ${there} comes to the ${nearness}; by which way is for the site to tell.`,
    `Cable is to be re-laid: each of the devices is taken off its cable and connected to that of line ${segmentLabel(to)}.`,
  ];
}

function addressTexts({ to }: Omit<Moves, 'conditions'>, { from }: Between): string[] {
  if (to.line === from.line) return [`The devices stay on line ${to.line.address}, so they keep their addresses.`];
  return [
    'A device that moves to another line gets another individual address and has to be loaded again. New addresses are not proposed here, as group communication and filter tables change with them.',
  ];
}

function assumedTexts({ devices, movedUa, assumedDevices, assumedUa }: Omit<Moves, 'conditions'>): string[] {
  if (assumedDevices === 0) return [];
  return [
    `Of ${assumedDevices} of the ${devices.length} devices the current is assumed, ${toMa(assumedUa)} of ${toMa(movedUa)} mA: their data sheets come first.`,
  ];
}

function thereTexts(
  { to, devices, isVoltageOpen }: Omit<Moves, 'conditions'>,
  { from, target, site, policy }: Between,
): string[] {
  const label = segmentLabel(to);
  const [left, there] = [site?.segments.get(from.id), site?.segments.get(to.id)];
  const participants = target.placesUsed + devices.length;
  const isOnlyFromCritical = left?.isCritical === true && there?.isCritical !== true;
  const isBeyondClassic = participants > policy.devicesClassic;
  return [
    ...(isBeyondClassic
      ? [`Line ${label} then has ${participants} participants with those planned: all have to be of the newer type.`]
      : []),
    ...(isVoltageOpen
      ? [`Voltages of line ${label} after the move are not known: no point of its cable is known for the devices.`]
      : []),
    ...(there?.holdUp ? [`The hold-up of line ${label} is to be worked out again with these devices.`] : []),
    ...(isOnlyFromCritical
      ? [`The site sheet has line ${segmentLabel(from)} as critical and line ${label} not: what has to run on stays.`]
      : []),
  ];
}

/** @param sources all segments of which devices could move to one, this one among them */
export function rivalTexts(from: Segment, to: Segment, sources: readonly Segment[]): string[] {
  const other = sources.find((one) => one !== from);
  if (other === undefined) return [];
  const more = sources.length === 2 ? '' : ` and of ${sources.length - 2} more`;
  return [
    `Devices of line ${segmentLabel(other)}${more} could move to line ${segmentLabel(to)} as well; each of these moves is reckoned without the others.`,
  ];
}
