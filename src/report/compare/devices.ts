import { deviceLabel } from '../../plant/plant.js';
import { withoutInstallation } from '../fingerprint.js';
import type { ReportDevice } from '../report.js';
import type { DeviceSide, SegmentChange } from './comparison.js';
import { type Pair, pairUp, passBy } from './pair-up.js';

export type DeviceChanges = Pick<SegmentChange, 'devicesAdded' | 'devicesRemoved' | 'devicesChanged'>;

/** By the archive's id; where that has changed, by address and product. */
const PASSES = [
  passBy<ReportDevice>('identity', ({ id }) => withoutInstallation(id)),
  passBy<ReportDevice>('line number', ({ address, productId }) =>
    address === null && productId === null ? null : `${address ?? '-'} ${productId ?? '-'}`,
  ),
];

/** What came, went and changed among the devices of one segment. */
export function compareDevices(old: readonly ReportDevice[], fresh: readonly ReportDevice[]): DeviceChanges {
  const { pairs, onlyOld, onlyNew } = pairUp(old, fresh, PASSES);
  return {
    devicesAdded: onlyNew.map(deviceSide),
    devicesRemoved: onlyOld.map(deviceSide),
    devicesChanged: pairs
      .filter(isChanged)
      .map((pair) => ({ matchedBy: pair.matchedBy, old: deviceSide(pair.old), new: deviceSide(pair.new) })),
  };
}

function isChanged({ old, new: fresh }: Pair<ReportDevice>): boolean {
  return old.currentMa !== fresh.currentMa || old.productId !== fresh.productId;
}

function deviceSide(device: ReportDevice): DeviceSide {
  const { product, productId, currentMa } = device;
  return { label: deviceLabel(device), product, productId, currentMa };
}
