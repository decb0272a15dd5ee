import { describe, expect, it } from 'vitest';
import { buildProject } from '../../src/plant/build.js';
import { segmentLabel, segmentsOf } from '../../src/plant/plant.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import { readSheet } from '../../src/site/sheet.js';
import { splitLines } from '../../src/site/split-lines.js';
import { consumer, coupler, type PlantSpec, recordOf, supply } from '../support/plants.js';
import { refusalOf } from '../support/refusal.js';
import { repeater } from '../support/rules.js';
import { ANOTHER, THIS } from '../support/sites.js';

/** An old-form line with a repeater: DI-1 … DI-6; a further line with DI-7; the newer form on 1.3 with DI-8. */
const OLD: PlantSpec = {
  schema: 20,
  lines: [
    {
      line: '1.1',
      devices: [
        supply(640),
        coupler(5),
        consumer(1, 10, { name: 'First', places: ['House', 'Hall'] }),
        { ...repeater(64, 8), places: ['House', 'Hall', 'Board'] },
        consumer(65, 10, { places: ['House', 'Attic'] }),
        { ...supply(320), name: 'Supply of the attic', places: ['House', 'Attic'] },
      ],
    },
    { line: '1.2', devices: [consumer(1, 10)] },
    { line: '1.3', segments: [[consumer(1, 10)]] },
  ],
};

const id = (number: number) => `P-0001-0_DI-${number}`;
const sheetOf = (sheet: object) => readSheet(JSON.stringify(sheet), 'site.yaml');
const split = async (sheet: object) => splitLines([recordOf(OLD)], await sheetOf(sheet), THIS);
const faultOf = async (sheet: object) => (await refusalOf(() => split(sheet))).detail;

/** Numbers of the devices by segment, as the plant then has them. */
async function segmentsAfter(sheet: object) {
  const { records } = await split(sheet);
  const [installation] = records.flatMap((record) => buildProject(record, COMMON_PRACTICE).installations);
  const found = installation === undefined ? [] : segmentsOf(installation);
  const numbers = (segment: (typeof found)[number]) =>
    segment.devices.map((device) => Number(device.id.split('-').at(-1)));
  return found.map((segment) => [segmentLabel(segment), numbers(segment), segment.boundariesKnown]);
}

const parted = (...segments: object[]) => ({
  lines: [{ line: '1.1', segments: segments.map((segment, index) => ({ number: index + 1, ...segment })) }],
});
const OTHERS = [
  ['1.2', [7], true],
  ['1.3', [8], true],
];

describe('a line of the old form', () => {
  it('is one segment whose bounds nobody knows, until the sheet says more', async () => {
    expect(await segmentsAfter({})).toEqual([['1.1', [1, 2, 3, 4, 5, 6], false], ...OTHERS]);
  });

  it.each([
    ['by id and address', [{ devices: [id(1), '1.1.0', '1.1.1', id(4)] }, { devices: ['1.1.65', id(6)] }]],
    [
      'by place, and a device named itself before it',
      [{ devices: [id(1), '1.1.0'], locations: ['Hall'] }, { locations: ['House / Attic'] }],
    ],
    [
      'the inner place before the outer',
      [{ devices: [id(1), '1.1.0'], locations: ['House'] }, { locations: ['Attic'] }],
    ],
    [
      'by name',
      [{ devices: [id(1), '1.1.0', 'First'], locations: ['Board'] }, { devices: ['1.1.65', 'Supply of the attic'] }],
    ],
  ])('is parted %s', async (_, segments) => {
    expect(await segmentsAfter(parted(...segments))).toEqual([
      ['1.1 segment 1', [1, 2, 3, 4], true],
      ['1.1 segment 2', [5, 6], true],
      ...OTHERS,
    ]);
  });

  it('keeps beside its segments what the sheet does not name, and is then as little known as before', async () => {
    expect(await segmentsAfter(parted({ devices: [id(1)] }, { devices: ['1.1.65'] }))).toEqual([
      ['1.1 segment 1', [1], false],
      ['1.1 segment 2', [5], false],
      ['1.1 beside its segments', [2, 3, 4, 6], false],
      ...OTHERS,
    ]);
  });

  it.each(['1.1 segment 2', 'P-0001-0_L-0/2'])(
    'has a supply on the segment that it feeds, called %s',
    async (segment) => {
      const groups = [{ devices: [id(1), '1.1.0', '1.1.1', id(4)] }, { devices: ['1.1.65'] }];
      const fedBy = (name: string) => ({ ...parted(...groups), segments: [{ segment, fedBy: [name] }] });
      expect((await segmentsAfter(fedBy('Supply of the attic'))).slice(0, -2)).toEqual([
        ['1.1 segment 1', [1, 2, 3, 4], true],
        ['1.1 segment 2', [5, 6], true],
      ]);
      // One that is placed stays where it is.
      expect((await segmentsAfter(fedBy(id(1)))).slice(0, -2)).toEqual([
        ['1.1 segment 1', [1, 2, 3, 4], false],
        ['1.1 segment 2', [5], false],
        ['1.1 beside its segments', [6], false],
      ]);
    },
  );

  it('has the repeater charged on both of its sides', async () => {
    const { records } = await split(
      parted({ devices: [id(1), '1.1.0', '1.1.1'] }, { devices: [id(4)], locations: ['Attic'] }),
    );
    const [installation] = records.flatMap((record) => buildProject(record, COMMON_PRACTICE).installations);
    const charged = installation?.lines[0]?.segments.map(({ loads }) => loads.map(({ device }) => device.id));
    expect(charged).toEqual([
      [id(2), id(3), id(4)],
      [id(4), id(5)],
    ]);
  });

  it('has segments with ids, numbers and names of their own', async () => {
    const { records } = await split(parted({ name: 'Below' }, { number: 7 }));
    const [line] = records[0]?.installations[0]?.areas[0]?.lines ?? [];
    expect(line?.segments.map(({ id: own, number, name }) => [own, number, name])).toEqual([
      ['P-0001-0_L-0/1', 1, 'Below'],
      ['P-0001-0_L-0/7', 7, undefined],
    ]);
  });
});

