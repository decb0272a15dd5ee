/**
 * What the site sheet says of an installation, held against the plant: names are found, quantities are in one unit.
 * What the sheet does not say is null, never 0.
 */
export interface Site {
  /** By the segment's id; a segment that the sheet does not name is not in it. */
  readonly segments: ReadonlyMap<string, SegmentSite>;
  /** By the id of the supply's device. */
  readonly supplies: ReadonlyMap<string, SupplySite>;
  /** Names of a sheet written for another state of the archive, that this one does not have. */
  readonly stale: readonly StaleName[];
}

export interface SegmentSite {
  /** Where the sheet says it, `segments[3]`. */
  readonly place: string;
  readonly cable: Cable | null;
  readonly layout: Layout | null;
  /** All cable of the segment, m. */
  readonly totalLengthM: number | null;
  /** Cable from the nearest supply to the device that is farthest from one, m. */
  readonly farthestM: number | null;
  /** Drawn from an unchoked output of the supplies, µA. */
  readonly auxiliaryUa: number | null;
  readonly planned: readonly PlannedDevices[];
  /** What hangs on it has to run on when a supply fails; null: not said. */
  readonly isCritical: boolean | null;
  /** Its supplies have to report their state; null: not said. */
  readonly wantsReporting: boolean | null;
  readonly holdUp: HoldUp | null;
  readonly measured: Measured | null;
  /** Ids of the devices that are connected; null where the sheet does not say which, or names one that is gone. */
  readonly connected: ReadonlySet<string> | null;
}

export interface Cable {
  /** Of the table, null where the sheet gives a resistance. */
  readonly name: string | null;
  /** Loop resistance of one pair at 20 °C, Ω/km. */
  readonly loopOhmPerKm: number;
  readonly source: string;
  readonly temperatureC: number;
  /** Pairs in parallel. */
  readonly pairs: 1 | 2;
}

/** The cable of a segment as a graph: a tree, a star, a line, a ring. */
export interface Layout {
  /** Names, each once, in the order in which the runs name them. */
  readonly points: readonly string[];
  readonly runs: readonly Run[];
  /** Position of the point at which a device or a supply sits, by the device's id; what is not placed is not in it. */
  readonly pointOf: ReadonlyMap<string, number>;
}

export interface Run {
  /** Positions in {@link Layout.points}. */
  readonly from: number;
  readonly to: number;
  readonly lengthM: number;
  /** Both wires, all pairs, at the cable's temperature, Ω. */
  readonly ohm: number;
}

export interface PlannedDevices {
  readonly devices: number;
  /** Of each, µA; null: the rule of thumb. */
  readonly currentUa: number | null;
  /** Position in {@link Layout.points}. */
  readonly point: number | null;
}

export interface SupplySite {
  /** Where the sheet says it, `supplies[0]`. */
  readonly place: string;
  readonly mainsCircuit: string | null;
  readonly board: string | null;
  /** Typical voltage at its terminals, after the choke, V. */
  readonly terminalV: number | null;
  /** The least of it, V. */
  readonly leastTerminalV: number | null;
  readonly sourceOhm: number | null;
  /** What it delivers at most, µA. */
  readonly limitUa: number | null;
  readonly choke: 'own' | 'shared' | null;
}

/** Wanted hold-up, and the battery that is to give it. */
export interface HoldUp {
  readonly hours: number;
  readonly battery: Battery | null;
  /** A further load at the end of the time, on the bus. */
  readonly peak: { readonly currentUa: number; readonly hours: number } | null;
}

export interface Battery {
  /** As rated; null: not said, so that only what is needed can be told. */
  readonly capacityAh: number | null;
  readonly voltageV: number;
  /** From the battery to the bus, as a ratio; null: not said. */
  readonly efficiency: number | null;
  /** Of the supply itself, from the battery, A; null: not said. */
  readonly ownA: number | null;
  readonly temperatureC: number | null;
  /** Peukert's exponent; null: not said. */
  readonly peukert: number | null;
  /** Hours over which the capacity is rated; null: not said. */
  readonly ratedHours: number | null;
}

export interface Measured {
  readonly currents: readonly MeasuredCurrent[];
  readonly voltages: readonly MeasuredVoltage[];
  readonly symptom: Symptom | null;
}

export interface MeasuredCurrent {
  /** Id of the supply's device. */
  readonly supply: string;
  readonly ua: number;
}

export interface MeasuredVoltage {
  /** Position in {@link Layout.points}; null: at the far end. */
  readonly point: number | null;
  readonly v: number;
}

export const SYMPTOMS = ['dead', 'far end drops out', 'supply at its limit'] as const;

/** What is seen on a segment where nothing was measured. */
export type Symptom = (typeof SYMPTOMS)[number];

export interface StaleName {
  /** Where the sheet says it. */
  readonly place: string;
  readonly kind: 'segment' | 'device' | 'location' | 'line';
  readonly name: string;
  /** Names of the archive that are most like it. */
  readonly nearest: readonly string[];
  /** Where the device is now, in words, `on 1.2`; null if it is nowhere. */
  readonly now: string | null;
  /** Id of the segment in whose entry it stands, null if it is the segment itself that is gone. */
  readonly segment: string | null;
}
