import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { siteSheetJsonSchema } from '../../src/site/json-schema.js';
import { readSheet } from '../../src/site/sheet.js';
import { refusalOf } from '../support/refusal.js';

const NAME = 'site.yaml';
const read = (source: string) => readSheet(source, NAME);

/** What reading says is wrong. */
async function faultOf(sheet: unknown): Promise<string> {
  const refusal = await refusalOf(() => read(typeof sheet === 'string' ? sheet : JSON.stringify(sheet)));
  expect([refusal.code, refusal.status, refusal.place]).toEqual(['invalid-site-sheet', 422, { part: NAME }]);
  return refusal.detail;
}

const faultOfSegment = (more: object) => faultOf({ segments: [{ segment: '1.1', ...more }] });

const RUNS = [
  { from: 'board', to: 'hall', length: '40 m' },
  { from: 'hall', to: 'attic', length: '0.02 km', cable: '0.6 mm pair', doubledPair: true },
];

const FULL = {
  $schema: 'site.json',
  archive: 'a'.repeat(64),
  lines: [
    {
      line: '1.2',
      segments: [
        { number: 1, name: 'First', devices: ['1.2.1'], locations: ['Ground floor'] },
        { number: 2, devices: ['1.2.2'] },
      ],
    },
  ],
  supplies: [
    {
      supply: '1.1.0',
      board: 'DB1',
      mainsCircuit: 'F12',
      terminalVoltage: '29.5 V',
      leastTerminalVoltage: '28 V',
      sourceResistance: '0.5 ohm',
      currentLimit: '700 mA',
      choke: 'own',
    },
  ],
  segments: [
    {
      segment: '1.1',
      fedBy: ['1.1.0'],
      cable: '0.8 mm pair',
      temperature: '30 °C',
      doubledPair: true,
      runs: RUNS,
      places: [{ at: 'board', devices: ['1.1.1'], locations: ['House / Ground floor / Hall'] }],
      totalLength: '300 m',
      farthest: '150 m',
      auxiliaryLoad: '50 mA',
      planned: [{ devices: 4, current: '12 mA', at: 'hall' }],
      critical: true,
      monitoring: true,
      holdUp: {
        time: '4 h',
        battery: {
          capacity: '7.2 Ah',
          voltage: '12 V',
          efficiency: '85 %',
          ownConsumption: '50 mA',
          temperature: '20 °C',
          peukert: 1.2,
          ratedOver: '20 h',
        },
        peak: { current: '100 mA', time: '30 min' },
      },
      connected: ['1.1.1'],
      measured: {
        currents: [{ supply: '1.1.0', current: '320 mA' }],
        voltages: [{ at: 'hall', voltage: '27.9 V' }, { voltage: '26 V' }],
        symptom: 'dead',
      },
    },
  ],
};

describe('a site sheet', () => {
  it.each(['', '# nothing yet', '{}', 'segments: []'])('may say nothing (%j)', async (source) => {
    expect(await read(source)).toEqual({ name: NAME, lines: [], supplies: [], segments: [] });
  });

  it('says the same in YAML and in JSON, with every quantity in one unit', async () => {
    const sheet = await read(stringify(FULL));
    expect(sheet).toEqual(await read(JSON.stringify(FULL)));
    expect(sheet.supplies[0]).toMatchObject({ terminalVoltage: 29.5, sourceResistance: 0.5, currentLimit: 700_000 });
    const battery = {
      capacity: 7.2,
      voltage: 12,
      efficiency: 0.85,
      ownConsumption: 50_000,
      peukert: 1.2,
      ratedOver: 20,
    };
    expect(sheet.segments[0]).toMatchObject({
      runs: [{ length: 40 }, { length: 20 }],
      totalLength: 300,
      farthest: 150,
      auxiliaryLoad: 50_000,
      holdUp: { time: 4, battery, peak: { current: 100_000, time: 0.5 } },
      measured: { currents: [{ current: 320_000 }], voltages: [{ voltage: 27.9 }, { voltage: 26 }] },
    });
  });

  it('is not held to say what it does not', async () => {
    const { segments } = await read('segments: [{ segment: "1.1" }]');
    expect(segments).toEqual([{ segment: '1.1', doubledPair: false, runs: [], places: [], planned: [] }]);
  });
});

