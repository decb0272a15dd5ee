import { checkDocument } from '../../src/documents/document.js';
import { type Balance, balancesOf } from '../../src/electrical/balance.js';
import type {
  DeviceRecord,
  HardwareRecord,
  InstallationRecord,
  LineRecord,
  PlaceRecord,
  ProductRecord,
  ProjectRecord,
} from '../../src/interchange/records.js';
import { segmentLabel, segmentsOf } from '../../src/plant/plant.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import type { Policy } from '../../src/policy/policy.js';
import type { RawFinding, Rule, RuleContext } from '../../src/rules/rule.js';
import { type Coverage, runRules } from '../../src/rules/run.js';
import { buildPlant } from '../../src/site/build.js';
import { type SiteSheet, siteSheetSchema } from '../../src/site/sheet.js';
import type { Site } from '../../src/site/site.js';
import { EN } from '../../src/words/en/words.js';

/** A device of a test plant. Devices of one `product` share its hardware; by default each has a product of its own. */
export interface DeviceSpec {
  readonly address?: number;
  readonly name?: string;
  /** `BusCurrent` as written; left out: not declared. */
  readonly ma?: string | number;
  readonly product?: string;
  /** The product is not in the archive. */
  readonly unknown?: boolean;
  /** The device names no product at all. */
  readonly noProduct?: boolean;
  readonly additionalAddresses?: readonly number[];
  readonly orderNumber?: string;
  /** The archive marks it as loaded, or as not. */
  readonly isLoaded?: boolean;
  /** Names of the places it is in, from the outermost to the innermost. */
  readonly places?: readonly string[];
  readonly is?: Partial<Omit<HardwareRecord, 'id' | 'name' | 'busCurrent'>>;
}

/** A segment of the new form that says more of itself than its devices. */
export interface SegmentSpec {
  readonly number: number;
  /** Left out: the line's; null: the segment does not say, so the line does. */
  readonly medium?: string | null;
  readonly devices: readonly DeviceSpec[];
}

export interface LineSpec {
  /** area.line */
  readonly line: string;
  readonly medium?: string;
  /** New form: devices per segment, numbered from 1 where the segment does not say. */
  readonly segments?: readonly (readonly DeviceSpec[] | SegmentSpec)[];
  /** Old form, or beside segments. */
  readonly devices?: readonly DeviceSpec[];
}

export interface PlantSpec {
  readonly schema?: number;
  readonly lines: readonly LineSpec[];
  readonly unassigned?: readonly DeviceSpec[];
  readonly policy?: Partial<Policy>;
  /** A site sheet, as its document says it. */
  readonly sheet?: object;
  /** What a site sheet comes to, where the test makes it itself. */
  readonly site?: Site | null;
}

export const consumer = (address: number, ma: string | number, more: Partial<DeviceSpec> = {}): DeviceSpec => ({
  address,
  ma,
  ...more,
});

export const supply = (ma?: string | number): DeviceSpec => ({
  ...(ma === undefined ? {} : { ma }),
  name: 'Supply',
  is: { isPowerSupply: true, hasIndividualAddress: false },
});

export const coupler = (ma?: string | number, address = 0, ip = false): DeviceSpec => ({
  address,
  ...(ma === undefined ? {} : { ma }),
  name: 'Coupler',
  is: { isCoupler: true, isIpEnabled: ip },
});

/** A supply and coupler in one; its current is its rating. */
export const combined = (ma?: string | number, address = 0): DeviceSpec => ({
  address,
  ...(ma === undefined ? {} : { ma }),
  name: 'Combined',
  is: { isPowerSupply: true, isCoupler: true },
});

export const choke = (): DeviceSpec => ({ name: 'Choke', is: { isChoke: true, hasIndividualAddress: false } });

/** n consumers of one current, addresses from 1 on. */
export const consumers = (n: number, ma: string | number): DeviceSpec[] =>
  Array.from({ length: n }, (_, index) => consumer(index + 1, ma));

/** A plant as the documents say it. */
export function recordOf({ schema = 23, lines, unassigned = [] }: PlantSpec): ProjectRecord {
  const records = new RecordMaker();
  const installation: InstallationRecord = {
    part: 'P-0001/0.xml',
    number: 0,
    name: undefined,
    areas: lines.map((line, index) => ({
      id: `P-0001-0_A-${index}`,
      address: Number(line.line.split('.')[0]),
      name: undefined,
      lines: [records.line(line, index)],
    })),
    unassigned: unassigned.map((spec) => records.device(spec)),
    places: records.places,
  };
  return {
    id: 'P-0001',
    name: 'Test',
    schema,
    installations: [installation],
    products: records.products,
    names: new Map(),
  };
}

/** A plant as the rules see it, built by the real builder. */
export function contextOf(plant: PlantSpec): RuleContext {
  const effective = { ...COMMON_PRACTICE, ...plant.policy };
  const { projects, sites } = buildPlant([recordOf(plant)], effective, sheetOf(plant.sheet), ARCHIVE_DIGEST);
  const [project] = projects;
  const [built] = project?.installations ?? [];
  if (project === undefined || built === undefined) throw new Error('no installation');
  const site = plant.site ?? sites.get(built) ?? null;
  const balances = balancesOf(segmentsOf(built), effective, site);
  return { project, installation: built, balances, policy: effective, site, words: EN };
}

