import { figures } from './sentences.js';

const { milliamps, number, volts } = figures;

/** Why no supplies are chosen. */
const nothing = {
  noLoad: 'nothing hangs on the segment',
  sharedInPart: (segment: string) =>
    `line ${segment} is fed by some of its supplies and not by all: what one gets the other lacks`,
  manyDecentral: (f: { supplies: number; allowed: number }) =>
    `${f.supplies} decentral supplies stand on the segment, where ${f.allowed} are allowed; they are left alone here`,
  manyCouplers: (f: { supplies: number; allowed: number }) =>
    `${f.supplies} supplies that are couplers as well stand on the segment, where ${f.allowed} central ones are allowed`,
  manyCentral: (f: { supplies: number; allowed: number }) =>
    `${f.supplies} central supplies stand on the segment, where ${f.allowed} are allowed: which of them are there has to be looked at on site`,
  couplerNotRated: (supply: string) =>
    `the rating of ${supply}, which is the coupler as well, is not declared: its label decides`,
  silent: (f: { supply: string; isDecentral: boolean }) =>
    `the supplies have to report, but ${f.supply}, ${f.isDecentral ? 'which is decentral' : 'which is the coupler as well'}, does not and is left alone here`,
  labelDecides: 'the rating of a supply is not declared, so its label decides; the others carry the load alone',
  noneReports: 'the supplies have to report, and the stock has none that does',
  mainLine: 'no supplies from stock carry the couplers of this new main line',
};

/** Why a segment has to be split. */
const split = {
  byVoltage: (leastV: number) =>
    `with every choice from stock a device gets less than ${volts(leastV)}: the cable is too long or too thin for one segment`,
  byLoad: (f: { loadMa: number; wantsReporting: boolean; isCritical: boolean }) =>
    `no two ${f.wantsReporting ? 'reporting supplies' : 'supplies'} from stock, with or without those that are there, carry ${milliamps(f.loadMa)} within the target${f.isCritical ? ' so that the smaller alone carries it' : ''}`,
  byDevices: (f: { devices: number; most: number }) =>
    `it has ${f.devices} devices, where a segment may have ${f.most} at most`,
  notWorkedOut: (f: { because: string | null; why: string }) =>
    `${f.because}; how to split it is not worked out: ${f.why}`,
};

/** Why it is not worked out how. */
const unsplit = {
  shared: 'its supplies feed other lines as well; feed each line by its own first',
  noAddress: (area: number) => `no line address is free in area ${area}`,
  fewAddresses: (f: { needed: number; free: number; area: number }) =>
    `at least ${f.needed} new lines are needed, and ${f.free} line addresses are free in area ${f.area}`,
  largeSegment: (most: number) => `that is done up to ${most} devices`,
  largeTogether: (most: number) => `the lines that have to be split have more than ${most} devices together`,
  aboveOfOtherMedium: (f: { line: string; medium: string }) =>
    `line ${f.line} is ${f.medium}, on which no coupler of a twisted pair line hangs`,
  noLineAbove: (address: string) =>
    `the export has no line ${address}, on which new lines would hang, though it has several areas`,
  couplersTooMuch: (address: string) => `the couplers of the new lines would be too much for line ${address} itself`,
  deviceTooMuch: 'one device by itself draws more than any supplies from stock carry',
  noPlaces: 'a line may have no device beside its coupler',
  noSupplyForPiece: 'no supplies were found for a piece',
  noStock: 'the stock has no supply that may be used',
  staysTooMuch: (f: { line: string; ma: number }) =>
    `what has to stay on line ${f.line}, ${milliamps(f.ma)} with what is planned, is by itself more than any supplies from stock carry`,
  staysTooMany: (f: { line: string; devices: number; most: number }) =>
    `line ${f.line} has ${f.devices} couplers and supplies that cannot be moved, more than the ${f.most} devices of a segment`,
  newCouplerTooMuch:
    'the coupler of a new line, with what is planned for it, is more than any supplies from stock carry',
};

