import { waiverFacts } from './rules/waivers.js';
import { figures } from './sentences.js';

/** The figure that a finding hangs on, in a word or two. */
const quantities = {
  load: 'load',
  busAndAuxiliary: 'bus and auxiliary load',
  loadWithPlanned: 'load with what is planned',
  loadAtHigh: 'load at the upper bound of the assumed currents',
  unfedParticipants: 'participants without a supply',
  rating: 'rating',
  declaredRating: 'declared rating',
  declaredCurrent: 'declared current',
  unknownCurrents: 'devices without a known current',
  classSum: 'sum of the current classes',
  weightSum: 'sum of the weights',
  participants: 'participants',
  besideSegments: 'devices beside the segments',
  onNoSegment: 'participants on no known segment',
  takers: 'takers',
  couplers: 'couplers',
  linesStoodOn: 'lines it stands on',
  schema: 'schema',
  supplies: 'supplies',
  centralSupplies: 'central supplies',
  decentralSupplies: 'decentral supplies',
  reportingSupplies: 'reporting supplies',
  shortCircuitSum: 'sum of the short-circuit currents',
  mainsCircuits: 'mains circuits',
  cable: 'cable of the segment',
  cableFromSupply: 'cable from the nearest supply',
  cableBetweenDevices: 'cable between two devices',
  cableBetweenSupplies: 'cable between supplies',
  lowestVoltage: (f: { atVoltage: 'typical' | 'least' }) =>
    `lowest voltage at the ${f.atVoltage} voltage of the supply`,
  holdUpTime: 'hold-up time',
  batteryCapacity: 'capacity of the battery',
  measured: (what: string) => `measured ${what}`,
  namesWithoutMatch: 'names without a match',
  daysPastExpiry: 'days past expiry',
  findingsItIsFor: 'findings that it is for',
};

/** What findings state that is words itself. */
export const facts = {
  quantities,
  waivers: waiverFacts,
  noProductNamed: 'no product named',
  noProduct: 'no product',
  additionalAddress: (device: string) => `${device} (additional address)`,
  theSiteSheet: 'the site sheet',
  farEnd: 'the far end',
  currentOf: (supplies: readonly string[]) => `current of ${figures.list(supplies)}`,
  voltageAt: (place: string) => `voltage at ${place}`,
};
