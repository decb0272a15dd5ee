import { readdirSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Archive } from '../../src/archive/archive.js';
import { readProjects } from '../../src/interchange/read.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { buildProject } from '../../src/plant/build.js';
import { isBesideSegments, type Project, segmentLabel, segmentsOf } from '../../src/plant/plant.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import { resolveSite } from '../../src/site/resolve.js';
import { readSheet } from '../../src/site/sheet.js';
import { splitLines } from '../../src/site/split-lines.js';
import { startingSheet } from '../../src/site/starting-sheet.js';
import { FIXTURES, fixtureArchive } from '../support/archives.js';
import { consumer, type DeviceSpec, type PlantSpec, recordOf, supply } from '../support/plants.js';
import { randomPlant } from '../support/random-specs.js';
import { repeater } from '../support/rules.js';
import { projectOf, THIS } from '../support/sites.js';

const HOUSES = readdirSync(FIXTURES, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
);

const resolved = async (text: string, projects: readonly Project[]) =>
  resolveSite(projects, await readSheet(text, 'site.yaml'), THIS);

async function recordsOf(fixture: string) {
  return readProjects(Archive.open(await fixtureArchive(fixture), DEFAULT_LIMITS), DEFAULT_LIMITS);
}

const built = (records: Awaited<ReturnType<typeof recordsOf>>) =>
  records.map((record) => buildProject(record, COMMON_PRACTICE));

const poweredOf = (projects: readonly Project[]) =>
  projects
    .flatMap(({ installations }) => installations.flatMap(segmentsOf))
    .filter((segment) => segment.medium.needsPower);

/** What the sheet says of any segment that it names, without its place in the sheet. */
const SAYS_NOTHING = {
  cable: null,
  layout: null,
  totalLengthM: null,
  farthestM: null,
  auxiliaryUa: null,
  planned: [],
  isCritical: null,
  wantsReporting: null,
  holdUp: null,
  measured: null,
  connected: null,
};

