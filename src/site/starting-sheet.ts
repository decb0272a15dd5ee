import { stringify } from 'yaml';
import { quoted } from '../errors.js';
import { type Device, isBesideSegments, type Project, type Supply, segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { CABLES } from './cables.js';
import { Scope, type ScopedSegment, SegmentNames } from './scope.js';
import { MOST_ENTRIES, nameShape } from './shapes.js';

/**
 * A sheet to begin with: every bus-powered segment and its supplies, what stands there as comments, and every key that
 * may be filled in as a line to uncomment. It reads back as it is, and says nothing then.
 *
 * Names out of an archive are anybody's: in comments control characters are escaped, in values the YAML library quotes.
 */
export function startingSheet(projects: readonly Project[], archiveSha256: string): string {
  const scopes = projects.flatMap(({ installations }) => installations.map((one) => new Scope(one)));
  const names = new SegmentNames(scopes);
  const segments = scopes
    .flatMap((scope) => scope.segments.map((segment) => ({ segment, scope })))
    .filter(({ segment }) => segment.medium.needsPower);
  const supplies = segments.flatMap(({ segment }) => segment.supplies);
  const nameOf = ({ segment }: ScopedSegment) =>
    ownName([segmentLabel(segment), segment.id], segment, (name) => names.find(name).map((one) => one.segment));
  const lines = [
    ...HEAD,
    `archive: ${scalar(archiveSha256)}`,
    ...partings(segments),
    ...listed(
      'supplies',
      supplies.map((supply) => supplyLines(supply, scopes)),
    ),
    ...listed(
      'segments',
      segments.filter(({ segment }) => !isBesideSegments(segment)).map((one) => segmentLines(one, nameOf(one))),
    ),
  ];
  return `${lines.join('\n')}\n`;
}

const HEAD = [
  '# Site sheet: what the export does not say. Take away a # and the blank behind it to say what the line says.',
  '# Lengths and quantities carry their unit: 40 m, 0.04 km, 50 mA, 29.5 V, 0.5 ohm, 72 ohm/km, 30 °C, 4 h, 30 min.',
  '# Names with a point or a number in them stand in quotation marks.',
  '#',
  '# Cables by name, loop resistance of a pair at 20 °C:',
  ...CABLES.map(({ name, loopOhmPerKm, source }) => `#   ${name}: ${loopOhmPerKm} ohm/km (${source})`),
  '',
  '# The archive that this was written for. Once it is another one, names that are gone are told of and left out.',
];

/** Lines whose segments the export does not tell apart. */
function partings(segments: readonly ScopedSegment[]): string[] {
  const unknown = segments.filter(({ segment }) => !segment.boundariesKnown && segment.id === segment.line.id);
  if (unknown.length === 0) return [];
  return [
    '',
    '# The export does not say which devices of these lines are on which side of a repeater. Name the segments and their',
    '# devices here, take the entry of the whole line away below, and write one for "1.1 segment 1" and so on.',
    '# lines:',
    ...unknown.flatMap(({ segment: { line, devices } }) => {
      const names = devices.flatMap(({ address }) => (address === null ? [] : [address]));
      return [
        `#   - line: ${scalar(line.address)}`,
        '#     segments:',
        `#       - {number: 1, name: Before the repeater, devices: [${scalar(names[0] ?? '1.1.1')}]}`,
        `#       - {number: 2, name: Behind the repeater, devices: [${scalar(names[1] ?? '1.1.65')}]}`,
      ];
    }),
  ];
}

/** A list of entries; one that no name of its own tells apart, or that is beyond the most, is a comment. */
function listed(key: string, entries: readonly Entry[]): string[] {
  const named = entries.filter(({ isNamed }) => isNamed);
  const rest = [...named.slice(MOST_ENTRIES), ...entries.filter(({ isNamed }) => !isNamed)];
  const first = named.slice(0, MOST_ENTRIES);
  return [
    '',
    first.length === 0 ? `${key}: []` : `${key}:`,
    ...first.flatMap(({ lines }) => lines),
    ...(rest.length === 0 ? [] : ['', `  # Not listed, for want of a name of their own or of room: ${rest.length}`]),
  ];
}

interface Entry {
  readonly isNamed: boolean;
  readonly lines: readonly string[];
}

function supplyLines({ device, ratingUa }: Supply, scopes: readonly Scope[]): Entry {
  const name = supplyName(device, scopes);
  const rating = ratingUa === null ? 'rating not known' : `${toMa(ratingUa)} mA`;
  const lines = [
    `  - supply: ${scalar(name ?? '')}`,
    `    #   ${about(device)}; ${rating}`,
    '    # board: DB1',
    '    # mainsCircuit: F12',
    '    # terminalVoltage: 29.5 V',
    '    # leastTerminalVoltage: 28 V',
    '    # sourceResistance: 0.5 ohm',
    '    # currentLimit: 700 mA',
    '    # choke: own # or shared',
  ];
  return { isNamed: name !== null, lines };
}

function segmentLines({ segment, scope }: ScopedSegment, name: string | null): Entry {
  const { line, supplies, devices } = segment;
  const called = [line.name, segment.name].filter((one) => one !== null).map(quoted);
  const fedBy = supplies.flatMap(({ device }) => supplyName(device, [scope]) ?? []).map(scalar);
  const at = devices.flatMap((device) => deviceName(device, scope) ?? []).map(scalar);
  const lines = [
    `  - segment: ${scalar(name ?? '')}`,
    ...(called.length === 0 ? [] : [`    #   ${called.join(', ')}`]),
    `    #   supplies: ${supplies.length === 0 ? 'none' : ''}`.trimEnd(),
    ...supplies.map(({ device }) => `    #     ${about(device)}`),
    `    #   devices: ${devices.length === 0 ? 'none' : ''}`.trimEnd(),
    ...devices.map((device) => `    #     ${about(device)}`),
    `    # fedBy: [${fedBy.join(', ')}] # also supplies that stand elsewhere`,
    '    # cable: 0.8 mm pair',
    '    # loopResistance: 72 ohm/km # instead of cable',
    '    # temperature: 30 °C',
    '    # doubledPair: true',
    '    # runs: [{from: board, to: hall, length: 40 m}, {from: hall, to: attic, length: 20 m, cable: 0.6 mm pair}]',
    `    # places: [{at: board, devices: [${at.slice(0, 1).join()}], locations: []}, {at: hall, devices: []}]`,
    '    # totalLength: 300 m',
    '    # farthest: 150 m # cable from the nearest supply to the device that is farthest from one',
    '    # auxiliaryLoad: 50 mA',
    '    # planned: [{devices: 4, current: 12 mA, at: hall}]',
    '    # critical: true',
    '    # monitoring: true',
    '    # holdUp: {time: 4 h, battery: {capacity: 7.2 Ah, voltage: 12 V, efficiency: 85 %}, peak: {current: 100 mA, time: 30 min}}',
    `    # connected: [${at.join(', ')}]`,
    `    # measured: {currents: [${fedBy.slice(0, 1).map((one) => `{supply: ${one}, current: 320 mA}`)}], voltages: [{at: hall, voltage: 27.9 V}]}`,
  ];
  return { isNamed: name !== null, lines };
}

/** A device in words, on one line whatever its names hold. */
function about(device: Device): string {
  const { id, address, name, product, location } = device;
  const label = [address, name === '' ? null : quoted(name)].filter((one) => one !== null).join(' ') || quoted(id);
  const sort =
    product === null
      ? 'product not in the archive'
      : [product.name, product.orderNumber]
          .filter((one) => one !== null)
          .map(quoted)
          .join(' ');
  return [label, sort, location === null ? null : quoted(location)].filter((one) => one !== null).join(', ');
}

function supplyName(device: Device, scopes: readonly Scope[]): string | null {
  return ownName(callsOf(device), device, (name) => scopes.flatMap(({ supplies }) => supplies.find(name)));
}

function deviceName(device: Device, { devices }: Scope): string | null {
  return ownName(callsOf(device), device, (name) => devices.find(name));
}

function callsOf({ address, name, id }: Device): string[] {
  return [...(address === null ? [] : [address]), name, id];
}

/** The first name that a sheet may hold and that means this one alone. */
function ownName<T>(names: readonly string[], meant: T, find: (name: string) => readonly T[]): string | null {
  const isOwn = (name: string) => {
    const [found, ...others] = find(name);
    return found === meant && others.length === 0 && nameShape.safeParse(name).success;
  };
  return names.find(isOwn) ?? null;
}

function scalar(text: string): string {
  return stringify(text, { defaultStringType: 'QUOTE_DOUBLE', lineWidth: 0 }).trimEnd();
}
