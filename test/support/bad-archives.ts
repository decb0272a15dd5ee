import type { InputFault } from '../../src/errors.js';
import { fixtureParts, zip } from './archives.js';
import { type RawEntry, rawZip } from './raw-zip.js';
import { hardwareXml, knx } from './xml.js';

/** An archive that cannot be audited, and what everybody who asks for an audit of it is told. */
export interface BadArchive {
  readonly what: string;
  readonly bytes: () => Buffer | Promise<Buffer>;
  readonly code: InputFault;
  readonly part?: string;
  readonly line?: number;
  /** What the text has to name. */
  readonly says: string;
}

const TOPOLOGY = 'P-01D4/0.xml';
const HARDWARE = 'M-F0A1/Hardware.xml';
const house = fixtureParts('house');
const topology = String(house[TOPOLOGY]);

const houseWith = (parts: Record<string, string | Uint8Array>) => zip({ ...house, ...parts });

const houseEntries: readonly RawEntry[] = Object.entries(house).map(([name, data]) => ({ name, data }));

/** The house, its topology document packed in another way. */
const houseWithTopology = (change: Partial<RawEntry>) =>
  rawZip(houseEntries.map((entry) => (entry.name === TOPOLOGY ? { ...entry, ...change } : entry)));

/** The house, and behind it another entry. */
const houseAnd = (entry: RawEntry) => rawZip([...houseEntries, entry]);

const lineOf = (text: string, word: string) => text.slice(0, text.indexOf(word)).split('\n').length;

