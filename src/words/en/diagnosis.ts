import { figures } from './sentences.js';

const { milliamps, number } = figures;

/** What is called by a key of the diagnosis. */
const kinds = {
  'as planned': 'as planned',
  'everything connected': 'everything connected',
  'one supply out': 'one supply out',
  'all supplies out': 'all supplies out',
  'devices not connected': 'devices not connected',
  'cable open': 'cable open',
  'cable longer than said': 'cable longer than said',
  'device draws more': 'device draws more',
  'short on the segment': 'short on the segment',
  'another segment on this supply': 'another segment on this supply',
  'fed from elsewhere': 'fed from elsewhere',
};

const symptoms = {
  dead: 'dead',
  'far end drops out': 'far end drops out',
  'supply at its limit': 'supply at its limit',
};

/** @param place null for anywhere on the segment */
const where = (place: string | null) => (place === null ? 'on the segment' : `at ${place}`);

/** What would be the case, each in one sentence. */
const causes = {
  asPlanned: (ma: number) => `All is as planned: what is connected draws ${milliamps(ma)}.`,
  everything: (f: { allMa: number; connectedMa: number }) =>
    `Everything is connected and draws ${milliamps(f.allMa)}, not only the ${milliamps(f.connectedMa)} of what is marked so.`,
  beyondSupplies: (f: { loadMa: number; limitMa: number }) =>
    `The planned load is beyond what the supplies deliver: ${milliamps(f.loadMa)} of at most ${milliamps(f.limitMa)}.`,
  beyondCable: 'The planned load is more than the cable carries.',
  /** @param f.othersCarryMa what is left to the other supplies; null where there are none */
  supplyOut: (f: { supply: string; othersCarryMa: number | null }) =>
    `${f.supply} gives nothing${f.othersCarryMa === null ? '' : `; the others are to carry ${milliamps(f.othersCarryMa)}`}.`,
  allSuppliesOut: (supplies: number) => `None of the ${supplies} supplies gives anything.`,
  notConnected: (f: { place: string | null; ma: number }) =>
    `What hangs ${where(f.place)} is not connected: ${milliamps(f.ma)} less than planned.`,
  notConnectedAllOver: (f: { missingMa: number; wholeMa: number }) =>
    `Devices all over the segment are not connected: ${milliamps(f.missingMa)} of ${milliamps(f.wholeMa)} are missing.`,
  drawsMore: (f: { place: string | null; ma: number; moreMa: number; plannedMa: number }) =>
    `What hangs ${where(f.place)} draws ${milliamps(f.ma)}, ${milliamps(f.moreMa)} more than the planned ${milliamps(f.plannedMa)}.`,
  cableLonger: (factor: number) =>
    `The cable has ${number(factor)} times the resistance that follows from the sheet: it is longer or thinner, or a joint is bad.`,
  cableOpen: (f: { from: string; to: string }) => `The cable is open between ${f.from} and ${f.to}.`,
  /** @param f.ohm null for next to none */
  shorted: (f: { place: string | null; ohm: number | null }) =>
    `The wires are shorted ${where(f.place)}, through ${f.ohm === null ? 'next to no resistance' : `${number(f.ohm)} Ω`}.`,
  carriesAnother: (f: { segment: string; ma: number }) =>
    `The load of ${f.segment}, ${milliamps(f.ma)}, hangs on the supply of this segment as well.`,
  fedFromElsewhere: (supplies: number) =>
    `A supply of another segment feeds this one; its own ${supplies === 1 ? 'gives' : 'give'} nothing.`,
};

/** What a meter, or a look at the devices, tells. Where it is to be done what has to be done for it. */
const measurements = {
  current: (supply: string) => `current at ${supply}`,
  greatestVoltage: 'greatest voltage',
  beyondLimit: 'current beyond the limit',
  nearEndWorks: 'the near end works',
  allUnplugged: (measure: string) => `${measure}, with all devices of the segment unplugged`,
  unplugged: (f: { measure: string; place: string | null }) =>
    `${f.measure}, with the devices ${where(f.place)} unplugged`,
  switchedOff: (f: { measure: string; supply: string }) => `${f.measure}, with ${f.supply} switched off`,
  runResistance: (f: { from: string; to: string }) =>
    `resistance of the run from ${f.from} to ${f.to}, with the supply off, the run taken off at both ends and its wires joined at one`,
  betweenWires:
    'resistance between the wires, beyond that of the cable, with the supplies off and all devices of the segment unplugged',
};

/** What keeps causes from being computed, or told apart better. */
const missing = {
  feed: 'which supply feeds the segment',
  limit: 'what the supply delivers at most',
  limitOf: (supply: string) => `what ${supply} delivers at most`,
  supplyPlaces: 'where the supplies sit',
  runs: 'the runs of the cable, and where devices and supplies sit',
  length: 'the length of the cable',
  terminals: 'the voltage at the terminals of the supplies',
  furtherPoints: (points: number) => `faults at ${points} points between those that were gone through`,
  furtherRuns: (runs: number) => `breaks in ${runs} runs between those that were gone through`,
};

/** What stands around the causes. */
const told = {
  title: (f: { segment: string; seen: readonly string[] }) =>
    `Measured on ${f.segment}: ${f.seen.join('; ')}. What fits, best first:`,
  fit: (fit: string) => `fit ${fit}`,
  misfits: 'Does not fit:',
  misfit: (f: { what: string; measured: string; computed: string }) =>
    `${f.what} ${f.measured}, computed ${f.computed}`,
  noCause: 'Nothing that is looked for fits.',
  further: (n: number) => `${n} more fit less, and are not listed.`,
  missing: 'To tell more:',
  next: 'Next:',
  nextText: (f: { measure: string; here: string; otherwise: string; other: string }) =>
    `measure the ${f.measure}: ${f.here} if this is it, ${f.otherwise} if it is ${f.other}.`,
  rank: (rank: number) => `cause ${rank}`,
  openCircuit: 'an open circuit',
  orMore: (f: { low: number; unit: string }) => `${number(f.low)} ${f.unit} or more`,
  range: (f: { low: number; high: number; unit: string }) => `${number(f.low)} to ${number(f.high)} ${f.unit}`,
};

/** What fits measured values. */
export const diagnosis = { kinds, symptoms, causes, measurements, missing, told };
