import { describe, expect, it } from 'vitest';
import { Nearest } from '../../src/documents/nearest.js';
import { segmentLabel } from '../../src/plant/plant.js';
import { Misses } from '../../src/site/misses.js';
import { readSheet } from '../../src/site/sheet.js';
import { consumer, coupler, type PlantSpec, supply } from '../support/plants.js';
import { ANOTHER, firstSite, saidOf, segmentIn, siteFault, siteOf, THIS } from '../support/sites.js';

const HALL = ['House', 'Ground floor', 'Hall'];
const ATTIC = ['House', 'Attic'];

/**
 * A house: 1.1 with a supply (DI-1), two devices in the hall (DI-2, 3) and one in the attic (DI-4); 1.2 with its coupler
 * (DI-5), a device (DI-6) and a supply (DI-7), both in the annexe's hall; one spare device (DI-9); main line 1.0 (DI-8).
 */
const HOUSE: PlantSpec = {
  lines: [
    {
      line: '1.1',
      segments: [
        [
          { ...supply(640), name: 'Supply A', places: [...HALL, 'Board'] },
          consumer(1, 10, { name: 'Switch', places: HALL }),
          consumer(2, 10, { name: 'Lamp', places: HALL }),
          consumer(3, 10, { name: 'Switch', places: ATTIC }),
        ],
      ],
    },
    {
      line: '1.2',
      segments: [
        [
          { ...coupler(5), places: [...HALL, 'Board'] },
          consumer(1, 10, { places: ['Annexe', 'Hall'] }),
          { ...supply(320), name: 'Supply B', places: ['Annexe', 'Hall'] },
        ],
      ],
    },
    { line: '1.0', segments: [[consumer(1, 10)]] },
  ],
  unassigned: [{ name: 'Spare' }],
};

const id = (number: number) => `P-0001-0_DI-${number}`;
const CABLE = { cable: '0.8 mm pair' };
const RUNS = [
  { from: 'board', to: 'hall', length: '40 m' },
  { from: 'hall', to: 'attic', length: '20 m' },
];

const ofSegment = (segment: string, more: object) => ({ segments: [{ segment, ...more }] });
const placing = (...places: object[]) => ofSegment('1.1', { ...CABLE, runs: RUNS, places });

/** Positions by the number of the device. */
async function pointsOf(sheet: unknown, label = '1.1'): Promise<Record<string, number>> {
  const { layout } = saidOf(await siteOf(sheet, HOUSE), label);
  return Object.fromEntries([...(layout?.pointOf ?? [])].map(([device, point]) => [device.split('-').at(-1), point]));
}

