import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { InputError } from '../../src/errors.js';
import { isDay } from '../../src/policy/day.js';
import { PLANT_RULE_IDS } from '../../src/policy/rule-ids.js';
import { figureOf, isSameUnit, readWaivers, waiversFileSchema } from '../../src/policy/waivers.js';
import { waiver } from '../support/waivers.js';

const read = (entries: unknown) => readWaivers(JSON.stringify({ waivers: entries }), 'waivers.yaml');

/** What reading says is wrong. */
async function faultOf(source: string): Promise<string> {
  const cause = await readWaivers(source, 'waivers.yaml').then(
    () => 'nothing is',
    (thrown: unknown) => thrown,
  );
  if (!(cause instanceof InputError)) throw cause;
  expect([cause.code, cause.status, cause.place]).toEqual(['invalid-waivers', 422, { part: 'waivers.yaml' }]);
  return cause.detail;
}

const faultOfEntry = (more: object) => faultOf(JSON.stringify({ waivers: [{ ...waiver(), ...more }] }));

describe('a list of waivers', () => {
  it('is read from YAML, where a day stays a text', async () => {
    const source = `
# what the council accepted
waivers:
  # The tower is rebuilt next year.
  - fingerprint: 0123456789abcdef0123456789abcdef
    rule: low-headroom
    reason: the tower is rebuilt next year
    author: A. Planner
    expires: 2028-02-29
    accepted: 84 %
    raiseAbove: 90.5 %
`;
    expect(await readWaivers(source, 'waivers.yaml')).toEqual([
      {
        fingerprint: '0123456789abcdef0123456789abcdef',
        rule: 'low-headroom',
        reason: 'the tower is rebuilt next year',
        author: 'A. Planner',
        expires: '2028-02-29',
        accepted: '84 %',
        raiseAbove: '90.5 %',
      },
    ]);
  });

  it('is read from JSON, with the place of its schema', async () => {
    const source = JSON.stringify({ $schema: 'waivers.json', waivers: [waiver()] });
    expect(await readWaivers(source, 'waivers.json')).toEqual([waiver()]);
  });

  it('may be empty, but has to be there', async () => {
    expect(await read([])).toEqual([]);
    expect(await faultOf('')).toContain('waivers: nothing is not allowed; it takes a list of at most 5000 waivers');
    expect(await faultOf('waivers:')).toContain('it takes a list of at most 5000 waivers');
  });

  it('has at most 5000 entries', async () => {
    const entries = Array.from({ length: 5001 }, (_, index) =>
      waiver({ fingerprint: index.toString(16).padStart(32, '0') }),
    );
    expect(await read(entries.slice(1))).toHaveLength(5000);
    expect(await faultOf(JSON.stringify({ waivers: entries }))).toContain('a list of at most 5000 waivers');
  });

  it('has one entry for each fingerprint, whatever its rule', async () => {
    const [one, other] = [waiver(), waiver({ fingerprint: 'f'.repeat(32) })];
    expect(await read([one, other])).toHaveLength(2);
    const repeated = { ...one, rule: 'overloaded-segment' };
    expect(await faultOf(JSON.stringify({ waivers: [one, other, repeated] }))).toBe(
      `waivers[2].fingerprint: "${one.fingerprint}" is not allowed; it takes one entry for each fingerprint, and waivers[0] has this one`,
    );
  });

  it.each([
    ['a fingerprint that is too short', { fingerprint: 'a'.repeat(31) }, '32 hexadecimal digits'],
    ['a fingerprint that is too long', { fingerprint: 'a'.repeat(33) }, '32 hexadecimal digits'],
    ['a fingerprint in capitals', { fingerprint: 'A'.repeat(32) }, '32 hexadecimal digits'],
    ['a number as fingerprint', { fingerprint: 12 }, '32 hexadecimal digits'],
    ['a rule that is none', { rule: 'low-head' }, 'one of overloaded-segment,'],
    ['a rule about waivers, which nobody waives', { rule: 'waiver-expired' }, 'one of overloaded-segment,'],
    ['no reason', { reason: undefined }, 'a text of 1 to 500 characters on one line'],
    ['an empty reason', { reason: ' ' }, 'a text of 1 to 500 characters on one line'],
    ['a reason that is too long', { reason: 'x'.repeat(501) }, 'a text of 1 to 500 characters on one line'],
    ['a reason of two lines', { reason: 'a\nb' }, 'a text of 1 to 500 characters on one line'],
    ['no author', { author: undefined }, 'a text of 1 to 200 characters on one line'],
    ['a key that is none', { expired: '2027-01-01' }, 'there is no key "expired"'],
    ['a limit without what was accepted', { raiseAbove: '90 %' }, 'an accepted figure beside raiseAbove'],
    ['a limit in another unit', { accepted: '84 %', raiseAbove: '540 mA' }, 'a figure in the unit of accepted'],
  ])('refuses %s', async (_, more, allowed) => {
    expect(await faultOfEntry(more)).toContain(allowed);
  });

  it('refuses a number alone', async () => {
    expect(await faultOfEntry({ accepted: 84 })).toContain(
      'waivers[0].accepted: the number 84 is not allowed; it takes a number and its unit',
    );
  });

  it.each(['84', '%', '84,5 %', '84. %', '.5 mA', '+84 %', '1e3 mA', '84  %', ' 84 %', '84 %\n', '84 mA 2'])(
    'refuses %j as a figure',
    async (accepted) => {
      expect(await faultOfEntry({ accepted })).toContain(
        `waivers[0].accepted: "${accepted.replace('\n', '\\u{a}')}" is not allowed; it takes a number and its unit`,
      );
    },
  );

  it.each([
    ['84 %', 84, '%'],
    ['84.125%', 84.125, '%'],
    ['540 mA', 540, 'mA'],
    ['-8 mA', -8, 'mA'],
    ['0 couplers', 0, 'couplers'],
    ['22 schema number', 22, 'schema number'],
  ])('reads %s as a figure', async (accepted, value, unit) => {
    expect(await read([waiver({ accepted })])).toEqual([waiver({ accepted })]);
    expect(figureOf(accepted)).toEqual({ value, unit });
  });

  it('takes a limit in the same unit, said in another way', async () => {
    const entry = waiver({ accepted: '1 device', raiseAbove: '3 Devices' });
    expect(await read([entry])).toEqual([entry]);
  });
});

