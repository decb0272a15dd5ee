import type { Report } from '../../src/report/report.js';
import { type RawEntry, type RawZipOptions, rawZip } from '../support/raw-zip.js';
import { hardwareXml, topologyXml } from '../support/xml.js';

/** The smallest plant that has a balance, a lamp on a supply: what bad input is made of by changing one thing. */
export const TOPOLOGY = 'P-0001/0.xml';
export const PROJECT = 'P-0001/project.xml';
export const HARDWARE = 'M-F0A1/Hardware.xml';
export const MASTER = 'knx_master.xml';

export const SUPPLY_ON_LINE = '<DeviceInstance Id="supply" ProductRefId="ps"/>';
export const LAMP_ON_LINE = '<DeviceInstance Id="lamp" Address="1" ProductRefId="lp"/>';

const SUPPLY =
  '<Hardware Id="hs" BusCurrent="320" IsPowerSupply="1"><Products><Product Id="ps" Text="Supply"/></Products></Hardware>';

/** Product data of the supply and of a lamp that declares a current. */
export function products(busCurrent = '5', more = ''): string {
  const attributes = `Id="hl" BusCurrent="${busCurrent}" HasIndividualAddress="1" HasApplicationProgram="1"`;
  const lamp = `<Hardware ${attributes}><Products><Product Id="lp" Text="Lamp"/></Products></Hardware>`;
  return hardwareXml(`${SUPPLY}${lamp}${more}`);
}

/** A topology of one area around some lines. */
export function area(lines: string): string {
  return topologyXml(`<Area Id="A" Address="1">${lines}</Area>`);
}

/** A line of one segment. */
export function line(devices: string, { id = 'L', address = '1', number = '0' } = {}): string {
  const segment = `<Segment Id="S-${id}" Number="${number}" MediumTypeRefId="MT-0">${devices}</Segment>`;
  return `<Line Id="${id}" Address="${address}">${segment}</Line>`;
}

/** A topology of one segment. */
export function segment(devices = SUPPLY_ON_LINE + LAMP_ON_LINE): string {
  return area(line(devices));
}

const PARTS: Readonly<Record<string, string>> = { [TOPOLOGY]: segment(), [HARDWARE]: products() };

type Parts = Readonly<Record<string, string | Uint8Array>>;

function entriesOf(parts: Parts): RawEntry[] {
  return Object.entries(parts).map(([name, data]) => ({ name, data }));
}

/** The plant, with parts that replace others or are added. */
export function archive(parts: Parts = {}): Buffer {
  return rawZip(entriesOf({ ...PARTS, ...parts }));
}

/** The plant, packed in another way. */
export function packed(options: RawZipOptions): Buffer {
  return rawZip(entriesOf(PARTS), options);
}

/** The plant, one of its parts packed in another way. */
export function changed(change: Partial<RawEntry>, part = TOPOLOGY): Buffer {
  return rawZip(entriesOf(PARTS).map((entry) => (entry.name === part ? { ...entry, ...change } : entry)));
}

/** The plant, and more entries behind it. */
export function and(...more: readonly RawEntry[]): Buffer {
  return rawZip([...entriesOf(PARTS), ...more]);
}

/** Verdict and load of each segment. */
export function balance({ segments }: Report) {
  return segments.map(({ verdict, load }) => `${verdict} ${load.totalMa}`);
}

/** What {@link balance} says of the unchanged plant. */
export const SOUND = ['sufficient 5'];

/** A device of the report. */
export function device(id: string) {
  return ({ segments }: Report) => segments.flatMap(({ devices }) => devices).find((one) => one.id === id);
}
