import type { Balance } from '../electrical/balance.js';
import type { Device, Load, Medium, Segment, Supply } from '../plant/plant.js';
import { segmentLabel } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import type { Proposal } from '../sizing/proposal.js';
import { toMa, toMaOrNull } from '../units.js';
import type { Words } from '../words/words.js';
import { reportOnSite } from './on-site.js';
import { reportProposal } from './proposal.js';
import type { ReportDevice, ReportSegment } from './report.js';

/** Of what a segment is, and what is known of it from outside the archive. */
interface Around {
  /** Id. */
  readonly project: string;
  /** Number. */
  readonly installation: number;
  readonly site: Site | null;
  readonly words: Words;
}

/** A segment as the report shows it. */
export function reportSegment(
  balance: Balance,
  proposal: Proposal,
  { project, installation, site, words }: Around,
): ReportSegment {
  const { segment, capacity, fanIn } = balance;
  return {
    id: segment.id,
    project,
    installation,
    line: segment.line.address,
    lineName: segment.line.name,
    number: segment.number,
    name: segment.name,
    label: segmentLabel(segment),
    medium: reportMedium(segment.medium),
    boundariesKnown: segment.boundariesKnown,
    verdict: balance.verdict,
    load: reportLoad(balance),
    supply: reportSupplies(balance, site),
    utilisation: balance.utilisation,
    headroomMa: toMaOrNull(balance.headroomUa),
    roomForDevices: balance.roomForDevices,
    breakEven: {
      toTightMa: toMaOrNull(balance.breakEven.toTightUa),
      toInsufficientMa: toMaOrNull(balance.breakEven.toInsufficientUa),
    },
    sensitivity: reportSensitivity(balance),
    suggestedRatingMa: toMaOrNull(balance.suggestedRatingUa),
    fanIn: fanIn && {
      classSumMa: toMa(fanIn.classSumUa),
      nominalMa: toMaOrNull(capacity.usableUa),
      weight: fanIn.weight,
    },
    reach: balance.reach,
    onSite: balance.onSite && reportOnSite(balance.onSite),
    proposal: reportProposal(proposal, segment),
    devices: reportDevices(segment),
    notes: notesOf(segment, words),
  };
}

function reportSensitivity({ sensitivity }: Balance): ReportSegment['sensitivity'] {
  if (sensitivity === null) return null;
  const { lowUa, highUa, atLow, atHigh } = sensitivity;
  return { lowMa: toMa(lowUa), highMa: toMa(highUa), atLow, atHigh };
}

function reportMedium({ id, name, from, needsPower }: Medium): ReportSegment['medium'] {
  return { id, name, from, needsPower };
}

function reportLoad({ segment, load, growth }: Balance): ReportSegment['load'] {
  return {
    declaredMa: toMa(load.byOrigin.declared),
    overriddenMa: toMa(load.byOrigin.overridden),
    assumedMa: toMa(load.byOrigin.assumed),
    auxiliaryMa: toMa(load.auxiliaryUa),
    totalMa: toMa(load.totalUa),
    plannedMa: toMa(growth.plannedUa),
    couplersBelowMa: toMa(load.couplersBelowUa),
    items: segment.loads.length,
    assumedItems: load.assumedItems,
  };
}

function reportSupplies(balance: Balance, site: Site | null): ReportSegment['supply'] {
  const { segment, capacity, targetUa } = balance;
  return {
    ratedMa: toMa(capacity.ratedUa),
    unrated: capacity.unrated,
    capacityMa: toMaOrNull(segment.boundariesKnown ? capacity.usableUa : null),
    capacityWithoutLargestMa: toMaOrNull(segment.boundariesKnown ? capacity.withoutLargestUa : null),
    targetMa: toMaOrNull(targetUa),
    shortCircuitMa: toMa(capacity.shortCircuitUa),
    units: segment.supplies.map((supply) => reportSupply(supply, site)),
    chokes: segment.chokes.map(({ id }) => id),
    feed: segment.feed,
    shared: reportShared(balance),
  };
}

/** What the verdict was made of, where the supplies feed other segments as well. */
function reportShared({ sharesWith, judged }: Balance): ReportSegment['supply']['shared'] {
  if (sharesWith.length === 0) return null;
  return {
    with: sharesWith.map(({ id }) => id),
    judgedWith: judged.segments.map(({ id }) => id),
    loadMa: toMa(judged.load.totalUa),
    capacityMa: toMaOrNull(judged.usableUa),
  };
}

function reportSupply(
  { device, ratingUa, isReporting }: Supply,
  site: Site | null,
): ReportSegment['supply']['units'][number] {
  const said = site?.supplies.get(device.id);
  return {
    id: device.id,
    name: device.name,
    address: device.address,
    orderNumber: device.product?.orderNumber ?? null,
    ratedMa: toMaOrNull(ratingUa),
    kind: isReporting ? 'reporting' : 'plain',
    board: said?.board ?? null,
    mainsCircuit: said?.mainsCircuit ?? null,
  };
}

/** Everything that stands on the segment, then what other segments charge to it. */
function reportDevices({ devices, loads }: Segment): ReportDevice[] {
  const own = loads.filter(({ chargedAs }) => chargedAs === 'participant'); // in the order of the devices
  const others = loads.filter(({ chargedAs }) => chargedAs !== 'participant');
  let next = 0;
  return [
    ...devices.map((device) => reportDevice(device, own[next]?.device === device ? own[next++] : undefined)),
    ...others.map((load) => reportDevice(load.device, load)),
  ];
}

function reportDevice(device: Device, load: Load | undefined): ReportDevice {
  const { product } = device;
  return {
    id: device.id,
    address: device.address,
    name: device.name,
    role: device.role,
    product: product?.name ?? null,
    productId: device.productRef,
    orderNumber: product?.orderNumber ?? null,
    manufacturer: product?.manufacturer ?? null,
    location: device.location,
    currentMa: load ? toMa(load.current.ua) : null,
    origin: load?.current.origin ?? null,
    assumedBecause: load?.current.because ?? null,
    chargedAs: load?.chargedAs ?? null,
  };
}

function notesOf({ medium: { id, name, from, isKnown } }: Segment, { report }: Words): string[] {
  return [
    ...(from === 'nobody' ? [report.notes.noMedium] : []),
    ...(isKnown ? [] : [report.notes.unknownMedium({ id, name })]),
  ];
}