describe('an entry of a segment', () => {
  it('that says nothing has nothing, never 0', async () => {
    expect(saidOf(await siteOf(ofSegment('1.1', {}), HOUSE), '1.1')).toEqual({
      place: 'segments[0]',
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
    });
  });

  it.each(['1.1', 'P-0001-0_S-0-1'])('may call it %s', async (name) => {
    expect(saidOf(await siteOf(ofSegment(name, { farthest: '0 m' }), HOUSE), '1.1').farthestM).toBe(0);
  });

  it('says what it says in one unit', async () => {
    const battery = { capacity: '7.2 Ah', voltage: '12 V', ownConsumption: '50 mA' };
    const said = saidOf(
      await siteOf(
        ofSegment('1.1', {
          ...CABLE,
          temperature: '30 °C',
          runs: RUNS,
          totalLength: '0.3 km',
          auxiliaryLoad: '50 mA',
          planned: [{ devices: 4 }, { devices: 2, current: '12.5 mA', at: 'attic' }],
          critical: true,
          monitoring: true,
          holdUp: { time: '4 h', battery, peak: { current: '0.1 A', time: '30 min' } },
          connected: ['1.1.1', id(4)],
          measured: {
            currents: [{ supply: 'Supply A', current: '320 mA' }],
            voltages: [{ at: 'hall', voltage: '27.9 V' }, { voltage: '26 V' }],
            symptom: 'dead',
          },
        }),
        HOUSE,
      ),
      '1.1',
    );
    const unsaid = { efficiency: null, temperatureC: null, peukert: null, ratedHours: null };
    expect(said).toMatchObject({
      cable: { name: '0.8 mm pair', loopOhmPerKm: 73.2, temperatureC: 30, pairs: 1 },
      totalLengthM: 300,
      auxiliaryUa: 50_000,
      planned: [
        { devices: 4, currentUa: null, point: null },
        { devices: 2, currentUa: 12_500, point: 2 },
      ],
      isCritical: true,
      wantsReporting: true,
      holdUp: {
        hours: 4,
        battery: { capacityAh: 7.2, voltageV: 12, ownA: 0.05, ...unsaid },
        peak: { currentUa: 100_000, hours: 0.5 },
      },
      measured: {
        currents: [{ supply: id(1), ua: 320_000 }],
        voltages: [
          { point: 1, v: 27.9 },
          { point: null, v: 26 },
        ],
        symptom: 'dead',
      },
    });
    expect(said.connected).toEqual(new Set([id(2), id(4)]));
  });

  it('gives the resistance of every run, of its own cable and pairs', async () => {
    const runs = [
      { from: 'a', to: 'b', length: '1 km' },
      { from: 'b', to: 'c', length: '500 m', cable: '0.6 mm pair', doubledPair: false },
    ];
    const sheet = ofSegment('1.1', { loopResistance: '100 ohm/km', temperature: '30 °C', doubledPair: true, runs });
    const { cable, layout } = saidOf(await siteOf(sheet, HOUSE), '1.1');
    expect(cable).toMatchObject({
      name: null,
      loopOhmPerKm: 100,
      pairs: 2,
      source: expect.stringContaining('set by hand'),
    });
    expect(layout?.points).toEqual(['a', 'b', 'c']);
    expect(layout?.runs.map(({ from, to, lengthM }) => [from, to, lengthM])).toEqual([
      [0, 1, 1000],
      [1, 2, 500],
    ]);
    // by hand, IEC 60028: 100·1.0393/2 and 130·1.0393·0.5
    expect(layout?.runs[0]?.ohm).toBeCloseTo(51.965, 9);
    expect(layout?.runs[1]?.ohm).toBeCloseTo(67.5545, 9);
  });
});

describe('devices are placed', () => {
  it.each([
    [
      'one by one',
      placing({ at: 'hall', devices: ['1.1.1', 'Lamp'] }, { at: 'attic', devices: [id(4)] }),
      { 2: 1, 3: 1, 4: 2 },
    ],
    ['by a whole path', placing({ at: 'hall', locations: ['House / Ground floor / Hall'] }), { 1: 1, 2: 1, 3: 1 }],
    ['by the end of a path', placing({ at: 'hall', locations: ['Ground floor / Hall'] }), { 1: 1, 2: 1, 3: 1 }],
    ['by the middle of it', placing({ at: 'hall', locations: ['Ground floor'] }), { 1: 1, 2: 1, 3: 1 }],
    ['by a place that only these devices are in', placing({ at: 'hall', locations: ['Hall'] }), { 1: 1, 2: 1, 3: 1 }],
    [
      'the inner place before the outer one',
      placing({ at: 'hall', locations: ['House'] }, { at: 'board', locations: ['Board'] }),
      { 1: 0, 2: 1, 3: 1, 4: 1 },
    ],
    [
      'in whichever order',
      placing({ at: 'board', locations: ['Board'] }, { at: 'hall', locations: ['House'] }),
      { 1: 0, 2: 1, 3: 1, 4: 1 },
    ],
    [
      'a device named itself before any place',
      placing({ at: 'hall', locations: ['Hall'] }, { at: 'attic', devices: ['1.1.2'] }),
      { 1: 1, 2: 1, 3: 2 },
    ],
  ])('%s', async (_, sheet, points) => {
    expect(await pointsOf(sheet)).toEqual(points);
  });

  it('on the line that a coupler reaches, too', async () => {
    const sheet = ofSegment('1.0', { ...CABLE, runs: RUNS, places: [{ at: 'board', locations: ['Board'] }] });
    expect(await pointsOf(sheet, '1.0')).toEqual({ 5: 0 });
  });

  it('with a supply that feeds from elsewhere', async () => {
    const sheet = ofSegment('1.1', {
      ...CABLE,
      fedBy: ['Supply B'],
      runs: RUNS,
      places: [{ at: 'board', devices: ['Supply B'] }],
    });
    expect(await pointsOf(sheet)).toEqual({ 7: 0 });
  });
});