describe('a fault of a site sheet is told with its place and what is allowed', () => {
  it.each([
    [
      'segments: [{ segment: 1.1 }]',
      'segments[0].segment: the number 1.1 is not allowed; it takes quotation marks around it: a text in quotation marks of 1 to 400 characters on one line such as "1.1"',
    ],
    [
      'segment: []',
      'the file: there is no key "segment"; this is a mapping of $schema, archive, lines, supplies, segments',
    ],
    [
      'archive: ABC',
      'archive: "ABC" is not allowed; it takes 64 hexadecimal digits in lower case, as the report gives them',
    ],
    ['- 1', 'the file: a list is not allowed'],
    ['[', 'it is neither YAML nor JSON'],
    ['supplies: [{ supply: a, choke: none }]', 'supplies[0].choke: "none" is not allowed; it takes one of own, shared'],
    ['lines: [{ line: "1.1", segments: [{ number: 1 }] }]', 'takes a list of at least two segments'],
  ])('%s', async (source, fault) => {
    expect(await faultOf(source)).toContain(fault);
  });

  it.each([
    [
      { totalLength: 40 },
      'segments[0].totalLength: the number 40 is not allowed; it takes a unit as well: a text of a number from 0 to 10000 m with its unit (m or km) such as 40 m',
    ],
    [
      { totalLength: '40' },
      'segments[0].totalLength: "40" is not allowed; it takes a text of a number from 0 to 10000 m with its unit (m or km) such as 40 m',
    ],
    [{ totalLength: '10001 m' }, 'segments[0].totalLength: "10001 m" is not allowed'],
    [
      { cable: '0.8 mm' },
      'segments[0].cable: "0.8 mm" is not allowed; it takes one of 0.8 mm pair, 0.6 mm pair, 0.5 mm² pair',
    ],
    [
      { cable: '0.8 mm pair', loopResistance: '72 ohm/km' },
      'segments[0].loopResistance: "72 ohm/km" is not allowed; it takes nothing beside cable',
    ],
    [
      { temperature: '30 °C' },
      'segments[0].temperature: "30 °C" is not allowed; it takes a cable or loopResistance beside it',
    ],
    [
      { doubledPair: true },
      'segments[0].doubledPair: "true" is not allowed; it takes a cable or loopResistance beside it',
    ],
    [
      { runs: RUNS },
      'segments[0].runs[0].cable: nothing is not allowed; it takes a cable, here or for the whole segment',
    ],
    [
      { cable: '0.8 mm pair', runs: [{ from: 'a', to: 'a', length: '0 m' }] },
      'segments[0].runs[0].to: "a" is not allowed; it takes another point than from',
    ],
    [
      { totalLength: '100 m', farthest: '100.1 m' },
      'segments[0].farthest: "100.1 m" is not allowed; it takes at most totalLength, 100 m',
    ],
    [{ fedBy: ['a', 'b', 'a'] }, 'segments[0].fedBy[2]: "a" is not allowed; it takes each supply once'],
    [{ connected: ['a', 'a'] }, 'segments[0].connected[1]: "a" is not allowed; it takes each device once'],
    [
      { places: [{ at: 'hall' }] },
      'segments[0].places[0].at: "hall" is not allowed; it takes a point of runs, and there are none; give runs',
    ],
    [{ planned: [{ devices: 1, at: 'hall' }] }, 'segments[0].planned[0].at: "hall" is not allowed'],
    [
      { measured: { voltages: [{ at: 'hall', voltage: '27 V' }] } },
      'segments[0].measured.voltages[0].at: "hall" is not allowed',
    ],
    [
      { cable: '0.8 mm pair', runs: RUNS, places: [{ at: 'hal' }] },
      'segments[0].places[0].at: "hal" is not allowed; it takes a point of runs; nearest: "hall"',
    ],
    [
      {
        cable: '0.8 mm pair',
        runs: RUNS,
        places: [
          { at: 'hall', devices: ['a'] },
          { at: 'attic', devices: ['a'] },
        ],
      },
      'segments[0].places[1].devices[0]: "a" is not allowed; it takes each of the devices once',
    ],
    [
      { cable: '0.8 mm pair', runs: RUNS, places: [{ at: 'hall', locations: ['a', 'a'] }] },
      'segments[0].places[0].locations[1]: "a" is not allowed; it takes each of the locations once',
    ],
    [
      { planned: [{ devices: 0 }] },
      'segments[0].planned[0].devices: "0" is not allowed; it takes a whole number from 1 to 256',
    ],
    [
      {
        measured: {
          currents: [
            { supply: 'a', current: '1 A' },
            { supply: 'a', current: '2 A' },
          ],
        },
      },
      'segments[0].measured.currents[1].supply: "a" is not allowed; it takes one current for each supply',
    ],
    [{ measured: { symptom: 'odd' } }, 'takes one of dead, far end drops out, supply at its limit'],
  ])('of a segment: %j', async (more, fault) => {
    expect(await faultOfSegment(more)).toContain(fault);
  });

  it.each([
    [
      { segments: [{ segment: 'a' }, { segment: 'a' }] },
      'segments[1].segment: "a" is not allowed; it takes one entry for each segment',
    ],
    [
      { supplies: [{ supply: 'a' }, { supply: 'a' }] },
      'supplies[1].supply: "a" is not allowed; it takes one entry for each supply',
    ],
    [
      { supplies: [{ supply: 'a', terminalVoltage: '28 V', leastTerminalVoltage: '28.1 V' }] },
      'supplies[0].leastTerminalVoltage: "28.1 V" is not allowed; it takes at most terminalVoltage, 28 V',
    ],
    [
      {
        lines: [
          {
            line: 'a',
            segments: [
              { number: 1, devices: ['x'] },
              { number: 1, devices: ['x'] },
            ],
          },
        ],
      },
      'lines[0].segments[1].number: "1" is not allowed; it takes one segment of each number; lines[0].segments[1].devices[0]: "x" is not allowed',
    ],
  ])('%j', async (sheet, fault) => {
    expect(await faultOf(sheet)).toContain(fault);
  });

  it.each([
    ['terminalVoltage', '14.999 V'],
    ['terminalVoltage', '32.001 V'],
    ['leastTerminalVoltage', '14.999 V'],
    ['leastTerminalVoltage', '32.001 V'],
  ])('%s of %s, with the range of the bus', async (key, voltage) => {
    const fault = await faultOf({ supplies: [{ supply: 'a', [key]: voltage }] });
    expect(fault).toContain(
      `supplies[0].${key}: "${voltage}" is not allowed; it takes a text of a number from 15 to 32 V with its unit (V or mV) such as 29.5 V; the bus range is 21–32 V (volume 3/2/2)`,
    );
  });

  it('a least voltage above the typical one of the standard, where the sheet gives no typical one', async () => {
    expect(await faultOf({ supplies: [{ supply: 'a', leastTerminalVoltage: '30.001 V' }] })).toBe(
      'supplies[0].leastTerminalVoltage: "30.001 V" is not allowed; it takes at most 30 V, what a supply typically gives (volume 9/2 §2.2), without terminalVoltage beside it',
    );
    const just = [
      { supply: 'a', leastTerminalVoltage: '30 V' },
      { supply: 'b', terminalVoltage: '32 V', leastTerminalVoltage: '32 V' },
      { supply: 'c', terminalVoltage: '15 V', leastTerminalVoltage: '15 V' },
    ];
    expect((await read(JSON.stringify({ supplies: just }))).supplies).toHaveLength(3);
  });

  it.each([
    [{ voltage: '0.999 V' }, 'holdUp.battery.voltage: "0.999 V"'],
    [{ voltage: '1 V', efficiency: '9.99 %' }, 'holdUp.battery.efficiency: "9.99 %"'],
  ])('a battery of %j', async (battery, fault) => {
    expect(await faultOfSegment({ holdUp: { time: '1 h', battery } })).toContain(`segments[0].${fault} is not allowed`);
    const least = { voltage: '1 V', efficiency: '10 %' };
    const { segments } = await read(
      JSON.stringify({ segments: [{ segment: 'a', holdUp: { time: '1 h', battery: least } }] }),
    );
    expect(segments[0]?.holdUp?.battery).toEqual({ voltage: 1, efficiency: 0.1 });
  });

  describe('cable beyond any site', () => {
    const run = (from: number, to: number) => ({ from: `p${from}`, to: `p${to}`, length: '1 m' });
    const chain = (points: number) => Array.from({ length: points - 1 }, (_, at) => run(at, at + 1));
    const segment = (name: string, runs: object[]) => ({ segment: name, cable: '0.8 mm pair', runs });
    const faultsOf = async (...segments: object[]) =>
      read(JSON.stringify({ segments })).then(
        () => null,
        (cause: Error) => cause.message,
      );

    it('of more than 2000 runs or points', async () => {
      expect(await faultsOf(segment('a', chain(2000)))).toBeNull();
      expect(await faultsOf(segment('a', chain(2002)))).toContain(
        'segments[0].runs: a list is not allowed; it takes a list of at most 2000 runs',
      );
      expect(await faultsOf(segment('a', chain(2001)))).toContain('runs between at most 2000 points, not 2001');
    });

    it('of more than 5000 points in all', async () => {
      const two = [segment('a', chain(2000)), segment('b', chain(2000))];
      expect(await faultsOf(...two, segment('c', chain(1000)))).toBeNull();
      expect(await faultsOf(...two, segment('c', chain(1001)))).toContain(
        'segments: a list is not allowed; it takes at most 5000 points of runs in all, not 5001',
      );
    });

    it('that is a mesh', async () => {
      const across = (many: number) => Array.from({ length: many }, (_, at) => run(at, at + 2));
      expect(await faultsOf(segment('a', [...chain(100), ...across(51)]))).toBeNull(); // 150 runs
      expect(await faultsOf(segment('a', [...chain(100), ...across(52)]))).toContain(
        'segments[0].runs: a list is not allowed; it takes at most 50 runs more than points (100): cable of a bus is no mesh',
      );
    });
  });

  it('names like a point that is none are told of the faults that are told', async () => {
    const places = Array.from({ length: 30 }, () => ({ at: 'hal' }));
    const fault = await faultOfSegment({ cable: '0.8 mm pair', runs: RUNS, places });
    expect(fault.split('nearest: "hall"')).toHaveLength(21);
    expect(fault).toContain('10 more of the kind');
  });

  it('at most twenty times', async () => {
    const fault = await faultOfSegment({ planned: Array.from({ length: 25 }, () => ({ devices: 0 })) });
    expect(fault.split('is not allowed')).toHaveLength(21);
    expect(fault).toContain('5 more of the kind');
  });

  it('and what is just allowed is none', async () => {
    const segments = [
      { segment: 'a', totalLength: '100 m', farthest: '100 m', runs: [RUNS[1]] },
      {
        segment: 'b',
        loopResistance: '72 Ω/km',
        temperature: '30 °C',
        doubledPair: true,
        runs: [{ ...RUNS[0], length: '0 m' }],
      },
      { segment: 'c', fedBy: [] },
    ];
    const supplies = [{ supply: 'a', terminalVoltage: '28 V', leastTerminalVoltage: '28 V' }];
    expect((await read(JSON.stringify({ supplies, segments }))).segments).toHaveLength(3);
  });
});

