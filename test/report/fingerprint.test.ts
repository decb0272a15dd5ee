import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import type { Waiver } from '../../src/policy/waivers.js';
import type { Report } from '../../src/report/report.js';
import { applyWaivers } from '../../src/report/waivers.js';
import { fixtureParts, zip } from '../support/archives.js';
import { waiver } from '../support/waivers.js';
import { hardwareXml, topologyXml } from '../support/xml.js';

/** A plant whose elements have ids of their own, so that it can be written in other orders. */
interface Plant {
  readonly schema: number;
  readonly lines: readonly { readonly area: number; readonly line: number; readonly segments: readonly Segment[] }[];
  readonly unassigned: readonly Device[];
}
interface Segment {
  readonly number: number;
  readonly devices: readonly Device[];
}
interface Device {
  readonly id: number;
  readonly product: number;
  readonly address: number | null;
}

/** How a plant is written. */
interface Writing {
  readonly project: string;
  /** Orders things by their id. */
  readonly key: (id: number) => number;
  /** Every address but that of couplers, anew. */
  readonly address: (address: number) => number;
  readonly isReversed: boolean;
}

/** One of each kind, some with what is wrong in practice. */
const PRODUCTS = [
  'BusCurrent="7.5" HasIndividualAddress="1"',
  'BusCurrent="120" HasIndividualAddress="1"',
  'HasIndividualAddress="1"',
  'BusCurrent="-3" HasIndividualAddress="1"',
  'BusCurrent="160" IsPowerSupply="1" HasIndividualAddress="0"',
  'BusCurrent="1280" IsPowerSupply="1" HasIndividualAddress="0"',
  'IsPowerSupply="1" HasIndividualAddress="0"',
  'IsChoke="1" HasIndividualAddress="0"',
  'BusCurrent="5" IsCoupler="1" HasIndividualAddress="1"',
];
const SUPPLIES_FROM = 4;
const NOT_IN_ARCHIVE = PRODUCTS.length;
const NOT_NAMED = PRODUCTS.length + 1;

const device = fc.record({
  id: fc.nat({ max: 1e9 }),
  product: fc.nat({ max: NOT_NAMED }),
  address: fc.oneof(fc.constantFrom(null, 0, 1, 1, 255), fc.integer({ min: 1, max: 255 })),
});
const place = fc.record({ area: fc.nat({ max: 2 }), line: fc.nat({ max: 2 }) });

const plant: fc.Arbitrary<Plant> = fc
  .record({
    schema: fc.constantFrom(14, 20, 21, 23, 99),
    places: fc.uniqueArray(place, { selector: ({ area, line }) => `${area}.${line}`, minLength: 1, maxLength: 5 }),
    devices: fc.uniqueArray(device, { selector: ({ id }) => id, minLength: 4, maxLength: 40 }),
  })
  .map(({ schema, places, devices }) => {
    const sections = places.length * (schema < 21 ? 1 : 2) + 1; // of each line one or two segments, and what is on none
    const at = (section: number) => devices.filter(({ id }) => id % sections === section);
    const lines = places.map((where, index) => {
      const numbers = schema < 21 ? [0] : [0, 1];
      const segments = numbers.map((number) => ({ number, devices: at(index * numbers.length + number) }));
      return { ...where, segments };
    });
    return { schema, lines, unassigned: at(sections - 1) };
  });

const PLAIN: Writing = { project: 'P-0001', key: (id) => id, address: (address) => address, isReversed: false };

const writing: fc.Arbitrary<Writing> = fc
  .record({
    project: fc.integer({ min: 0, max: 0xffff }),
    factor: fc.integer({ min: 1, max: 1e6 }),
    shift: fc.nat({ max: 254 }),
    isReversed: fc.boolean(),
  })
  .map(({ project, factor, shift, isReversed }) => ({
    project: `P-${project.toString(16).toUpperCase().padStart(4, '0')}`,
    key: (id) => (id * factor) % 7919,
    address: (address) => (address === 0 ? 0 : ((address - 1 + shift) % 255) + 1),
    isReversed,
  }));

