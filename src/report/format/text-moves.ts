import { deviceLabel } from '../../plant/plant.js';
import type { Words } from '../../words/words.js';
import type { ReportMoves } from '../proposal-shape.js';
import type { ReportSegment } from '../report.js';
import { bullet } from './layout.js';

/**
 * Devices that could be moved instead; to a segment that may be anywhere only where no supplies serve.
 * @param labels of segments, by id
 */
export function movesText(
  { devices, proposal }: ReportSegment,
  labels: ReadonlyMap<string, string>,
  words: Words,
): string[] {
  const { moves } = proposal;
  if (moves === null || (moves.nearness === 'electrically possible' && proposal.choice !== null)) return [];
  const texts = words.proposals;
  const byId = new Map(devices.map((device) => [device.id, deviceLabel(device)]));
  const move = texts.moves.move({
    devices: moves.devices.map((id) => byId.get(id) ?? id),
    movedMa: moves.movedMa,
    to: labels.get(moves.to) ?? moves.to,
    near: nearText(moves, words),
  });
  const left = texts.moves.left({ hereMa: moves.leftMa, thereMa: moves.leftThereMa });
  const fewer = moves.isLeast ? '' : ` ${texts.moves.fewer}`;
  const isNear = moves.nearness !== 'electrically possible';
  return [
    bullet(`    ${texts.or}`, `${move}; ${left}.${fewer}`),
    ...(isNear ? moves.conditions.map((condition) => bullet(`    ${texts.mind}`, condition)) : []),
  ];
}

function nearText({ nearness, sharedPlaces }: ReportMoves, { proposals }: Words): string {
  const { near, notNear } = proposals.moves;
  return nearness === 'electrically possible' ? notNear : near({ nearness, places: sharedPlaces });
}
