import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { planJsonSchema } from '../../src/tender/json-schema.js';
import { readPlan } from '../../src/tender/plan.js';
import { refusalOf } from '../support/refusal.js';

const NAME = 'plan.yaml';
const read = (source: string) => readPlan(source, NAME);

/** What reading says is wrong. */
async function faultOf(plan: unknown): Promise<string> {
  const refusal = await refusalOf(() => read(typeof plan === 'string' ? plan : JSON.stringify(plan)));
  expect([refusal.code, refusal.status, refusal.place.part]).toEqual(['invalid-plan', 422, NAME]);
  return refusal.message.replace(`"${NAME}"`, '').replace(/^: /, '');
}

const faultOfLine = (more: object) => faultOf({ lines: [{ line: '1.1', ...more }] });
const faultOfDevices = (more: object) => faultOfLine({ devices: [{ count: 1, ...more }] });

const FULL = {
  $schema: 'plan.json',
  project: 'Mill House',
  lines: [
    {
      line: '1.1',
      segment: 2,
      name: 'Hall',
      supply: ['640 mA', '0.64 A'],
      coupler: 'repeater',
      devices: [{ count: 6, what: 'actuator', current: '12.5 mA', orderNumber: 'ACT-4', location: 'Board' }],
    },
    { line: '1.1', supply: '320 mA', coupler: 'IP' },
    { line: '15.15', devices: [{ count: 1000 }] },
  ],
};

const isOfSchema = new Ajv2020({ strict: false }).compile(planJsonSchema());

describe('a plan', () => {
  it('may say all of this, and its schema allows it', async () => {
    const { project, lines } = await read(JSON.stringify(FULL));
    expect(project).toBe('Mill House');
    expect(lines[0]).toEqual({
      line: '1.1',
      segment: 2,
      name: 'Hall',
      supply: [640_000, 640_000],
      coupler: 'repeater',
      devices: [{ count: 6, what: 'actuator', current: 12_500, orderNumber: 'ACT-4', location: 'Board' }],
    });
    expect(isOfSchema(FULL)).toBe(true);
  });

  it('may say a line and a count and no more', async () => {
    const least = { lines: [{ line: '1.1', devices: [{ count: 40 }] }] };
    expect((await read(JSON.stringify(least))).lines).toEqual([
      { line: '1.1', segment: 1, devices: [{ count: 40, what: 'device' }] },
    ]);
    expect(isOfSchema(least)).toBe(true);
  });

  it('knows where in its text a line stands', async () => {
    const { lineOf } = await read(
      '# a plan\nlines:\n  - line: "1.1"\n\n  - line: "1.2"\n    devices:\n      - count: 1\n',
    );
    expect([lineOf(['lines', 0, 'line']), lineOf(['lines', 1, 'line'])]).toEqual([3, 5]);
    expect([lineOf(['lines', 1, 'devices', 0]), lineOf(['lines', 7])]).toEqual([7, 1]);
  });

  it.each<[string, () => Promise<string>, string]>([
    ['nothing', () => faultOf(''), 'lines: nothing is not allowed; it takes a list of at most 1024 lines'],
    ['no line', () => faultOf({ lines: [] }), 'it takes a list of 1 to 1024 lines'],
    ['prose', () => faultOf('forty push buttons'), 'it is no mapping of project and lines'],
    [
      'a line as a number',
      () => faultOf('lines: [{line: 1.10}]'),
      'lines[0].line: the number 1.1 is not allowed; it takes area',
    ],
    ['a line beyond the bus', () => faultOfLine({ line: '1.16' }), 'lines[0].line: "1.16" is not allowed'],
    ['a line with its device', () => faultOfLine({ line: '1.1.1' }), 'lines[0].line: "1.1.1" is not allowed'],
    ['a key that there is not', () => faultOfLine({ supplies: 1 }), 'lines[0]: there is no key "supplies"; this is a'],
    [
      'no device',
      () => faultOfDevices({ count: 0 }),
      'count: "0" is not allowed; it takes a whole number from 1 to 1000',
    ],
    ['too many devices', () => faultOfDevices({ count: 1001 }), 'it takes a whole number from 1 to 1000'],
    [
      'a current without unit',
      () => faultOfDevices({ current: 12 }),
      'the number 12 is not allowed; it takes a unit as well: a text of a number from 0 to 10000 mA',
    ],
    ['a current below 0', () => faultOfDevices({ current: '-1 mA' }), '"-1 mA" is not allowed'],
    [
      'a supply of nothing',
      () => faultOfLine({ supply: '0 mA' }),
      'it takes a text of a number above 0, up to 10000 mA',
    ],
    ['a supply without unit', () => faultOfLine({ supply: [640] }), 'supply: a list is not allowed; it takes a rating'],
    ['a coupler of no kind', () => faultOfLine({ coupler: 'yes' }), 'it takes one of line, IP, repeater, none'],
    [
      'a repeater on a first segment',
      () => faultOfLine({ coupler: 'repeater' }),
      'it takes line or IP or none for the',
    ],
    [
      'a coupler above the backbone',
      () => faultOfLine({ line: '0.0', coupler: 'line' }),
      '"line" is not allowed; it takes none for the first segment of this line',
    ],
    [
      'a line coupler on a further segment',
      () => faultOf({ lines: [{ line: '1.1' }, { line: '1.1', segment: 2, coupler: 'line' }] }),
      'lines[1].coupler: "line" is not allowed; it takes repeater or none for a further segment of a line',
    ],
    [
      'a line twice',
      () => faultOf({ lines: [{ line: '1.1' }, { line: '1.1' }] }),
      'lines[1].line: "1.1" is not allowed',
    ],
    [
      'too many devices together',
      () => faultOfLine({ devices: [{ count: 1000 }, { count: 1 }] }),
      'lines[0].devices: a list is not allowed; it takes at most 1000 devices together, not 1001',
    ],
    [
      'more devices than the bus has addresses',
      () => faultOf({ lines: Array.from({ length: 66 }, (_, n) => full(`${n % 15}.${Math.floor(n / 15)}`)) }),
      'lines: a list is not allowed; it takes at most 65536 devices on all lines together, not 66000',
    ],
  ])('that says %s is refused with place and what is allowed', async (_what, fault, says) => {
    expect(await fault()).toContain(says);
  });

  it('may fill the bus', async () => {
    const lines = Array.from({ length: 65 }, (_, n) => full(`${n % 15}.${Math.floor(n / 15)}`));
    expect((await read(JSON.stringify({ lines }))).lines).toHaveLength(65);
  });
});