describe('a feed that the sheet states', () => {
  const feedsOf = async (sheet: unknown) => {
    const resolved = await siteOf(sheet, HOUSE);
    return ['1.1', '1.2', '1.0'].map((label) => {
      const { supplies, feed } = segmentIn(resolved, label);
      return [supplies.map(({ device }) => device.name), feed];
    });
  };

  it.each([
    [
      'none',
      {},
      [
        [['Supply A'], 'own'],
        [['Supply B'], 'own'],
        [[], 'own'],
      ],
    ],
    [
      'of twin outputs',
      ofSegment('1.0', { fedBy: ['Supply A'] }),
      [
        [['Supply A'], 'own'],
        [['Supply B'], 'own'],
        [['Supply A'], 'stated'],
      ],
    ],
    [
      'of another line takes its own away',
      ofSegment('1.1', { fedBy: ['Supply B'] }),
      [
        [['Supply B'], 'stated'],
        [['Supply B'], 'own'],
        [[], 'own'],
      ],
    ],
    [
      'of two',
      ofSegment('1.1', { fedBy: ['Supply B', id(1)] }),
      [
        [['Supply B', 'Supply A'], 'stated'],
        [['Supply B'], 'own'],
        [[], 'own'],
      ],
    ],
    [
      'of nothing',
      ofSegment('1.1', { fedBy: [] }),
      [
        [[], 'stated'],
        [['Supply B'], 'own'],
        [[], 'own'],
      ],
    ],
  ])('%s', async (_, sheet, feeds) => {
    expect(await feedsOf(sheet)).toEqual(feeds);
  });

  it('keeps lines and segments pointing to each other', async () => {
    const { projects, sites } = await siteOf(ofSegment('1.1', { fedBy: ['Supply B'] }), HOUSE);
    const lines = projects.flatMap(({ installations }) => installations.flatMap((one) => one.lines));
    expect(lines.map(({ segments }) => segments.map(segmentLabel))).toEqual([['1.1'], ['1.2'], ['1.0']]);
    for (const line of lines) for (const segment of line.segments) expect(segment.line).toBe(line);
    expect([...sites.keys()]).toEqual(projects.flatMap(({ installations }) => installations));
    expect(segmentIn({ projects }, '1.0').loads).toHaveLength(2);
  });
});

describe('an entry of a supply', () => {
  it('is held by the id of its device', async () => {
    const entry = {
      supply: 'Supply A',
      board: 'DB1',
      mainsCircuit: 'F12',
      terminalVoltage: '29.5 V',
      currentLimit: '700 mA',
      choke: 'own',
    };
    const { supplies } = firstSite(await siteOf({ supplies: [entry] }, HOUSE));
    const said = {
      place: 'supplies[0]',
      board: 'DB1',
      mainsCircuit: 'F12',
      terminalV: 29.5,
      limitUa: 700_000,
      choke: 'own',
    };
    expect([...supplies]).toEqual([[id(1), { ...said, leastTerminalV: null, sourceOhm: null }]]);
  });
});