export const BAD_ARCHIVES: readonly BadArchive[] = [
  { what: 'nothing', bytes: () => Buffer.alloc(0), code: 'not-a-zip', says: 'not a ZIP archive' },
  { what: 'text', bytes: () => Buffer.from('a shopping list'), code: 'not-a-zip', says: 'not a ZIP archive' },
  {
    what: 'a ZIP without a project',
    bytes: () => zip({ 'letter.txt': 'Dear planner', 'plan.xml': knx('') }),
    code: 'no-project',
    says: 'looked for a topology document P-XXXX/0.xml (XXXX four hexadecimal digits) among 2 parts and found none',
  },
  {
    what: 'a project without its topology document',
    bytes: () => zip({ 'P-01D4/project.xml': String(house['P-01D4/project.xml']) }),
    code: 'no-project',
    says: 'has no topology document P-01D4/0.xml',
  },
  {
    what: 'an archive cut off in the middle',
    bytes: async () => (await houseWith({})).subarray(0, 5000),
    code: 'archive-cut-off',
    says: 'cut off',
  },
  {
    what: 'the last of several volumes',
    bytes: () => rawZip(houseEntries, { end: { disk: 2 } }),
    code: 'archive-split',
    says: 'one of several volumes; join them',
  },
  {
    what: 'an archive with something behind its end',
    bytes: () => rawZip(houseEntries, { trailing: Buffer.alloc(512) }),
    code: 'archive-gap',
    says: 'behind the end of the archive stand 512 bytes',
  },
  {
    what: 'an archive with two end records',
    bytes: () => rawZip(houseEntries, { comment: rawZip([]) }),
    code: 'ambiguous-directory',
    says: 'a second end record',
  },
  {
    what: 'an archive whose directory is elsewhere',
    bytes: () => rawZip(houseEntries, { end: { directoryOffset: 0 } }),
    code: 'directory-misplaced',
    says: 'the directory is not where the end record says',
  },
  {
    what: 'an archive with an entry less than announced',
    bytes: () => rawZip(houseEntries, { end: { entries: 99, entriesHere: 99 } }),
    code: 'directory-contradictory',
    says: `the directory has ${houseEntries.length} entries where 99 are announced`,
  },
  {
    what: 'an entry that is not there',
    bytes: () => houseWithTopology({ central: { offset: 1 } }),
    code: 'entry-misplaced',
    part: TOPOLOGY,
    says: 'the entry is not where the directory says',
  },
  {
    what: 'an entry of two sizes',
    bytes: () => houseWithTopology({ local: { bytes: 1 } }),
    code: 'entry-contradictory',
    part: TOPOLOGY,
    says: 'the header of the entry contradicts the directory',
  },
  {
    what: 'two entries over the same bytes',
    bytes: () => houseAnd({ name: 'more.xml', central: { offset: 0 } }),
    code: 'entries-overlap',
    part: 'more.xml',
    says: 'lies over another one',
  },
  {
    what: 'a name that leads out of its folder',
    bytes: () => houseAnd({ name: '../more.xml' }),
    code: 'unsafe-name',
    part: '../more.xml',
    says: 'leads out of its folder',
  },
  {
    what: 'a part packed by another method',
    bytes: () => houseWithTopology({ fields: { method: 12 } }),
    code: 'unsupported-packing',
    part: TOPOLOGY,
    says: 'by method 12, and only stored (0) and deflated (8) are read',
  },
  {
    what: 'a part that cannot be inflated',
    bytes: () => houseWithTopology({ packed: Buffer.alloc(100, 0xff) }),
    code: 'inflate-failed',
    part: TOPOLOGY,
    says: 'cannot be inflated',
  },
  {
    what: 'a part that is longer than declared',
    bytes: () => houseWithTopology({ fields: { bytes: topology.length - 1 } }),
    code: 'size-mismatch',
    part: TOPOLOGY,
    says: `the part has more than the ${topology.length - 1} bytes that are declared`,
  },
  {
    what: 'a part that does not match its checksum',
    bytes: () => houseWithTopology({ fields: { crc: 1 } }),
    code: 'checksum-mismatch',
    part: TOPOLOGY,
    says: 'does not match its CRC-32',
  },
  {
    what: 'a topology document twice',
    bytes: () => houseWith({ 'p-01d4/0.XML': topology }),
    code: 'ambiguous-part',
    part: 'p-01d4/0.XML',
    says: 'another entry has the same name: "P-01D4/0.xml"',
  },
  {
    what: 'a mismatched tag',
    bytes: () => houseWith({ [TOPOLOGY]: topology.replace('</Segment>', '</Seg>') }),
    code: 'malformed-xml',
    part: TOPOLOGY,
    line: lineOf(topology, '</Segment>'),
    says: 'the end tag of "Seg" stands where "Segment" has to end',
  },
  {
    what: 'a truncated document',
    bytes: () => houseWith({ [TOPOLOGY]: topology.slice(0, topology.indexOf('</Segment>')) }),
    code: 'malformed-xml',
    part: TOPOLOGY,
    line: lineOf(topology, '</Segment>'),
    says: 'the document ends inside the element "',
  },
  {
    what: 'a document type declaration',
    bytes: () => houseWith({ [TOPOLOGY]: topology.replace('?>', '?>\n<!DOCTYPE KNX>') }),
    code: 'malformed-xml',
    part: TOPOLOGY,
    line: 2,
    says: 'document type',
  },
  {
    what: 'a foreign namespace',
    bytes: () => houseWith({ [TOPOLOGY]: topology.replace('http://knx.org/xml/project/23', 'urn:example:other') }),
    code: 'wrong-namespace',
    part: TOPOLOGY,
    says: 'the namespace "urn:example:other"',
  },
  {
    what: 'bytes that are no UTF-8',
    bytes: () => houseWith({ [TOPOLOGY]: Buffer.from(topology.replace('Whole house', 'Gebäude'), 'latin1') }),
    code: 'unreadable-encoding',
    part: TOPOLOGY,
    says: 'not valid utf-8',
  },
  {
    what: 'a value that is not allowed',
    bytes: () => houseWith({ [HARDWARE]: hardwareXml('<Hardware Id="M-F0A1_H-1" Name="Lamp" IsCoupler="perhaps"/>') }),
    code: 'invalid-value',
    part: HARDWARE,
    line: 2,
    says: 'IsCoupler of Hardware is "perhaps"',
  },
  {
    what: 'a topology without a line',
    bytes: () => houseWith({ [TOPOLOGY]: topology.replace(/<Topology>.*<\/Topology>/s, '<Topology/>') }),
    code: 'no-segments',
    part: TOPOLOGY,
    says: 'no line segment',
  },
  {
    what: 'a project protected by a password',
    bytes: () => zip({ 'knx_master.xml': String(house['knx_master.xml']), 'P-01D4.zip': 'sealed' }),
    code: 'protected-project',
    part: 'P-01D4.zip',
    says: 'export it without a password',
  },
  {
    what: 'an encrypted entry',
    bytes: () => rawZip([{ name: TOPOLOGY, data: topology, fields: { flags: 1 } }]),
    code: 'protected-project',
    part: TOPOLOGY,
    says: 'export the project without a password',
  },
];
