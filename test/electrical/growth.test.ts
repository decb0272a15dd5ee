import { describe, expect, it } from 'vitest';
import { segmentLabel } from '../../src/plant/plant.js';
import type { PlannedGrowth, Policy } from '../../src/policy/policy.js';
import { balanceAt, balanceOfSegment, consumer, contextOf, supply } from '../support/plants.js';

const entry = (line: string, more: Partial<PlannedGrowth> = {}): PlannedGrowth => ({
  line,
  devices: 0,
  reserveMa: 0,
  ...more,
});

const LINES = ['0.0', '1.0', '1.1', '1.2', '1.12', '2.1', '2.2', '11.2'];

/** The lines of a plant for which something is planned. */
const plannedFor = (line: string) => {
  const lines = LINES.map((one) => ({ line: one, segments: [[supply(640), consumer(1, 10)]] }));
  const { balances } = contextOf({ lines, policy: { growth: [entry(line, { devices: 1 })] } });
  return balances.filter(({ growth }) => growth.plannedUa > 0).map(({ segment }) => segmentLabel(segment));
};

describe('an entry about planned growth', () => {
  it.each([
    ['*', LINES],
    ['*.*', LINES],
    ['1.*', ['1.0', '1.1', '1.2', '1.12']],
    ['*.2', ['1.2', '2.2', '11.2']],
    ['1.2', ['1.2']],
    ['01.02', ['1.2']],
    ['0.0', ['0.0']],
    ['3.*', []],
    ['2.12', []],
  ])('%s is for %j', (line, lines) => {
    expect(plannedFor(line)).toEqual(lines);
  });

  it('counts devices at the rule of thumb, and the reserve', () => {
    const growthBy = (growth: PlannedGrowth, policy: Partial<Policy> = {}) =>
      balanceOfSegment([supply(320)], { growth: [growth], ...policy }).growth;
    expect(growthBy(entry('*', { devices: 4, reserveMa: 12.5 }))).toEqual({ entry: 0, devices: 4, plannedUa: 52_500 });
    expect(growthBy(entry('*', { devices: 4 }), { assumedCurrentMa: 7.5 })).toEqual({
      entry: 0,
      devices: 4,
      plannedUa: 30_000,
    });
    expect(growthBy(entry('*', { reserveMa: 0.001 }))).toEqual({ entry: 0, devices: 0, plannedUa: 1 });
    expect(growthBy(entry('*'))).toEqual({ entry: 0, devices: 0, plannedUa: 0 });
  });
});

describe('of several entries for a line', () => {
  const planned = (...growth: readonly PlannedGrowth[]) =>
    balanceOfSegment([supply(320)], { growth: [...growth] }).growth.devices;
  const [all, area, exact] = [entry('*', { devices: 1 }), entry('1.*', { devices: 2 }), entry('1.1', { devices: 3 })];

  it('the last one counts, however narrow', () => {
    expect(planned(all, area, exact)).toBe(3);
    expect(planned(exact, area, all)).toBe(1);
    expect(planned(all, exact, area)).toBe(2);
    expect(planned(exact, entry('1.1', { devices: 4 }))).toBe(4);
  });

  it('one for another line does not', () => {
    expect(planned(all, entry('1.2', { devices: 9 }))).toBe(1);
    expect(planned(entry('1.2', { devices: 9 }))).toBe(0);
  });

  it('the last one takes the plan back where it plans nothing', () => {
    expect(planned(all, entry('1.1'))).toBe(0);
  });
});

describe('what is planned', () => {
  const growth = [entry('*', { devices: 5 })];

  it('is for each segment of a line', () => {
    const { balances } = contextOf({
      lines: [{ line: '1.1', segments: [[supply(320)], [supply(320)]] }],
      policy: { growth },
    });
    expect(balances.map((balance) => balance.growth.plannedUa)).toEqual([50_000, 50_000]);
  });

  it.each(['MT-1', 'MT-2', 'MT-5'])('is nothing on the medium %s, which carries no power', (medium) => {
    const plant = { lines: [{ line: '1.1', medium, segments: [[consumer(1, 10)]] }], policy: { growth } };
    expect(balanceAt('1.1', plant).growth).toEqual({ entry: null, devices: 0, plannedUa: 0 });
  });

  it('is no part of the load, nor of the room that is left', () => {
    const devices = [supply(320), consumer(1, 10)];
    const { growth: _, judged, ...without } = balanceOfSegment(devices);
    const judgedLoad = { load: judged.load, usableUa: judged.usableUa };
    expect(balanceOfSegment(devices, { growth })).toMatchObject({ ...without, judged: judgedLoad, segment: {} });
  });

  it('is nothing unless the policy says so', () => {
    expect(balanceOfSegment([supply(320)]).growth).toEqual({ entry: null, devices: 0, plannedUa: 0 });
  });
});