describe('a name that the archive does not have', () => {
  const CASES: readonly (readonly [object, string, string])[] = [
    [ofSegment('1.3', {}), 'segments[0].segment', '"1.3" is no segment of the archive; nearest: "1.0", "1.1", "1.2"'],
    [
      { supplies: [{ supply: 'Suply A' }] },
      'supplies[0].supply',
      '"Suply A" is no supply of the archive; nearest: "Supply A", "Supply B"',
    ],
    [
      { supplies: [{ supply: 'Lamp' }] },
      'supplies[0].supply',
      '"Lamp" is a device of the archive, but no supply that stands on a segment',
    ],
    [
      ofSegment('1.1', { fedBy: ['Supply C'] }),
      'segments[0].fedBy[0]',
      '"Supply C" is no supply of the archive; nearest: "Supply A", "Supply B"',
    ],
    [
      placing({ at: 'hall', devices: ['1.1.9'] }),
      'segments[0].places[0].devices[0]',
      '"1.1.9" is no device of the archive; nearest: "1.1.1", "1.1.2", "1.1.3"',
    ],
    [
      placing({ at: 'hall', devices: ['1.2.1'] }),
      'segments[0].places[0].devices[0]',
      '"1.2.1" is no device of segment 1.1: it is on 1.2',
    ],
    [
      placing({ at: 'hall', devices: ['Spare'] }),
      'segments[0].places[0].devices[0]',
      '"Spare" is no device of segment 1.1: it is on no line',
    ],
    [
      placing({ at: 'hall', locations: ['Ground flor'] }),
      'segments[0].places[0].locations[0]',
      '"Ground flor" is no place in which a device of segment 1.1 is; nearest: "Ground floor"',
    ],
    [
      placing({ at: 'hall', locations: ['Annexe'] }),
      'segments[0].places[0].locations[0]',
      '"Annexe" is no place in which a device of segment 1.1 is',
    ],
    [
      ofSegment('1.1', { connected: ['1.2.1'] }),
      'segments[0].connected[0]',
      '"1.2.1" is no device of segment 1.1: it is on 1.2',
    ],
    [
      ofSegment('1.1', { measured: { currents: [{ supply: 'Supply B', current: '1 A' }] } }),
      'segments[0].measured.currents[0].supply',
      '"Supply B" is no supply of segment 1.1: it is on 1.2',
    ],
  ];

  it.each(CASES)('%j is a fault', async (sheet, place, fault) => {
    expect(await siteFault(sheet, HOUSE)).toBe(`${place}: ${fault}`);
    expect(await siteFault({ ...sheet, archive: THIS }, HOUSE)).toBe(`${place}: ${fault}`);
  });

  it.each(CASES)('%j is stale in a sheet for another state', async (sheet, place, fault) => {
    const { stale } = firstSite(await siteOf({ ...sheet, archive: ANOTHER }, HOUSE));
    expect(stale.map((one) => one.place)).toEqual([place]);
    expect(fault).toContain(JSON.stringify(stale[0]?.name));
    const now = /it is (.*)$/.exec(fault)?.[1] ?? null;
    expect(stale[0]?.now).toBe(now);
    const nearest = (/nearest: (.*)$/.exec(fault)?.[1] ?? '').split(', ').filter((name) => name !== '');
    expect(stale[0]?.nearest.map((name) => JSON.stringify(name))).toEqual(nearest);
  });

  it.each([[['Supply B', 'Supply C']], [['Supply C']]])(
    'makes the feed of a segment unknown where it is one of %j, whatever stands there',
    async (fedBy) => {
      const currents = [{ supply: 'Supply B', current: '1 A' }];
      const sheet = { archive: ANOTHER, ...ofSegment('1.1', { fedBy, measured: { currents } }) };
      const resolved = await siteOf(sheet, HOUSE);
      const { supplies, feed } = segmentIn(resolved, '1.1');
      expect([supplies, feed]).toEqual([[], 'unknown']);
      expect(saidOf(resolved, '1.1').measured?.currents).toEqual([]);
      expect(firstSite(resolved).stale.map(({ name }) => name)).toEqual(['Supply C']);
    },
  );

  it.each([
    [['1.1.9'], null],
    [['1.1.1', '1.1.9'], null],
    [['1.1.1', '1.2.1'], null],
    [['1.1.1'], new Set([id(2)])],
    [[], new Set()],
  ])('leaves open what is connected where it is one of %j', async (connected, expected) => {
    const sheet = { archive: ANOTHER, ...ofSegment('1.1', { connected }) };
    expect(saidOf(await siteOf(sheet, HOUSE), '1.1').connected).toEqual(expected);
  });

  it('is told of with all others, up to twenty', async () => {
    const connected = Array.from({ length: 22 }, (_, index) => `9.9.${index}`);
    const fault = await siteFault(ofSegment('1.1', { connected }), HOUSE);
    expect(fault.split('is no device of the archive')).toHaveLength(21);
    expect(fault).toContain('2 more of the kind');
  });
});