function written({ schema, lines, unassigned }: Plant, { project, key, address, isReversed }: Writing) {
  const inOrder = <T>(list: readonly T[], id: (one: T) => number) => [...list].sort((a, b) => key(id(a)) - key(id(b)));
  const devices = (list: readonly Device[]) =>
    inOrder(list, ({ id }) => id)
      .map(({ id, product, address: own }) => {
        // Supplies have no address; a coupler has one, or it would be between nothing.
        const isAddressed = own !== null && (product < SUPPLIES_FROM || product >= PRODUCTS.length - 1);
        const at = isAddressed ? ` Address="${address(own)}"` : '';
        const of = product === NOT_NAMED ? '' : ` ProductRefId="P${product === NOT_IN_ARCHIVE ? 'X' : product}"`;
        return `<DeviceInstance Id="P-0001-0_DI-${id}"${at}${of}/>`;
      })
      .join('');
  const areas = [...new Set(lines.map(({ area }) => area))];
  const topology = inOrder(areas, (area) => area + 1).map((area) => {
    const own = inOrder(
      lines.filter((one) => one.area === area),
      ({ line }) => line + 1,
    );
    const content = own.map(({ line, segments }) => {
      const inside = inOrder(segments, ({ number }) => number + 1).map(({ number, devices: list }) =>
        schema < 21
          ? devices(list)
          : `<Segment Id="P-0001-0_S-${area}${line}${number}" Number="${number}" MediumTypeRefId="MT-0">${devices(list)}</Segment>`,
      );
      const medium = schema < 21 ? ' MediumTypeRefId="MT-0"' : '';
      return `<Line Id="P-0001-0_L-${area}${line}" Address="${line}"${medium}>${inside.join('')}</Line>`;
    });
    return `<Area Id="P-0001-0_A-${area}" Address="${area}">${content.join('')}</Area>`;
  });
  const spare = `<UnassignedDevices>${devices(unassigned)}</UnassignedDevices>`;
  const products = PRODUCTS.map(
    (attributes, index) =>
      `<Hardware Id="H${index}" ${attributes}><Products><Product Id="P${index}" Text="Product ${index}"/></Products></Hardware>`,
  );
  const parts = [
    [`${project}/0.xml`, topologyXml(topology.join('') + spare, schema).replaceAll('P-0001', project)],
    [
      'M-F0A1/Hardware.xml',
      hardwareXml(inOrder(products, (one) => products.indexOf(one) + 1).join(''), 'M-F0A1', schema),
    ],
  ];
  return Object.fromEntries(isReversed ? parts.reverse() : parts) as Record<string, string>;
}

const fingerprints = ({ findings }: Report) => findings.map(({ fingerprint }) => fingerprint).sort();

/** Waivers of all findings of a report, at their figures. */
function accepting({ findings }: Report): Waiver[] {
  const byFingerprint = new Map(findings.map((finding) => [finding.fingerprint, finding]));
  return [...byFingerprint.values()].map(({ fingerprint, rule, measure: { value, unit } }) => ({
    ...waiver({ fingerprint, rule: rule as Waiver['rule'] }),
    ...(value === null ? {} : { accepted: `${value} ${unit}` }),
  }));
}

describe('the fingerprints of an archive', () => {
  it('stay through other orders, addresses and project ids, and so do waivers', async () => {
    const seen = new Set<string>();
    await fc.assert(
      fc.asyncProperty(plant, writing, async (spec, other) => {
        const one = await audit(await zip(written(spec, PLAIN)));
        const again = await audit(await zip(written(spec, other)));
        for (const { rule } of one.findings) seen.add(rule);
        expect(fingerprints(again)).toEqual(fingerprints(one));
        const { findings, summary } = applyWaivers(again, accepting(one), '2027-01-01');
        expect(findings.filter(({ waiver: mark }) => mark === null)).toEqual([]);
        expect(summary.waived).toBe(one.findings.length);
      }),
      { numRuns: 60 },
    );
    // The plants have findings of most rules, or this would hold for little.
    expect(seen.size).toBeGreaterThan(10);
  });

  it('are each of one finding', async () => {
    await fc.assert(
      fc.asyncProperty(plant, async (spec) => {
        const all = fingerprints(await audit(await zip(written(spec, PLAIN))));
        expect(new Set(all).size).toBe(all.length);
      }),
      { numRuns: 60 },
    );
  });

  it.each(['school', 'repeaters', 'twin-old', 'twin-new'])(
    'of %s stay when the project is imported anew',
    async (fixture) => {
      const parts = Object.entries(fixtureParts(fixture)).map(([name, data]) => [name, data.toString()] as const);
      const id = parts.map(([name]) => /^P-[0-9A-F]{4}/.exec(name)?.[0]).find((found) => found !== undefined) ?? '';
      const renamed = parts.map(([name, text]) => [name.replace(id, 'P-0F0F'), text.replaceAll(id, 'P-0F0F')] as const);
      const [one, other] = await Promise.all(
        [parts, renamed.reverse()].map(async (own) => audit(await zip(Object.fromEntries(own)))),
      );
      if (one === undefined || other === undefined) throw new Error('nothing was audited');
      expect(other.projects.map((project) => project.id)).toEqual(['P-0F0F']);
      expect(other.findings).not.toEqual([]);
      expect(fingerprints(other)).toEqual(fingerprints(one));
      expect(applyWaivers(other, accepting(one), '2027-01-01').summary.waived).toBe(one.findings.length);
    },
  );
});
