import { type DiagnoseInput, type Diagnosis, diagnose } from '../../../src/electrical/diagnose/diagnose.js';
import { feedGroupsOf } from '../../../src/electrical/feed-group.js';
import type { Network, Source } from '../../../src/electrical/network/network.js';
import { solveNetwork } from '../../../src/electrical/network/solve.js';
import { segmentsOf } from '../../../src/plant/plant.js';
import type { Policy } from '../../../src/policy/policy.js';
import type { Measured, SegmentSite, Site, SupplySite } from '../../../src/site/site.js';
import { EN } from '../../../src/words/en/words.js';
import { layoutOf, type RunSpec, segmentSite } from '../../support/layouts.js';
import { consumer, contextOf, type DeviceSpec, supply } from '../../support/plants.js';

/** A segment with its cable: p0, p1, … as the runs number them. */
export interface Drawn {
  readonly runs: readonly RunSpec[];
  /** Rating in mA and point of each supply. */
  readonly supplies: readonly (readonly [ma: number, point: number])[];
  /** Current in mA and point of each device. */
  readonly devices: readonly (readonly [ma: number, point: number])[];
}

/** What is wrong with it. */
export interface Fault {
  readonly ohmFactor?: number;
  readonly openRun?: number;
  readonly supplyOut?: number;
  readonly extra?: readonly [ma: number, point: number];
  readonly offPoint?: number;
  readonly shareOff?: number;
  readonly short?: readonly [ohm: number, point: number];
  readonly strangeMa?: number;
  /** What every supply gives at most, where that is more than its rating. */
  readonly limitMa?: number;
  /** Devices draw what their current comes to at 24 V, at whatever voltage there is. */
  readonly constantPower?: boolean;
}

export interface Shown {
  /** mA, by supply. */
  readonly currents: readonly number[];
  /** V, by point. */
  readonly voltages: readonly number[];
}

/** Ohms per metre of the layouts of the tests, 73.2 Ω/km. */
const OHM_PER_M = 0.0732;

/** What meters show everywhere with the fault in place: a network of its own, solved; devices below 20 V are off. */
export function shown(drawn: Drawn, fault: Fault = {}): Shown {
  const nodes = 1 + Math.max(...drawn.runs.flatMap((ends) => ends.slice(0, 2)));
  const { ohmFactor = 1, shareOff = 0, strangeMa = 0, limitMa, constantPower = false } = fault;
  const left = drawn.supplies.filter((_, at) => at !== fault.supplyOut);
  const sources: Source[] = left.map(([ma, node]) => ({ node, emfV: 30, ohm: 0, limitA: (limitMa ?? ma) / 1000 }));
  if (fault.short) {
    const [ohm, node] = fault.short;
    sources.push({ node, emfV: 1e-6, ohm, limitA: Number.POSITIVE_INFINITY, twoWay: true });
  }
  const runs = drawn.runs.filter((_, at) => at !== fault.openRun);
  const reached = reachedFrom(
    runs,
    left.map(([, point]) => point),
  );
  const draws = [
    ...drawn.devices
      .filter(([, point]) => point !== fault.offPoint && !fault.short)
      .map(([ma, node]) => ({ node, amps: (ma * (1 - shareOff)) / 1000 })),
    ...(fault.extra ? [{ node: fault.extra[1], amps: fault.extra[0] / 1000 }] : []),
    { node: left[0]?.[1] ?? 0, amps: strangeMa / 1000 },
  ];
  const network: Network = {
    nodes,
    branches: runs.map(([from, to, lengthM]) => ({ from, to, ohm: lengthM * OHM_PER_M * ohmFactor })),
    sources,
    loads: draws
      .filter(({ node }) => reached.has(node))
      .map(({ node, amps }) => (constantPower ? { node, watts: amps * 24 } : { node, amps })),
  };
  const solution = solveNetwork(network);
  if (solution.outcome === 'unsolvable') throw new Error(`the fault of the test has no state: ${solution.because}`);
  let at = 0;
  return {
    currents: drawn.supplies.map((_, own) => (own === fault.supplyOut ? 0 : (solution.sourceAmps[at++] ?? 0) * 1000)),
    voltages: [...solution.voltages],
  };
}