/** Stands for the digest of the archive that a test plant would be from. */
export const ARCHIVE_DIGEST = 'a'.repeat(64);

/** A site sheet as {@link readSheet} would give it. */
export function sheetOf(sheet: object | undefined): SiteSheet | null {
  return sheet === undefined ? null : { ...checkDocument(siteSheetSchema, sheet), name: 'site.yaml' };
}

/** The balance of the segment that people call so, such as `1.1` or `1.1 segment 2`. */
export function balanceAt(label: string, plant: PlantSpec): Balance {
  const found = contextOf(plant).balances.find(({ segment }) => segmentLabel(segment) === label);
  if (found === undefined) throw new Error(`the plant has no segment ${label}`);
  return found;
}

/** The balance of a single new-form segment, line 1.1. */
export function balanceOfSegment(devices: readonly DeviceSpec[], policy: Partial<Policy> = {}): Balance {
  const [balance] = contextOf({ lines: [{ line: '1.1', segments: [devices] }], policy }).balances;
  if (balance === undefined) throw new Error('no segment');
  return balance;
}

/** What one rule says of a plant. */
export function check(rule: Rule, plant: PlantSpec): { findings: RawFinding[]; coverage: readonly Coverage[] } {
  const { findings, coverage, failures } = runRules([rule], contextOf(plant));
  if (failures[0] !== undefined) throw failures[0].cause;
  return { findings: findings.map(({ finding }) => finding), coverage };
}

/** What one rule says of a plant of a single new-form segment, line 1.1. */
export function checkSegment(rule: Rule, devices: readonly DeviceSpec[], policy: Partial<Policy> = {}) {
  return check(rule, { lines: [{ line: '1.1', segments: [devices] }], policy });
}

/** Where a rule ended, by segment label (`*` for the installation): `found`, or `skipped: the missing fact`. */
export function coverageByLabel(coverage: readonly Coverage[]): Record<string, string> {
  return Object.fromEntries(
    coverage.map(({ segment, status, missing }) => [
      segment === null ? '*' : segmentLabel(segment),
      missing === null ? status : `${status}: ${missing}`,
    ]),
  );
}

class RecordMaker {
  readonly products = new Map<string, ProductRecord>();
  readonly places = new Map<string, PlaceRecord>();
  #devices = 0;

  line({ line, medium, segments = [], devices = [] }: LineSpec, index: number): LineRecord {
    const stated = segments.map(
      (spec, before): SegmentSpec => ('devices' in spec ? spec : { number: before + 1, devices: spec }),
    );
    return {
      id: `P-0001-0_L-${index}`,
      address: Number(line.split('.')[1]),
      name: undefined,
      medium: stated.length === 0 || stated.some((segment) => segment.medium === null) ? medium : undefined,
      segments: stated.map((segment) => ({
        id: `P-0001-0_S-${index}-${segment.number}`,
        number: segment.number,
        name: undefined,
        medium: segment.medium === null ? undefined : (segment.medium ?? medium ?? 'MT-0'),
        devices: segment.devices.map((spec) => this.device(spec)),
        sourceLine: 10 * index + segment.number,
      })),
      devices: devices.map((spec) => this.device(spec)),
      sourceLine: 10 * index,
    };
  }

  device(spec: DeviceSpec): DeviceRecord {
    const number = ++this.#devices;
    const id = `P-0001-0_DI-${number}`;
    const place = placeOf(spec.places ?? []);
    if (place !== undefined) this.places.set(id, place);
    const productRef = spec.noProduct ? undefined : `M-F0A1_H-${spec.product ?? number}-1_P-${spec.product ?? number}`;
    if (productRef !== undefined && !spec.unknown) this.products.set(productRef, productOf(productRef, spec));
    return {
      id,
      address: spec.address,
      name: spec.name,
      productRef,
      isLoaded: spec.isLoaded,
      additionalAddresses: spec.additionalAddresses ?? [],
      sourceLine: number,
    };
  }
}

function placeOf(names: readonly string[]): PlaceRecord | undefined {
  return names.reduce<PlaceRecord | undefined>((parent, name) => ({ name, type: undefined, parent }), undefined);
}

function productOf(id: string, { ma, is, orderNumber }: DeviceSpec): ProductRecord {
  return {
    id,
    name: `Product ${id.split('-').at(-1)}`,
    orderNumber,
    manufacturer: 'M-F0A1',
    place: { part: 'M-F0A1/Hardware.xml', line: 1 },
    hardware: {
      id: id.split('_P-')[0] ?? id,
      name: undefined,
      busCurrent: ma === undefined ? undefined : String(ma),
      hasIndividualAddress: true,
      hasApplicationProgram: false,
      isAccessory: false,
      isPowerSupply: false,
      isChoke: false,
      isCoupler: false,
      isCable: false,
      isIpEnabled: false,
      ...is,
    },
  };
}