/** What a choice of supplies depends on. */
const choice = {
  shared: (segments: readonly string[]) => `One choice for lines ${segments.join(', ')}, which share their supplies.`,
  readLabel: (supply: string) => `The rating of ${supply} is not declared: read its label first, it may do as it is.`,
  decentralStay: (supplies: readonly string[]) => `Decentral supplies stay as they are: ${supplies.join(', ')}.`,
  couplerStays: (supply: string) => `${supply} is the coupler as well, so it stays.`,
  chokesOpen: (apartM: number) =>
    `The chokes of the two supplies at least ${number(apartM)} m of cable apart, or one choke for both.`,
  chokeShared: (apartM: number) =>
    `One choke for both supplies, as no place on the cable is ${number(apartM)} m from the other.`,
  chokesApart: (f: { at: string | null; apartM: number }) =>
    `The second supply at ${f.at}, at least ${number(f.apartM)} m of cable from the other; each with its own choke.`,
  twoCircuits: 'Two supplies on two mains circuits, or backed by a battery.',
  voltageOpen: (leastV: number) =>
    `Whether every device gets ${volts(leastV)} is open: the site sheet does not tell enough of the cable.`,
  mains: 'The mains side is work for a licensed electrician under the local code.',
};

/** What a split depends on. */
const plan = {
  addresses:
    'The individual addresses are proposals: nothing is renumbered here. A device that changes its line has to be given its new address, and loaded again together with the couplers.',
  onSite:
    'Where the cable is parted, and whether it can be along these groups, has to be looked at on site; each new line begins at its coupler, with a supply and a choke of its own.',
  noVoltages: 'Voltages are not worked out for the new lines, as their cable is not known.',
  ownCoupler: (address: string) => `Line ${address} needs a coupler too, as it is no longer alone.`,
  aboveIp: (address: string) => `Line ${address} is IP, so the new couplers are IP couplers.`,
};

/** What a move of devices depends on. */
const moves = {
  notNear: (segment: string) =>
    `Only electrically possible: nothing in the archive says that the cable of line ${segment} comes near.`,
  near: (f: { segment: string; nearness: 'same board or room' | 'same floor' }) =>
    `By the places that are named the cable of line ${f.segment} comes to the ${f.nearness}; by which way is for the site to tell.`,
  relay: (segment: string) =>
    `Cable is to be re-laid: each of the devices is taken off its cable and connected to that of line ${segment}.`,
  sameLine: (address: string) => `The devices stay on line ${address}, so they keep their addresses.`,
  otherLine:
    'A device that moves to another line gets another individual address and has to be loaded again. New addresses are not proposed here, as group communication and filter tables change with them.',
  assumed: (f: { assumed: number; devices: number; assumedMa: number; movedMa: number }) =>
    `Of ${f.assumed} of the ${f.devices} devices the current is assumed, ${number(f.assumedMa)} of ${milliamps(f.movedMa)}: their data sheets come first.`,
  newerType: (f: { segment: string; participants: number }) =>
    `Line ${f.segment} then has ${f.participants} participants with those planned: all have to be of the newer type.`,
  noVoltages: (segment: string) =>
    `Voltages of line ${segment} after the move are not known: no point of its cable is known for the devices.`,
  holdUp: (segment: string) => `The hold-up of line ${segment} is to be worked out again with these devices.`,
  fromCritical: (f: { from: string; to: string }) =>
    `The site sheet has line ${f.from} as critical and line ${f.to} not: what has to run on stays.`,
  rivals: (f: { other: string; more: number; to: string }) =>
    `Devices of line ${f.other}${f.more === 0 ? '' : ` and of ${f.more} more`} could move to line ${f.to} as well; each of these moves is reckoned without the others.`,
};

/** What is said of supplies, splits and moves while they are worked out. */
export const sizing = { nothing, split, unsplit, choice, plan, moves };
