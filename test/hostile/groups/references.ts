import type { Report } from '../../../src/report/report.js';
import { hardwareXml, knx, namespaceOf, topologyXml } from '../../support/xml.js';
import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import {
  archive,
  area,
  balance,
  device,
  HARDWARE,
  LAMP_ON_LINE,
  line,
  MASTER,
  PROJECT,
  products,
  SOUND,
  SUPPLY_ON_LINE,
  segment,
  TOPOLOGY,
} from '../plant.js';

const topology = (document: string) => archive({ [TOPOLOGY]: document });
const hardware = (more: string) => archive({ [HARDWARE]: products('5', more) });
/** The plant with something beside its topology. */
const beside = (more: string) => topology(segment().replace('</Topology>', `</Topology>${more}`));
const on = (devices: string) => topology(segment(SUPPLY_ON_LINE + devices));

/** Ids of the rules that found something, of those that say what is not there. */
const misses = ({ findings }: Report) =>
  findings
    .map(({ rule }) => rule)
    .filter((rule) => ['product-not-in-archive', 'device-unplaced', 'duplicate-address'].includes(rule));

const place = (report: Report) => device('lamp')(report)?.location;
const ref = (id: string) => `<DeviceInstanceRef RefId="${id}"/>`;
const product = (id: string, text: string) =>
  `<Hardware Id="h-${text}"><Products><Product Id="${id}" Text="${text}"/></Products></Hardware>`;

const twice = (what: string, document: string): Case =>
  bad(what, 422, 'invalid-value', () => topology(document), TOPOLOGY);
const elsewhere = (what: string, document: string): Case =>
  bad(what, 422, 'wrong-namespace', () => topology(document), TOPOLOGY);

