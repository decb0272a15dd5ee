// @ts-check
import { Random } from './random.mjs';

/** @import { Maker, Product } from './products.mjs' */

const FLAGS = [
  'IsAccessory',
  'IsPowerSupply',
  'IsChoke',
  'IsCoupler',
  'IsPowerLineRepeater',
  'IsPowerLineSignalFilter',
  'IsCable',
  'IsIPEnabled',
  'IsRFRetransmitter',
];
const LANGUAGES = [
  'cs-CZ',
  'da-DK',
  'de-DE',
  'es-ES',
  'fi-FI',
  'fr-FR',
  'it-IT',
  'nl-NL',
  'nb-NO',
  'pl-PL',
  'pt-PT',
  'sv-SE',
];
const WORDS =
  'output input channel delay value scene operation bus voltage return block status object send cyclic normal inverted enabled disabled day night heating cooling blind slat position dimming time switching lock alarm wind sensor threshold hysteresis temperature set point control'.split(
    ' ',
  );

/**
 * A document of the interchange form.
 * @param {number} schema
 * @param {Iterable<string>} body
 */
export function* document(schema, body) {
  yield `<?xml version="1.0" encoding="utf-8"?>\n<KNX xmlns="http://knx.org/xml/project/${schema}">\n`;
  yield* body;
  yield '</KNX>\n';
}

/**
 * Product data of a maker: its products, and translations up to about the maker's size.
 * @param {Maker} maker
 * @param {readonly Product[]} products
 */
export function* hardware(maker, products) {
  yield `  <ManufacturerData>\n    <Manufacturer RefId="${maker.id}">\n      <Hardware>\n`;
  let bytes = 0;
  for (const product of products) {
    const text = hardwareOf(product);
    bytes += text.length;
    yield text;
  }
  yield '      </Hardware>\n';
  const ids = products.flatMap(({ id, hardwareId }) => [id, hardwareId]);
  yield* languages(ids, maker.hardwareBytes - bytes, new Random(maker.hardwareBytes));
  yield '    </Manufacturer>\n  </ManufacturerData>\n';
}

/** @param {Product} product */
function hardwareOf({ kind, id, hardwareId, programId, programHardwareId, text, order, ma }) {
  const current = ma === undefined ? '' : ` BusCurrent="${ma}"`;
  const addressed = kind.unaddressed ? '0' : '1';
  const flags = FLAGS.map((flag) => `${flag}="${kind.flags?.includes(flag) ? 1 : 0}"`).join(' ');
  const programs = kind.unaddressed
    ? ''
    : `          <Hardware2Programs>
            <Hardware2Program Id="${programHardwareId}" MediumTypes="MT-0">
              <ApplicationProgramRef RefId="${programId}" />
            </Hardware2Program>
          </Hardware2Programs>
`;
  return `        <Hardware Id="${hardwareId}" Name="${text}" SerialNumber="${order}" VersionNumber="1"${current} HasIndividualAddress="${addressed}" HasApplicationProgram="${addressed}" ${flags}>
          <Products>
            <Product Id="${id}" Text="${text}" OrderNumber="${order}" IsRailMounted="0" WidthInMillimeter="72" DefaultLanguage="en-GB" />
          </Products>
${programs}        </Hardware>
`;
}

/**
 * A section of translations of about a length.
 * @param {readonly string[]} ids
 * @param {number} bytes
 * @param {Random} random
 */
function* languages(ids, bytes, random) {
  if (bytes <= 0) return;
  yield '      <Languages>\n';
  for (const language of LANGUAGES) {
    yield `        <Language Identifier="${language}">\n          <TranslationUnit RefId="${ids[0]}">\n`;
    for (let left = bytes / LANGUAGES.length; left > 0; ) {
      const text = translation(random.pick(ids), random);
      left -= text.length;
      yield text;
    }
    yield '          </TranslationUnit>\n        </Language>\n';
  }
  yield '      </Languages>\n';
}

/**
 * @param {string} id
 * @param {Random} random
 */
function translation(id, random) {
  return `            <TranslationElement RefId="${id}">
              <Translation AttributeName="Text" Text="${phrase(random)}" />
            </TranslationElement>
`;
}

/** @param {Random} random */
function phrase(random) {
  return Array.from({ length: random.between(2, 5) }, () => random.pick(WORDS)).join(' ');
}

/**
 * Master data: two short lists that are of use, and much else.
 * @param {readonly Maker[]} makers
 * @param {number} bytes about how long it is
 */