const full = (line: string) => ({ line, devices: [{ count: 1000 }] });

const YAML = `lines:
  - line: "1.1"
    name: Ground floor
    supply: [640 mA, 640 mA]
    devices:
      - { count: 24, what: push button }
      - { count: 6, what: actuator, current: 12.5 mA, location: Board }
  - line: "1.10"
    devices: [{ count: 3 }]
`;

describe('a plan as a list', () => {
  const lines = async (source: string) => (await read(source)).lines;

  it.each([
    [
      'commas',
      'line,name,supplyMa,what,count,currentMa,location\n1.1,Ground floor,640+640,push button,24,,\n1.1,,,actuator,6,12.5,Board\n1.10,,,,3,,\n',
    ],
    [
      'semicolons and decimal commas',
      'note;line;count;what;currentMa;supplyMa;name;location\r\nx;1.1;24;push button;;640 + 640;Ground floor\r\n;1.1;6;actuator;12,5;640 + 640;Ground floor;Board\r\n;1.10;3\r\n',
    ],
    [
      'tabulators, quoted and with a byte order mark',
      '\uFEFF"line"\t"supplyMa"\t"count"\t"what"\t"currentMa"\t"name"\t"location"\n1.1\t640+640\t\t\t\t"Ground floor"\n1.1\t\t24\tpush button\n\n1.1\t\t6\tactuator\t12,5\t\tBoard\n1.10\t\t3\n',
    ],
  ])('with %s says the same as in YAML', async (_what, source) => {
    expect(await lines(source)).toEqual(await lines(YAML));
  });

  it('knows which row says what', async () => {
    const { lineOf } = await read('line,count,name\n1.2,1,\n\n1.1,2,\n1.1,3,Hall\n');
    expect([0, 1].map((index) => lineOf(['lines', index, 'line']))).toEqual([2, 4]);
    expect([0, 1].map((index) => lineOf(['lines', 1, 'devices', index]))).toEqual([4, 5]);
  });

  it('takes back what a spreadsheet was kept from calculating', async () => {
    const [line] = await lines("line,count,what\n1.1,1,'=panel\n");
    expect(line?.devices[0]?.what).toBe('=panel');
  });

  it.each([
    ['other headings', 'Linie;Anzahl\n1.1;3\n', 'it is no mapping of project and lines, and its first line has not'],
    ['a column twice', 'line,count,count\n1.1,3,4\n', ', line 1: the column count stands there twice'],
    [
      'a count that is none',
      'line,count\n1.1,3\n1.2,many\n',
      ', line 3: count: "many" is not allowed; it takes a whole',
    ],
    ['a count of 0', 'line,count\n1.1,0\n', ', line 2: count: "0" is not allowed; it takes a whole number from 1'],
    [
      'no count',
      'line,count,what\n1.1,,panel\n',
      ', line 2: count: this is not allowed; it takes a whole number from 1',
    ],
    ['thousands', 'line;count;currentMa\n1.1;1;1.280\n', 'it takes a number that cannot be taken for thousands'],
    ['a current too large', 'line,count,currentMa\n1.1,1,10001\n', 'it takes a number in mA from 0 to 10000'],
    ['a current below 0', 'line,count,currentMa\n1.1,1,-1\n', '"-1" is not allowed; it takes a number in mA from 0'],
    ['a line that is none', 'line,count\n1.1,1\n17.1,1\n', ', line 3: line: "17.1" is not allowed; it takes area and'],
    ['no line', 'line,count\n,1\n', ', line 2: line: this is not allowed; it takes area and line'],
    [
      'two supplies for one line in its rows',
      'line,count,supplyMa\n1.1,1,640\n1.2,1,320\n1.1,3,320\n',
      ', line 4: supplyMa: "320" is not allowed; it takes 640, as line 2 says',
    ],
    ['a coupler of no kind', 'line,count,coupler\n1.1,1,yes\n', 'coupler: "yes" is not allowed; it takes one of line'],
    ['a cell too many', 'line,count\n1.1,1,2\n', '"2" stands behind the last column'],
    ['a quotation mark too many', 'line,count\n1.1,"1\n', 'quotation marks do not match'],
  ])('with %s is refused with line, column and what is allowed', async (_what, source, says) => {
    expect(await faultOf(source)).toContain(says);
  });
});
