// @ts-check
import { checkedOutcome } from './invariants.mjs';

/**
 * What an input is by its first byte: a document that takes a place in a small good archive, stored with the checksum
 * that it has; or else an archive as it is.
 * @type {Readonly<Record<string, string>>}
 */
const DOCUMENTS = {
  T: 'P-0001/0.xml',
  H: 'M-F0A1/Hardware.xml',
  I: 'P-0001/project.xml',
  M: 'knx_master.xml',
};

const document = (/** @type {string} */ content, schema = 23) =>
  `<KNX xmlns="http://knx.org/xml/project/${schema}">${content}</KNX>`;

const device = (/** @type {number} */ n) =>
  `<DeviceInstance Id="D${n}" Address="${n}" Name="Device" ProductRefId="P${n % 4}"><AdditionalAddresses><Address Address="${n + 9}"/></AdditionalAddresses></DeviceInstance>`;

const topology = (/** @type {string} */ content, schema = 23) =>
  document(
    `<Project Id="P-0001"><Installations><Installation Name="House"><Topology><Area Id="A1" Address="1"><Line Id="L1" Address="0" MediumTypeRefId="MT-0">${content}</Line><Line Id="L2" Address="1">${device(8)}</Line></Area><UnassignedDevices>${device(7)}</UnassignedDevices></Topology><Locations><Space Type="Building" Name="House"><DeviceInstanceRef RefId="D1"/></Space></Locations></Installation></Installations></Project>`,
    schema,
  );

const hardware = document(
  `<ManufacturerData><Manufacturer RefId="M-F0A1"><Hardware>${[
    'BusCurrent="12.5" HasIndividualAddress="1" HasApplicationProgram="1"',
    'BusCurrent="640" IsPowerSupply="1" HasIndividualAddress="0"',
    'BusCurrent="10" IsCoupler="true" IsIPEnabled="0"',
    'BusCurrent="" IsChoke="0" IsAccessory="0" IsCable="0"',
  ]
    .map(
      (is, n) =>
        `<Hardware Id="H${n}" Name="It" ${is}><Products><Product Id="P${n}" Text="It" OrderNumber="${n}"/></Products></Hardware>`,
    )
    .join('')}</Hardware></Manufacturer></ManufacturerData>`,
);

const GOOD = {
  T: topology(
    `<Segment Id="S1" Number="1" MediumTypeRefId="MT-0">${device(1)}${device(0)}</Segment><Segment Id="S2">${device(2)}</Segment>`,
  ),
  H: hardware,
  I: document('<Project Id="P-0001"><ProjectInformation Name="House"/></Project>'),
  M: document(
    '<MasterData><MediumTypes><MediumType Id="MT-0" Text="Twisted Pair"/></MediumTypes><Manufacturers><Manufacturer Id="M-F0A1" Name="Maker"/></Manufacturers></MasterData>',
  ),
};

/** What the target itself knows to be of use. */
export const SEEDS = [
  ...Object.entries(GOOD).map(([kind, text]) => Buffer.from(kind + text)),
  Buffer.from(`T${topology(device(1) + device(2), 14)}`),
  Buffer.concat([Buffer.from('T'), Buffer.from(`\ufeff${GOOD.T}`, 'utf16le')]),
];

/** Far below those of the service: what is over a limit is to be reached by small inputs too. */
const LOWER = {
  uploadBytes: 96 * 1024,
  archiveEntries: 40,
  topologyBytes: 40 * 1024,
  partBytes: 24 * 1024,
  totalBytes: 64 * 1024,
  partRatio: 100,
  xmlDepth: 14,
  xmlAttributes: 24,
  xmlTagBytes: 2048,
  xmlValueLength: 512,
};

const ARCHIVE = 'an archive';

/** @param {Buffer} input */
export function kindOf(input) {
  const kind = input.toString('latin1', 0, 1);
  return Object.hasOwn(DOCUMENTS, kind) ? kind : ARCHIVE;
}

const HEALTHY_EVERY = 500;

/**
 * @param {object} code the service, as sources or instrumented
 * @param {import('./invariants.mjs').Service} code.service
 * @param {import('../../src/limits.js').Limits} code.limits
 * @param {typeof import('../support/raw-zip.js').rawZip} code.rawZip
 * @returns {Promise<(input: Buffer) => Promise<void>>} throws where something does not hold
 */
export async function targetOf({ service, limits: normal, rawZip }) {
  const limits = { ...normal, ...LOWER };
  const packed = (/** @type {Record<string, string | Buffer>} */ parts) =>
    rawZip(Object.entries(DOCUMENTS).map(([kind, name]) => ({ name, data: parts[kind] ?? '', stored: true })));
  const healthy = packed(GOOD);
  const reportOfHealthy = async () => service.FORMATS.json.format(await service.audit(healthy, { limits }));
  const report = await reportOfHealthy();
  let runs = 0;
  return async (input) => {
    const kind = kindOf(input);
    const file = kind === ARCHIVE ? input : packed({ ...GOOD, [kind]: input.subarray(1) });
    await checkedOutcome(service, file, limits);
    if (++runs % HEALTHY_EVERY === 0 && (await reportOfHealthy()) !== report) {
      throw new Error('a good archive is audited in another way than before');
    }
  };
}