export function* masterData(makers, bytes) {
  const random = new Random(0x3a57);
  yield '  <MasterData Version="2101">\n    <DatapointTypes>\n';
  const datapoints = Array.from({ length: 300 }, (_, index) => `DPT-${index + 1}`);
  for (const id of datapoints) yield datapoint(id, random);
  yield '    </DatapointTypes>\n    <MediumTypes>\n';
  for (const [id, name, text] of MEDIA)
    yield `      <MediumType Id="${id}" Number="${id.slice(3)}" Name="${name}" Text="${text}" />\n`;
  yield '    </MediumTypes>\n    <MaskVersions>\n';
  for (let left = bytes / 4; left > 0; ) {
    const text = mask(random);
    left -= text.length;
    yield text;
  }
  yield '    </MaskVersions>\n    <Manufacturers>\n';
  for (let number = 1; number <= 600; number++)
    yield `      <Manufacturer Id="M-${hex4(number)}" KnxManufacturerId="${number}" Name="Maker ${number}" DefaultLanguage="en-GB" />\n`;
  for (const { id, name } of makers)
    yield `      <Manufacturer Id="${id}" KnxManufacturerId="${Number.parseInt(id.slice(2), 16)}" Name="${name}" DefaultLanguage="en-GB" />\n`;
  yield '    </Manufacturers>\n';
  yield* languages(datapoints, bytes * 0.6, random);
  yield '  </MasterData>\n';
}

const MEDIA = /** @type {const} */ ([
  ['MT-0', 'TP', 'Twisted pair'],
  ['MT-1', 'PL', 'Powerline'],
  ['MT-2', 'RF', 'Radio'],
  ['MT-5', 'IP', 'IP'],
]);

/** @param {number} number */
function hex4(number) {
  return number.toString(16).toUpperCase().padStart(4, '0');
}

/**
 * @param {string} id
 * @param {Random} random
 */
function datapoint(id, random) {
  const number = id.slice(4);
  return `      <DatapointType Id="${id}" Number="${number}" Name="${number}.xxx" Text="${phrase(random)}" SizeInBit="${random.pick([1, 2, 4, 8, 16, 32])}">
        <DatapointSubtypes>
          <DatapointSubtype Id="DPST-${number}-1" Number="1" Name="${phrase(random)}" Text="${phrase(random)}" />
        </DatapointSubtypes>
      </DatapointType>
`;
}

/** @param {Random} random */
function mask(random) {
  const version = random.hex(4);
  const resources = Array.from(
    { length: 24 },
    () => `          <Resource Name="${phrase(random)}" Access="${random.pick(['local1', 'remote', 'remote local1'])}">
            <Location AddressSpace="SystemProperty" InterfaceObjectRef="${random.below(20)}" PropertyID="${random.below(90)}" />
            <ResourceType Length="${random.below(12)}" Flavour="${random.pick(WORDS)}" />
          </Resource>
`,
  );
  return `      <MaskVersion Id="MV-${version}" MaskVersion="${Number.parseInt(version, 16)}" Name="${version}" MediumTypeRefId="MT-0">
        <Resources>
${resources.join('')}        </Resources>
      </MaskVersion>
`;
}

/**
 * An application program: long, and of no use to an audit.
 * @param {Product} product
 * @param {number} bytes about how long it is
 */
export function* program({ maker, programId, text, parameters }, bytes) {
  const random = new Random(parameters.length + bytes);
  const channel = Array.from({ length: 90 }, () => ({
    name: phrase(random),
    type: random.below(40),
  }));
  yield `  <ManufacturerData>
    <Manufacturer RefId="${maker.id}">
      <ApplicationPrograms>
        <ApplicationProgram Id="${programId}" ApplicationVersion="16" Name="${text}" MaskVersion="MV-07B0">
          <Static>
            <Parameters>
`;
  for (let left = bytes, number = 1; left > 0; number++) {
    const { name, type } = channel[number % channel.length] ?? {};
    const line = `              <Parameter Id="${programId}_P-${number}" Name="${name}" ParameterType="${programId}_PT-${type}" Text="${name}" Value="${random.chance(0.5) ? 0 : random.below(100)}" />\n`;
    left -= line.length;
    yield line;
  }
  yield `            </Parameters>
          </Static>
          <Dynamic />
        </ApplicationProgram>
      </ApplicationPrograms>
    </Manufacturer>
  </ManufacturerData>
`;
}

/** @param {string} project */
export function* information(project) {
  yield `  <Project Id="${project}">
    <ProjectInformation Name="Generated campus" GroupAddressStyle="ThreeLevel" ProjectNumber="26-001" ProjectStart="2024-09-02T08:00:00Z" LastModified="2026-03-13T15:20:00Z" Guid="00000000-0000-4000-8000-000000000001" CompletionStatus="Editing" />
  </Project>
`;
}