export const REFERENCES: Group = {
  name: 'references, ids and what is missing',
  cases: [
    fine('a product that is not there', () => on('<DeviceInstance Id="lamp" ProductRefId="nobody"/>'), misses, [
      'product-not-in-archive',
    ]),
    fine(
      'a device without a product',
      () => on('<DeviceInstance Id="lamp"/>'),
      (report) => device('lamp')(report)?.currentMa,
      10,
    ),
    fine(
      'a product outside of any hardware',
      () => archive({ [HARDWARE]: hardwareXml('<Products><Product Id="lp"/></Products>') }),
      misses,
      ['product-not-in-archive', 'product-not-in-archive'],
    ),
    fine(
      'a product that names itself as its product',
      () => on('<DeviceInstance Id="lamp" ProductRefId="lamp"/>'),
      misses,
      ['product-not-in-archive'],
    ),
    fine('a medium that is not there', () => topology(segment().replace('MT-0', 'MT-99')), balance, SOUND),
    fine(
      'a place of nobody',
      () => beside(`<Locations><Space Name="Room">${ref('nobody')}</Space></Locations>`),
      place,
      null,
    ),
    fine('a reference outside of any place', () => beside(`<Locations>${ref('lamp')}</Locations>`), place, null),
    fine(
      'a device in two places',
      () =>
        beside(`<Locations><Space Name="A">${ref('lamp')}</Space><Space Name="B">${ref('lamp')}</Space></Locations>`),
      place,
      'B',
    ),
    fine(
      'a place in forty places',
      () => beside(`<Locations>${'<Space Name="in">'.repeat(40)}${ref('lamp')}${'</Space>'.repeat(40)}</Locations>`),
      place,
      Array(40).fill('in').join(' / '),
    ),
    fine(
      'a device on nothing',
      () =>
        topology(
          topologyXml(
            `<Area Id="A" Address="1">${line(SUPPLY_ON_LINE + LAMP_ON_LINE)}</Area><UnassignedDevices><DeviceInstance Id="x"/></UnassignedDevices>`,
          ),
        ),
      misses,
      ['device-unplaced'],
    ),
    fine('two devices at one address', () => on(LAMP_ON_LINE + LAMP_ON_LINE.replace('"lamp"', '"other"')), misses, [
      'duplicate-address',
    ]),
    fine(
      'a device in a device',
      () => on('<DeviceInstance Id="lamp" ProductRefId="lp"><DeviceInstance Id="inner"/></DeviceInstance>'),
      misses,
      ['device-unplaced'],
    ),
    fine(
      'a line of no area',
      () =>
        topology(
          topologyXml(
            `<Area Id="A" Address="1">${line(SUPPLY_ON_LINE + LAMP_ON_LINE)}</Area>${line('', { id: 'stray' })}`,
          ),
        ),
      balance,
      SOUND,
    ),
    fine(
      'two lines at one address',
      () => topology(area(line(SUPPLY_ON_LINE + LAMP_ON_LINE) + line('', { id: 'M' }))),
      balance,
      [...SOUND, 'idle 0'],
    ),
    twice('a device id twice', segment(LAMP_ON_LINE + LAMP_ON_LINE.replace('"1"', '"2"'))),
    twice('a line id twice', area(line('') + line('', { address: '2' }))),
    twice('an area id twice', topologyXml('<Area Id="A" Address="1"/><Area Id="A" Address="2"/>')),
    twice('a segment with the id of its line', area(line('').replace('S-L', 'L'))),
    twice('a device with the id of its area', segment('<DeviceInstance Id="A"/>')),
    twice('a device without an id', segment('<DeviceInstance Address="1"/>')),
    twice('a device with a blank as its id', segment('<DeviceInstance Id=" "/>')),
    twice('an area without an address', topologyXml('<Area Id="A"/>')),
    fine('a product twice and the same', () => hardware(product('x', 'X').repeat(2)), balance, SOUND),
    bad(
      'a product id for two products',
      422,
      'invalid-value',
      () => hardware(product('x', 'X') + product('x', 'Y')),
      HARDWARE,
    ),
    bad(
      'a product id for two products of two makers',
      422,
      'invalid-value',
      () => archive({ 'M-F0B2/Hardware.xml': hardwareXml(product('lp', 'X'), 'M-F0B2') }),
      'M-F0B2/Hardware.xml',
    ),
    bad(
      'a product without an id',
      422,
      'invalid-value',
      () => hardware('<Hardware Id="h"><Products><Product Text="X"/></Products></Hardware>'),
      HARDWARE,
    ),
    bad('hardware without an id', 422, 'invalid-value', () => hardware('<Hardware><Products/></Hardware>'), HARDWARE),
    bad(
      'a maker without an id',
      422,
      'invalid-value',
      () => archive({ [HARDWARE]: products().replace('M-F0A1', '') }),
      HARDWARE,
    ),
    bad('a flag that is neither', 422, 'invalid-value', () => hardware('<Hardware Id="h" IsCoupler="2"/>'), HARDWARE),
    fine('two installations', () => archive({ 'P-0001/1.xml': segment('') }), balance, [...SOUND, 'idle 0']),
    fine('two projects', () => archive({ 'P-0002/0.xml': segment('') }), balance, [...SOUND, 'idle 0']),
    bad('one project in two folders', 422, 'ambiguous-part', () => archive({ 'copy/P-0001/0.xml': segment() })),
    bad('no topology document', 422, 'no-project', () =>
      archive({ 'P-0002/project.xml': knx('<Project Id="P-0002"/>') }),
    ),
    bad(
      'no installation',
      422,
      'no-project',
      () => topology(knx('<Project Id="P-0001"><Installations/></Project>')),
      TOPOLOGY,
    ),
    bad('an installation outside of its list', 422, 'no-project', () => topology(knx('<Installation/>')), TOPOLOGY),
    bad('no area', 422, 'no-segments', () => topology(topologyXml('')), TOPOLOGY),
    bad('no line', 422, 'no-segments', () => topology(area('')), TOPOLOGY),
    bad(
      'all of it in another namespace',
      422,
      'no-segments',
      () => topology(topologyXml(`<Area xmlns="urn:other" Id="A" Address="1">${line('')}</Area>`)),
      TOPOLOGY,
    ),
    elsewhere('no namespace', '<KNX/>'),
    elsewhere('a namespace that only begins alike', segment().replace('project/23', 'project/23/more')),
    elsewhere('a namespace without a number', segment().replace('project/23', 'project/')),
    elsewhere('a namespace of five digits', segment().replace('project/23', 'project/12345')),
    elsewhere('another root', segment().replaceAll('KNX', 'Plant')),
    elsewhere('a page', '<html xmlns="http://www.w3.org/1999/xhtml"/>'),
    bad('another root in product data', 422, 'wrong-namespace', () => archive({ [HARDWARE]: '<Plant/>' }), HARDWARE),
    bad('another root in the master data', 422, 'wrong-namespace', () => archive({ [MASTER]: '<Plant/>' }), MASTER),
    bad(
      'another root in the project’s information',
      422,
      'wrong-namespace',
      () => archive({ [PROJECT]: '<Plant/>' }),
      PROJECT,
    ),
    fine(
      'a schema of the future',
      () => topology(segment().replace(namespaceOf(23), namespaceOf(9999))),
      balance,
      SOUND,
    ),
    fine('no product data', () => archive({ [HARDWARE]: hardwareXml('') }), misses, [
      'product-not-in-archive',
      'product-not-in-archive',
    ]),
  ],
};
