import type { NewMainLine, Piece, PlacedDevice, SplitPlan } from '../sizing/split-plan.js';
import { toMa } from '../units.js';
import { reportChoice } from './choice.js';
import type { ReportNewMainLine, ReportPiece, ReportPlan } from './proposal-shape.js';

/** A split as the report shows it. */
export function reportPlan({ method, lowerBound, gap, torn, pieces, above }: SplitPlan): ReportPlan {
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
  };
}

/** A line to be made above new lines, without where it is. */
export function reportNewMainLine({
  line,
  couplers,
  loadUa,
  choice,
}: NewMainLine): Omit<ReportNewMainLine, 'project' | 'installation'> {
  return { line, couplers, loadMa: toMa(loadUa), choice: choice && reportChoice(choice) };
}

function reportPiece({ line, isNew, coupler, loadUa, plannedUa, places, action, choice, devices }: Piece): ReportPiece {
  return {
    line,
    isNew,
    coupler: coupler && {
      lowerMa: toMa(coupler.lowerUa),
      upperMa: toMa(coupler.upperUa),
      isIpEnabled: coupler.isIpEnabled,
      like: coupler.like?.id ?? null,
    },
    loadMa: toMa(loadUa),
    plannedMa: toMa(plannedUa),
    places,
    action,
    choice: reportChoice(choice),
    devices: devices.map(reportDevice),
  };
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