function reachedFrom(runs: readonly RunSpec[], starts: readonly number[]): Set<number> {
  const reached = new Set(starts);
  for (const point of reached) {
    for (const [from, to] of runs) {
      if (from === point) reached.add(to);
      if (to === point) reached.add(from);
    }
  }
  return reached;
}

/** Measured at every supply and every point. */
export function everywhere({ currents, voltages }: Shown): Partial<Measured> & { currentsMa: readonly number[] } {
  return { currentsMa: currents, voltages: voltages.map((v, point) => ({ point, v })) };
}

export interface Said {
  readonly currentsMa?: readonly (number | null)[];
  readonly voltages?: Measured['voltages'];
  readonly symptom?: Measured['symptom'];
  readonly entry?: Partial<SegmentSite>;
  /** Typical terminal voltage of every supply; null: the sheet does not say. */
  readonly terminalV?: number | null;
  /** Currents of the devices of further lines, each with a supply of its own. */
  readonly others?: readonly (readonly number[])[];
  readonly policy?: Partial<Policy>;
}

/** The input for the segment, line 1.1, of a plant with its site sheet. */
export function inputFor(drawn: Drawn, said: Said): DiagnoseInput {
  const { currentsMa = [], voltages = [], symptom = null, entry = {}, terminalV = 30, others = [], policy = {} } = said;
  const own: DeviceSpec[] = [
    ...drawn.supplies.map(([ma], at) => ({ ...supply(ma), name: `Supply ${at + 1}` })),
    ...drawn.devices.map(([ma], at) => consumer(at + 1, ma)),
  ];
  const lines = [own, ...others.map((mas) => [supply(640), ...mas.map((ma, at) => consumer(at + 1, ma))])];
  const context = contextOf({ lines: lines.map((devices, at) => ({ line: `1.${at + 1}`, segments: [devices] })) });
  const segments = segmentsOf(context.installation);
  const [segment] = segments;
  if (segment === undefined) throw new Error('the plant has no segment');
  const ids = segment.supplies.map(({ device }) => device.id);
  const consumers = segment.loads.map(({ device }) => device.id);
  const places = [
    ...ids.map((id, at) => [id, drawn.supplies[at]?.[1] ?? 0] as const),
    ...consumers.map((id, at) => [id, drawn.devices[at]?.[1] ?? 0] as const),
  ];
  const site: SegmentSite = segmentSite({
    layout: layoutOf(drawn.runs, Object.fromEntries(places)),
    measured: {
      currents: currentsMa.flatMap((ma, at) =>
        ma === null ? [] : [{ supply: ids[at] ?? '', ua: Math.round(ma * 1000) }],
      ),
      voltages,
      symptom,
    },
    ...entry,
  });
  const whole: Site = {
    segments: new Map([[segment.id, site]]),
    supplies: new Map(ids.map((id) => [id, supplySite(terminalV)])),
    stale: [],
  };
  const group = feedGroupsOf(segments).get(segment);
  if (group === undefined) throw new Error('the segment has no group');
  const judged = { policy: { ...context.policy, ...policy }, words: EN };
  return { segment, group, site: whole, entry: site, others: segments, ...judged };
}

function supplySite(terminalV: number | null): SupplySite {
  const unsaid = { mainsCircuit: null, board: null, leastTerminalV: null, sourceOhm: null, limitUa: null, choke: null };
  return { place: 'supplies[0]', terminalV, ...unsaid };
}

export function diagnosed(drawn: Drawn, said: Said): Diagnosis {
  const diagnosis = diagnose(inputFor(drawn, said));
  if (diagnosis === null) throw new Error('nothing was measured');
  return diagnosis;
}
