import type { AppliedChange } from '../../changes/apply.js';
import { InputError } from '../../errors.js';
import type { Report, ReportDevice, ReportSegment } from '../report.js';
import type { Understood } from './comparison.js';

/**
 * What changes came to: what each device that came is charged with, by the later report, and each that went, by the
 * earlier one.
 * @throws InputError `invalid-changes` where a supply comes to a segment of which a site sheet states by whom it is fed
 */
export function understood(applied: readonly AppliedChange[], before: Report, after: Report): Understood[] {
  return applied.map((one) => understoodChange(one, one.change.remove === undefined ? after : before));
}

function understoodChange({ change, project, installation, devices, label, place }: AppliedChange, report: Report) {
  const segments = report.segments.filter((one) => one.project === project && one.installation === installation);
  const { segment, device } = standing(devices[0] ?? '', segments);
  const isSupply = device.role === 'supply' || device.role === 'supply and coupler';
  const unit = segments.flatMap(({ supply }) => supply.units).find(({ id }) => id === device.id);
  if (isSupply && unit === undefined && change.remove === undefined) {
    const detail = `${change.placeOf('line')}: the site sheet states what feeds ${label} (fedBy), so a supply that comes would feed nothing; take that out of the sheet to try one`;
    throw new InputError('invalid-changes', detail);
  }
  const told: Omit<Understood, 'text'> = {
    action: change.remove === undefined ? 'added' : 'removed',
    count: devices.length,
    segment: segment.label,
    product: device.product,
    productId: device.productId,
    orderNumber: device.orderNumber,
    currentMa: device.currentMa,
    origin: device.origin,
    ratedMa: unit?.ratedMa ?? null,
    location: place?.path ?? null,
  };
  const where = place === null ? '' : `, in ${place.path}${place.isNew ? ', where the archive has no device' : ''}`;
  const figure = isSupply ? ratingText(told) : currentText(device, told.count, change.current !== undefined);
  return {
    ...told,
    text: `${told.count} × ${productText(told)} ${told.action} on line ${told.segment}${where}: ${figure}`,
  };
}

/** The segment on which a device stands, and the device as it is charged there. */
function standing(id: string, segments: readonly ReportSegment[]): { segment: ReportSegment; device: ReportDevice } {
  for (const segment of segments) {
    const isOwn = ({ chargedAs }: ReportDevice) => chargedAs === null || chargedAs === 'participant';
    const device = segment.devices.find((one) => one.id === id && isOwn(one));
    if (device !== undefined) return { segment, device };
  }
  throw new Error('a device that was changed stands on no segment');
}

function productText({ product, productId, orderNumber }: Omit<Understood, 'text'>): string {
  const name = product ?? productId ?? 'device';
  return orderNumber === null ? name : `${name} (${orderNumber})`;
}

function ratingText({ ratedMa, count }: Omit<Understood, 'text'>): string {
  return ratedMa === null ? 'of no declared rating' : `rated ${ratedMa} mA${count > 1 ? ' each' : ''}`;
}

function currentText({ currentMa, origin, assumedBecause }: ReportDevice, count: number, isGiven: boolean): string {
  if (currentMa === null || origin === null) return 'no load on the bus';
  const from = { declared: 'declared', overridden: 'set by the policy', assumed: `assumed (${assumedBecause})` };
  return `${currentMa} mA${count > 1 ? ' each' : ''}, ${isGiven && origin === 'declared' ? 'as the change says' : from[origin]}`;
}
