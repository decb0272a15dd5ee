import { segmentLabel } from '../plant/plant.js';
import type { NewCoupler, NewMainLine, Piece, PlacedDevice, SplitPlan } from '../sizing/split-plan.js';
import { toMa } from '../units.js';
import { reportChoice } from './choice.js';
import type { ReportNewMainLine, ReportPiece, ReportPlan } from './proposal-shape.js';

/** A split as the report shows it. */
export function reportPlan({ method, lowerBound, gap, torn, pieces, above, beside }: SplitPlan): ReportPlan {
  return {
    method,
    lowerBound,
    gap: { segments: gap.segments, torn: gap.torn, evenMa: toMa(gap.evenUa) },
    torn,
    pieces: pieces.map(reportPiece),
    above: {
      line: above.line,
      kind: above.kind,
      couplers: { count: above.couplers, ma: toMa(above.couplersUa) },
    },
    beside: beside && { segment: beside.segment.id, coupler: reportCoupler(beside.coupler) },
  };
}

/** A line to be made above new lines, without where it is. */
export function reportNewMainLine({
  line,
  couplers,
  loadUa,
  plannedUa,
  choice,
}: NewMainLine): Omit<ReportNewMainLine, 'project' | 'installation'> {
  return { line, couplers, loadMa: toMa(loadUa), plannedMa: toMa(plannedUa), choice: choice && reportChoice(choice) };
}

function reportPiece({
  line,
  segment,
  isNew,
  coupler,
  loadUa,
  plannedUa,
  places,
  action,
  choice,
  devices,
}: Piece): ReportPiece {
  return {
    line,
    label: segment === null ? line : segmentLabel(segment),
    segment: segment?.id ?? null,
    isNew,
    coupler: coupler && reportCoupler(coupler),
    loadMa: toMa(loadUa),
    plannedMa: toMa(plannedUa),
    places,
    action,
    choice: reportChoice(choice),
    devices: devices.map(reportDevice),
  };
}

function reportCoupler({ lowerUa, upperUa, isIpEnabled, like }: NewCoupler): NonNullable<ReportPiece['coupler']> {
  return { lowerMa: toMa(lowerUa), upperMa: toMa(upperUa), isIpEnabled, like: like?.id ?? null };
}

function reportDevice({ device, address, additionalAddresses }: PlacedDevice): ReportPiece['devices'][number] {
  const { id, name } = device;
  return {
    id,
    name,
    address: device.address,
    proposedAddress: address,
    proposedAdditionalAddresses: [...additionalAddresses],
  };
}
