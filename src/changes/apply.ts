import { refusalFor } from '../documents/document.js';
import { Nearest } from '../documents/nearest.js';
import { InputError, quoted } from '../errors.js';
import type { DeviceRecord, ProjectRecord } from '../interchange/records.js';
import type { Policy } from '../policy/policy.js';
import { linesOf } from '../site/split-lines.js';
import { plannedSupply } from '../tender/products.js';
import type { Change } from './changes.js';
import { ChangedProject } from './project.js';
import { type FoundPlace, type LineOfProject, placeOf, type Target, targetOf } from './target.js';

/** A change that was made, and the devices that it is about. */
export interface AppliedChange {
  readonly change: Change;
  /** Id. */
  readonly project: string;
  /** Number. */
  readonly installation: number;
  /** What texts call the segment. */
  readonly label: string;
  /** Ids. */
  readonly devices: readonly string[];
  readonly place: Pick<FoundPlace, 'path' | 'isNew'> | null;
}

export interface AppliedChanges {
  readonly records: readonly ProjectRecord[];
  /** In the order of the changes. */
  readonly applied: readonly AppliedChange[];
}

/**
 * Makes changes to what the documents say, so that all from the plant on is as of an archive that has them. What goes is
 * taken from what the archive has, so that the order of changes does not matter.
 * @param records with lines parted already, where a site sheet parts them
 * @param policy decides whether products of one name draw the same
 * @throws InputError `invalid-changes` with place, name and the nearest names for each fault
 */
export function applyChanges(
  records: readonly ProjectRecord[],
  changes: readonly Change[],
  policy: Policy,
): AppliedChanges {
  const projects = records.map((record) => new ChangedProject(record, policy));
  const lines = projects.flatMap((project) => linesOf(project.record).map((line) => ({ ...line, project })));
  const nearest = new Nearest();
  const made = changes.map((change, index) => applied(change, index, lines, nearest));
  const faults = made.filter((one) => typeof one === 'string');
  if (faults.length > 0) throw new InputError('invalid-changes', refusalFor(faults).message);
  return {
    records: projects.map((project) => project.changed()),
    applied: made.filter((one) => typeof one !== 'string'),
  };
}

function applied(
  change: Change,
  index: number,
  lines: readonly LineOfProject[],
  nearest: Nearest,
): AppliedChange | string {
  const target = targetOf(change, lines, nearest);
  if (typeof target === 'string') return target;
  const place = change.location === undefined ? null : placeOf(change.location, target);
  if (typeof place === 'string') return `${change.placeOf('location')}: ${place}`;
  const products = productsOf(change, target, nearest);
  if (typeof products === 'string') return products;
  const devices =
    change.remove === undefined ? come(change, index, target, place, products) : go(change, target, place, products);
  if (typeof devices === 'string') return devices;
  return {
    change,
    project: target.project.record.id,
    installation: target.installation.number,
    label: target.label,
    devices: devices.map(({ id }) => id),
    place: place && { path: place.path, isNew: place.isNew },
  };
}

/** The ids of what comes or goes; those of several are one to the balance. */
function productsOf(change: Change, { project }: Target, nearest: Nearest): readonly string[] | string {
  const { product, supply, current, what = 'device' } = change;
  if (supply !== undefined) return [project.made.add(plannedSupply(supply, 1))];
  if (product === undefined) return [project.made.add({ what, currentUa: current, line: 1 })];
  const found = project.names.find(product, nearest);
  return typeof found === 'string' ? `${change.placeOf('product')}: ${found}` : found;
}

function come(
  { add = 1, supply, product, what }: Change,
  index: number,
  { record, segment, installation, project }: Target,
  place: FoundPlace | null,
  [productRef]: readonly string[],
): readonly DeviceRecord[] {
  const called = supply === undefined ? (product ?? what ?? 'device') : 'supply';
  const devices = Array.from({ length: add }, (_, offset): DeviceRecord => {
    const number = `${index + 1}.${offset + 1}`;
    return {
      id: `change ${number}`,
      address: undefined,
      name: `${called} (change ${number})`,
      productRef,
      isLoaded: undefined,
      additionalAddresses: [],
      sourceLine: (segment ?? record).sourceLine,
    };
  });
  project.add(record, segment, devices);
  if (place !== null) for (const device of devices) project.put(installation, device, place.path);
  return devices;
}

/** Of devices that are alike the last ones go. */
function go(
  { remove = 0, product = '', placeOf: at }: Change,
  { record, label, devices, project }: Target,
  place: FoundPlace | null,
  products: readonly string[],
): readonly DeviceRecord[] | string {
  const here = devices.filter(
    (device) =>
      products.includes(device.productRef ?? '') &&
      !project.isRemoved(device) &&
      (place === null || place.devices.has(device)),
  );
  if (here.length < remove) {
    const where = place === null ? label : `${label} in ${quoted(place.path)}`;
    const left = here.length === 0 ? 'there is none' : `there are ${here.length}`;
    return `${at('remove')}: ${remove} of ${quoted(product)} cannot go from ${where}: ${left}`;
  }
  const gone = here.slice(-remove);
  project.remove(record, gone);
  return gone;
}