describe('a name that can mean several', () => {
  const TWO: PlantSpec = {
    lines: [
      { line: '1.1', segments: [[consumer(1, 5), consumer(1, 5)]] },
      { line: '1.1', segments: [[]] },
    ],
  };

  it.each([
    [
      placing({ at: 'hall', devices: ['Switch'] }),
      HOUSE,
      `segments[0].places[0].devices[0]: "Switch" can be any of "${id(2)} (1.1.1 Switch)", "${id(4)} (1.1.3 Switch)"; name the device by its id`,
    ],
    [
      ofSegment('1.1', {}),
      TWO,
      'segments[0].segment: "1.1" can be any of "P-0001-0_S-0-1", "P-0001-0_S-1-1"; name the segment by its id',
    ],
    [ofSegment('P-0001-0_S-0-1', { connected: ['1.1.1'] }), TWO, 'segments[0].connected[0]: "1.1.1" can be any of'],
  ])('%j is a fault that lists the ids, in a stale sheet too', async (sheet, plant, fault) => {
    expect(await siteFault(sheet, plant)).toContain(fault);
    expect(await siteFault({ ...sheet, archive: ANOTHER }, plant)).toContain(fault);
  });

  it('as a place lists the paths', async () => {
    const rooms: PlantSpec = {
      lines: [
        {
          line: '1.1',
          segments: [[consumer(1, 5, { places: ['A', 'Hall'] }), consumer(2, 5, { places: ['B', 'Hall'] })]],
        },
      ],
    };
    const fault = await siteFault(placing({ at: 'hall', locations: ['Hall'] }), rooms);
    expect(fault).toBe(
      'segments[0].places[0].locations[0]: "Hall" can be any of "A / Hall", "B / Hall"; write more of the path',
    );
  });

  it('where the archive holds several projects', async () => {
    expect(await siteFault(ofSegment('1.1', {}), HOUSE, HOUSE)).toContain('can be any of');
  });
});

describe('two names of one thing', () => {
  it.each([
    [
      { segments: [{ segment: '1.1' }, { segment: 'P-0001-0_S-0-1' }] },
      'segments[1].segment: the segment has an entry already, under another name',
    ],
    [
      { supplies: [{ supply: 'Supply A' }, { supply: id(1) }] },
      'supplies[1].supply: the supply has an entry already, under another name',
    ],
    [ofSegment('1.1', { fedBy: ['Supply A', id(1)] }), 'segments[0].fedBy: a supply is there under two names'],
    [
      placing({ at: 'hall', devices: ['1.1.1'] }, { at: 'attic', devices: [id(2)] }),
      'segments[0].places[1].devices[0]: "1.1.1 Switch" stands here under another name already',
    ],
    [
      placing({ at: 'hall', locations: ['Hall'] }, { at: 'attic', locations: ['Ground floor / Hall'] }),
      'segments[0].places[1].locations[0]: the place stands here under another name already',
    ],
    [
      ofSegment('1.1', {
        measured: {
          currents: [
            { supply: 'Supply A', current: '1 A' },
            { supply: id(1), current: '1 A' },
          ],
        },
      }),
      'under another name',
    ],
  ])('%j are a fault', async (sheet, fault) => {
    expect(await siteFault(sheet, HOUSE)).toContain(fault);
  });
});

describe('one supply measured under two segments', () => {
  const measured = (supply: string, ua: string) => ({ measured: { currents: [{ supply, current: ua }] } });
  const sheet = (other: string) => ({
    segments: [
      { segment: '1.1', ...measured('Supply A', '300 mA') },
      { segment: '1.0', fedBy: ['Supply A'], ...measured(id(1), other) },
    ],
  });

  it('has one current', async () => {
    const resolved = await siteOf(sheet('0.3 A'), HOUSE);
    expect(saidOf(resolved, '1.0').measured?.currents).toEqual([{ supply: id(1), ua: 300_000 }]);
    expect(await siteFault(sheet('300.001 mA'), HOUSE)).toBe(
      'segments[1].measured.currents[0].current: segments[0].measured.currents[0].current says 300 mA of the same supply',
    );
  });
});

describe('an entry of a segment without bus power', () => {
  it('is a fault, not silence', async () => {
    const plant: PlantSpec = { lines: [{ line: '0.0', medium: 'MT-5', segments: [[consumer(1, 10)]] }] };
    expect(await siteFault(ofSegment('0.0', { critical: true }), plant)).toBe(
      'segments[0].segment: "0.0" is on the medium IP, which carries no bus power',
    );
  });
});

it('looks for names like one that is gone only for the faults that are told', async () => {
  const nearest = new Nearest();
  const misses = new Misses(await readSheet(JSON.stringify({}), 'site.yaml'), THIS, nearest);
  const gone = () => {
    misses.gone({ place: 'a', kind: 'device', name: '1.1.1', said: 'no device', names: () => ['1.1.2'] });
    return nearest.work;
  };
  const work = Array.from({ length: 21 }, gone);
  expect(work[19]).toBeGreaterThan(work[18] ?? 0);
  expect(work[20]).toBe(work[19]);
});
