import { deviceLabel } from '../../plant/plant.js';
import { count, list, milliamps } from '../../rules/words.js';
import type { ReportMoves } from '../proposal-shape.js';
import type { ReportSegment } from '../report.js';
import { bullet } from './layout.js';

const MOST_NAMED = 12;

/**
 * Devices that could be moved instead; to a segment that may be anywhere only where no supplies serve.
 * @param labels of segments, by id
 */
export function movesText({ devices, proposal }: ReportSegment, labels: ReadonlyMap<string, string>): string[] {
  const { moves } = proposal;
  if (moves === null || (moves.nearness === 'electrically possible' && proposal.choice !== null)) return [];
  const byId = new Map(devices.map((device) => [device.id, deviceLabel(device)]));
  const names = list(
    moves.devices.map((id) => byId.get(id) ?? id),
    MOST_NAMED,
  );
  const what = `move ${count(moves.devices.length, 'device')} (${names}), ${milliamps(moves.movedMa)}`;
  const where = `to line ${labels.get(moves.to) ?? moves.to}, ${nearText(moves)}`;
  const left = `${milliamps(moves.leftMa)} left to the target here, ${milliamps(moves.leftThereMa)} there`;
  const fewer = moves.isLeast ? '' : ' Fewer devices might do; that was too much to work out.';
  const isNear = moves.nearness !== 'electrically possible';
  return [
    bullet('    Or:', `${what} ${where}; ${left}.${fewer}`),
    ...(isNear ? moves.conditions.map((condition) => bullet('    Mind:', condition)) : []),
  ];
}

function nearText({ nearness, sharedPlaces }: ReportMoves): string {
  if (nearness === 'electrically possible')
    return 'which is electrically possible only: no place that they share is known';
  return `on the ${nearness} (${list(sharedPlaces)})`;
}
