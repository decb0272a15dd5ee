import type { Case, Group } from '../cases.js';
import { bad, fine, slow } from '../cases.js';
import {
  archive,
  area,
  balance,
  HARDWARE,
  line,
  products,
  SOUND,
  SUPPLY_ON_LINE,
  segment,
  TOPOLOGY,
} from '../plant.js';

/** As long as a name that is read may be. */
const NAME = 'n'.repeat(4096);

const many = (count: number, one: (index: number) => string) =>
  Array.from({ length: count }, (_, index) => one(index)).join('');
const device = (index: number) => `<DeviceInstance Id="d${index}" Address="1" ProductRefId="lp"/>`;
const ref = (index: number) => `<DeviceInstanceRef RefId="d${index}"/>`;

/** A small archive of which the report would be a large one: a text that stands there once, and is told many times. */
const long = (what: string, document: () => string, hardware = products()): Case =>
  slow(bad(what, 413, 'limit-exceeded', () => archive({ [TOPOLOGY]: document(), [HARDWARE]: hardware })));

/** Product data of so many products. */
const listed = (count: number) =>
  `<Hardware Id="h"><Products>${many(count, (index) => `<Product Id="p${index}"/>`)}</Products></Hardware>`;

/** Topology documents of so many projects. */
function projects(count: number): Record<string, string> {
  const ids = Array.from({ length: count }, (_, index) => (index + 16).toString(16).padStart(4, '0'));
  return Object.fromEntries(ids.map((id) => [`P-${id}/0.xml`, segment('')]));
}

/** Devices in places, each place in fifty others. */
function placed(places: string): string {
  const locations = `<Locations>${`<Space Name="${NAME}">`.repeat(50)}${places}${'</Space>'.repeat(50)}</Locations>`;
  return segment(many(10_000, device)).replace('</Topology>', `</Topology>${locations}`);
}

export const GROWTH: Group = {
  name: 'what is small in the archive and large behind it',
  cases: [
    long(
      'a long name of a product with 20,000 devices',
      () => segment(many(20_000, device)),
      products('5').replace('"Lamp"', `"${NAME}"`),
    ),
    long(
      'a long current of a product with 20,000 devices',
      () => segment(many(20_000, device)),
      products('9'.repeat(4096)).replace('"Lamp"', `"${NAME}"`),
    ),
    long('10,000 devices in a place of long names', () => placed(many(10_000, ref))),
    long('10,000 devices, each in a place of its own', () =>
      placed(many(10_000, (index) => `<Space Name="s">${ref(index)}</Space>`)),
    ),
    long(
      'devices that are nowhere, of a long name',
      () =>
        segment().replace('</Topology>', `<UnassignedDevices>${many(20_000, device)}</UnassignedDevices></Topology>`),
      products().replace('"Lamp"', `"${NAME}"`),
    ),
    long('12,000 lines', () => area(many(12_000, (index) => line(device(index), { id: `l${index}` })))),
    long('15,000 segments on one line', () => {
      const segments = many(15_000, (index) => `<Segment Id="s${index}" Number="0">${device(index)}</Segment>`);
      return area(`<Line Id="L" Address="1">${segments}</Line>`);
    }),
    fine(
      '300,000 products that nobody uses',
      () => archive({ [HARDWARE]: products('5', listed(300_000)) }),
      balance,
      SOUND,
    ),
    fine(
      '1,000 projects that share 10,000 products',
      () => archive({ ...projects(1000), [HARDWARE]: products('5', listed(10_000)) }),
      (report) => report.projects.length,
      1001,
    ),
    long('160,000 supplies on one segment', () =>
      segment(many(160_000, (index) => SUPPLY_ON_LINE.replace('"supply"', `"s${index}"`))),
    ),
  ],
};