describe('the starting sheet of a plant', () => {
  it.each(HOUSES)('%s reads back, names every segment and supply, and says nothing of them', async (fixture) => {
    const projects = built(await recordsOf(fixture));
    const text = startingSheet(projects, THIS);
    const { sites, projects: fed } = await resolved(text, projects);
    const powered = poweredOf(projects);
    const sheet = parse(text);
    expect(sheet.archive).toBe(THIS);
    expect(sheet.segments.map((one: { segment: string }) => one.segment)).toEqual(powered.map(segmentLabel));
    expect(sheet.supplies).toHaveLength(powered.flatMap(({ supplies }) => supplies).length);
    for (const { segments, stale } of sites.values()) {
      expect(stale).toEqual([]);
      for (const { place, ...said } of segments.values()) expect([place, said]).toEqual([place, SAYS_NOTHING]);
    }
    expect(poweredOf(fed).map(({ supplies }) => supplies)).toEqual(powered.map(({ supplies }) => supplies));
    expect(startingSheet(projects, THIS)).toBe(text);
  });

  it('names every device with its product and place, in a comment', async () => {
    const lines: PlantSpec['lines'] = [
      {
        line: '1.1',
        segments: [[supply(640), consumer(7, 5, { name: 'Lamp', orderNumber: 'QH-7', places: ['House', 'Hall'] })]],
      },
    ];
    const text = startingSheet([projectOf({ lines })], THIS);
    expect(text).toContain('#     1.1.7 "Lamp", "Product 2" "QH-7", "House / Hall"');
    expect(text).toContain('- supply: "Supply"');
    expect(text).toContain('#   "Supply", "Product 1"; 640 mA');
  });

  const lines = startingSheet(
    [projectOf({ lines: [{ line: '1.1', segments: [[supply(640), consumer(7, 5)]] }] })],
    THIS,
  ).split('\n');
  const optional = lines.filter((line) => /^ {4}# \w/.test(line));
  const freed = (line: string) => line.replace('# ', '');

  it.each(optional)('takes back%s', async (line) => {
    const key = line.trim().split(/[ :]+/)[1] ?? '';
    const needs: Record<string, string> = { cable: 'runs', temperature: 'cable', doubledPair: 'cable' };
    const beside = ['runs', 'places', 'planned', 'measured'].includes(key) ? ['cable', 'runs'] : [needs[key] ?? ''];
    const isFreed = (one: string) => one === line || beside.some((other) => one.startsWith(`    # ${other}:`));
    const text = lines.map((one) => (isFreed(one) ? freed(one) : one)).join('\n');
    const { supplies = [], segments = [] } = parse(text);
    expect(Object.keys({ ...supplies[0], ...segments[0] })).toContain(key);
    const projects = [projectOf({ lines: [{ line: '1.1', segments: [[supply(640), consumer(7, 5)]] }] })];
    expect((await resolved(text, projects)).sites.size).toBe(1);
  });

  it('has a line for every key of a segment and of a supply', () => {
    const keys = optional.map((line) => line.trim().split(/[ :]+/)[1]);
    expect(keys).toEqual([
      ...[
        'board',
        'mainsCircuit',
        'terminalVoltage',
        'leastTerminalVoltage',
        'sourceResistance',
        'currentLimit',
        'choke',
      ],
      ...[
        'fedBy',
        'cable',
        'loopResistance',
        'temperature',
        'doubledPair',
        'runs',
        'places',
        'totalLength',
        'farthest',
      ],
      ...['auxiliaryLoad', 'planned', 'critical', 'monitoring', 'holdUp', 'connected', 'measured'],
    ]);
  });
});

describe('the starting sheet of a line with repeaters', () => {
  const OLD: PlantSpec = {
    schema: 20,
    lines: [{ line: '1.1', devices: [supply(640), consumer(1, 10), repeater(64)] }],
  };

  it('reads back, and shows how to part the line', async () => {
    const projects = [projectOf(OLD)];
    const text = startingSheet(projects, THIS);
    expect((await resolved(text, projects)).sites.size).toBe(1);
    const parting = text.replace(/^# (lines:| {2}- line| {4,})/gm, '$1').replace(/^segments:[\s\S]*/m, '');
    const sheet = await readSheet(parting, 'site.yaml');
    expect(sheet.lines.map(({ line, segments }) => [line, segments.length])).toEqual([['1.1', 2]]);
    const { records } = splitLines([recordOf(OLD)], sheet, THIS);
    const after = startingSheet(built([...records]), THIS);
    expect(after).toContain('- segment: "1.1 segment 1"');
    expect((await resolved(after, built([...records]))).sites.size).toBe(1);
  });

  it('is not shown where every segment is known', () => {
    const text = startingSheet([projectOf({ lines: [{ line: '1.1', segments: [[]] }] })], THIS);
    expect(text).not.toContain('lines:');
  });
});

/** Names that would break out of a comment or a scalar. */
const hostile = fc
  .array(
    fc.oneof(
      fc.constantFrom(
        '\n',
        '\r',
        '\u0085',
        '\u2028',
        '\u202e',
        '\t',
        '#',
        ' #',
        ': ',
        '"',
        "'",
        '\\',
        '- ',
        '{',
        '}',
        '[',
        ']',
      ),
      fc.constantFrom(
        '%',
        '&',
        '*',
        '!',
        '|',
        '>',
        '@',
        '`',
        '---',
        '...',
        '1.1',
        '1.1.1',
        'null',
        '~',
        'segments:',
        '\u0000',
      ),
      fc.string({ maxLength: 3 }),
    ),
    { maxLength: 6 },
  )
  .map((parts) => parts.join(''));

const device: fc.Arbitrary<DeviceSpec> = fc
  .record({
    address: fc.option(fc.integer({ min: 1, max: 4 }), { nil: undefined }),
    name: hostile,
    orderNumber: hostile,
    places: fc.array(hostile, { maxLength: 2 }),
    isSupply: fc.boolean(),
  })
  .map(({ isSupply, address, ...more }) => ({
    ...(isSupply ? supply(640) : { ma: 5 }),
    ...more,
    ...(address === undefined ? {} : { address }),
  }));

describe('whatever an archive calls its things', () => {
  const plant = fc.record({
    schema: fc.constantFrom(20, 23),
    lines: fc.array(
      fc.record({
        line: fc.constantFrom('1.1', '1.2', '0.0'),
        segments: fc.array(fc.array(device, { maxLength: 4 }), { maxLength: 2 }),
      }),
      { minLength: 1, maxLength: 3 },
    ),
  });

  it('the starting sheet reads back and says nothing', async () => {
    await fc.assert(
      fc.asyncProperty(plant, async (spec) => {
        const projects = [projectOf(spec)];
        const text = startingSheet(projects, THIS);
        expect(Object.keys(parse(text))).toEqual(['archive', 'supplies', 'segments']);
        const { sites } = await resolved(text, projects);
        for (const { segments } of sites.values()) {
          for (const { place, ...said } of segments.values()) expect([place, said]).toEqual([place, SAYS_NOTHING]);
        }
        const keys = text.split('\n').filter((line) => !/^ *(#.*)?$/.test(line));
        for (const line of keys) expect(line).toMatch(/^(archive: "|supplies:|segments:| {2}- (supply|segment): ")/);
      }),
      { numRuns: 300 },
    );
  });

  it('every segment of a random plant that is one is named, and no other', async () => {
    await fc.assert(
      fc.asyncProperty(randomPlant, async (spec) => {
        const projects = [projectOf(spec)];
        const { sites } = await resolved(startingSheet(projects, THIS), projects);
        const expected = poweredOf(projects).filter((segment) => !isBesideSegments(segment));
        expect([...sites.values()].flatMap(({ segments }) => [...segments.keys()])).toEqual(
          expected.map(({ id }) => id),
        );
      }),
      { numRuns: 100 },
    );
  });
});