describe('a fault in the parting of lines', () => {
  const two = [{ number: 1 }, { number: 2 }];

  it.each([
    [
      { lines: [{ line: '1.9', segments: two }] },
      'lines[0].line: "1.9" is no line of the archive; nearest: "1.1", "1.2", "1.3"',
    ],
    [{ lines: [{ line: '1.3', segments: two }] }, 'lines[0].line: the export has the segments of this line'],
    [
      {
        lines: [
          { line: '1.1', segments: two },
          { line: 'P-0001-0_L-0', segments: two },
        ],
      },
      'lines[1].line: the line has an entry already, under another name',
    ],
    [
      parted({ devices: ['1.1.66'] }, {}),
      'lines[0].segments[0].devices[0]: "1.1.66" is no device of line 1.1; nearest: "1.1.64", "1.1.65", "1.1.0"',
    ],
    [
      parted({ devices: ['1.2.1'] }, {}),
      'lines[0].segments[0].devices[0]: "1.2.1" is no device of line 1.1: it is on 1.2',
    ],
    [
      parted({ locations: ['Atic'] }, {}),
      'lines[0].segments[0].locations[0]: "Atic" is no place in which a device of line 1.1 is; nearest: "Attic"',
    ],
    [
      parted({ devices: ['1.1.1'] }, { devices: [id(3)] }),
      'lines[0].segments[1].devices[0]: "1.1.1 First" stands here under another name already',
    ],
  ])('%j', async (sheet, fault) => {
    expect(await faultOf(sheet)).toBe(fault);
  });

  it('that is in all of them is told of at once', async () => {
    expect((await faultOf(parted({ devices: ['1.1.66'] }, { devices: ['1.1.67'] }))).split('; lines')).toHaveLength(2);
  });

  it('is stale in a sheet for another state, which then parts by what is left', async () => {
    const sheet = { archive: ANOTHER, ...parted({ devices: ['1.1.66', '1.1.1'] }, { devices: ['1.2.1'] }) };
    const { records, stale } = await split(sheet);
    expect(records[0]?.installations[0]?.areas[0]?.lines[0]?.segments.map(({ devices }) => devices.length)).toEqual([
      1, 0,
    ]);
    expect(stale.map(({ kind, name, now }) => [kind, name, now])).toEqual([
      ['device', '1.1.66', null],
      ['device', '1.2.1', 'on 1.2'],
    ]);
    const lost = await split({ archive: ANOTHER, lines: [{ line: '1.9', segments: two }] });
    expect([lost.records.length, lost.stale.map(({ kind }) => kind)]).toEqual([1, ['line']]);
  });
});