describe('a day', () => {
  // ISO 8601-1 §4.2.1 (Gregorian calendar): years divisible by 4 have a 29 February, of full centuries those by 400.
  it.each(['2028-02-29', '2000-02-29', '2400-02-29', '2027-02-28', '2027-12-31', '2027-01-01', '2027-04-30'])(
    '%s is one',
    async (expires) => {
      expect(await read([waiver({ expires })])).toHaveLength(1);
    },
  );

  it.each([
    ...['2027-02-29', '2100-02-29', '2028-02-30', '2027-04-31', '2027-13-01', '2027-00-10', '2027-01-00', '2027-01-32'],
    ...['2027-1-1', '27-01-01', '2027-01-01T00:00:00Z', '2027-01-01 ', '01.02.2027', 'tomorrow', '', '+002027-01-01'],
  ])('%j is none', async (expires) => {
    expect(await faultOfEntry({ expires })).toContain('it takes a day of the calendar as YYYY-MM-DD');
  });

  it('is one exactly if counting days from another comes to it', () => {
    const anyDay = fc.record({
      year: fc.integer({ min: 1900, max: 2500 }),
      month: fc.nat({ max: 13 }),
      day: fc.nat({ max: 32 }),
    });
    fc.assert(
      fc.property(anyDay, ({ year, month, day }) => {
        const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
        const lengths = [31, isLeap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
        const two = (n: number) => String(n).padStart(2, '0');
        expect(isDay(`${year}-${two(month)}-${two(day)}`)).toBe(day >= 1 && day <= (lengths[month - 1] ?? 0));
      }),
    );
  });
});

describe('two units', () => {
  it.each([
    ['mA', 'ma'],
    ['device', 'devices'],
    ['Supply', 'supplies'],
    ['schema number', 'Schema Number'],
    ['%', '%'],
  ])('%s and %s are one', (one, other) => {
    expect([isSameUnit(one, other), isSameUnit(other, one)]).toEqual([true, true]);
  });

  it.each([
    ['mA', 'A'],
    ['devices', 'supplies'],
    ['%', 'mA'],
  ])('%s and %s are two', (one, other) => {
    expect([isSameUnit(one, other), isSameUnit(other, one)]).toEqual([false, false]);
  });
});

describe('the JSON Schema of the shape', () => {
  const validate = new Ajv2020({ strict: false }).compile(z.toJSONSchema(waiversFileSchema, { io: 'input' }));

  it('takes an entry for every rule about the plant', () => {
    const waivers = PLANT_RULE_IDS.map((rule) => waiver({ rule, accepted: '84 %', raiseAbove: '90 %' }));
    expect([validate({ waivers }), validate.errors]).toEqual([true, null]);
  });

  it('refuses what the shape refuses by itself', () => {
    for (const more of [{ fingerprint: 'x' }, { rule: 'waiver-unused' }, { accepted: '84' }, { expires: 'soon' }]) {
      expect(validate({ waivers: [{ ...waiver(), ...more }] })).toBe(false);
    }
  });
});