describe('the JSON Schema of a site sheet', () => {
  const validate = new Ajv2020({ strict: true, strictTypes: false }).compile(siteSheetJsonSchema());
  const length = fc.constantFrom<unknown>('40 m', '0.04 km', '1 m', '0 m', '40', 40, '4e1 m', '40 mA', null);
  const segment = fc.record(
    {
      segment: fc.constantFrom<unknown>('1.1', '1.1', 'P-1', 'P-2', 1.1, '', 'two\nlines'),
      cable: fc.constantFrom('0.8 mm pair', '1.5 mm2 pair', '1.5 mm² pair', '0.6 mm pair', '0.8'),
      totalLength: length,
      critical: fc.constantFrom<unknown>(true, false, true, false, 'yes'),
      planned: fc.array(fc.record({ devices: fc.constantFrom(0, 1, 2, 3, 255, 256, 257, 1.5) }), { maxLength: 2 }),
    },
    { requiredKeys: ['segment'] },
  );

  it('takes a full sheet', () => {
    expect([validate(FULL), validate.errors]).toEqual([true, null]);
  });

  it('agrees with reading', async () => {
    const answers = { accepted: 0, refused: 0 };
    await fc.assert(
      fc.asyncProperty(segment, async (one) => {
        const isAccepted = validate({ segments: [one] });
        answers[isAccepted ? 'accepted' : 'refused']++;
        const isRead = await read(JSON.stringify({ segments: [one] })).then(
          () => true,
          () => false,
        );
        expect(isRead).toBe(isAccepted);
      }),
      { numRuns: 500 },
    );
    expect(Math.min(answers.accepted, answers.refused)).toBeGreaterThan(20);
  });
});
