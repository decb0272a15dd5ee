import { describe, expect, it } from 'vitest';
import { measuredDeviates } from '../../src/rules/measured-deviates.js';
import { check, consumer, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { notOnSite } from '../support/site-plants.js';

const RUNS = { cable: '0.8 mm pair', runs: [{ from: 'board', to: 'hall', length: '100 m' }] };
const PLACES = {
  places: [
    { at: 'board', devices: ['Supply'] },
    { at: 'hall', devices: ['1.1.1', '1.1.2'] },
  ],
};
const SUPPLY = { supply: 'Supply', terminalVoltage: '30 V', leastTerminalVoltage: '30 V' };

const DEVICES: DeviceSpec[] = [supply(640), consumer(1, 100), consumer(2, 100)];

function measured(values: object, entry: object = {}, devices = DEVICES, policy: PlantSpec['policy'] = {}): PlantSpec {
  const said = { segment: '1.1', connected: ['1.1.1', '1.1.2'], ...RUNS, ...PLACES, ...entry, measured: values };
  return { lines: [{ line: '1.1', segments: [devices] }], policy, sheet: { supplies: [SUPPLY], segments: [said] } };
}

const current = (ma: number) => ({ currents: [{ supply: 'Supply', current: `${ma} mA` }] });
const voltage = (v: number, at = 'hall') => ({ voltages: [{ at, voltage: `${v} V` }] });

describe('measured-deviates', () => {
  // 200 mA over 7.32 Ω: 28.536 V at the hall.
  it.each([
    ['the current that is computed', measured(current(200))],
    ['20 % less', measured(current(160))],
    ['20 % more', measured(current(240))],
    ['half a volt less', measured(voltage(28.037))],
    ['half a volt more', measured(voltage(29.035))],
    ['the policy’s own tolerance', measured(current(290), {}, DEVICES, { measuredShare: 0.5 })],
  ])('passes %s', (_, plant) => {
    expect(said(measuredDeviates, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds a current that is too high, as a warning', () => {
    expect(said(measuredDeviates, measured(current(240.001)))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          segments: ['1.1'],
          facts: {
            connectedBy: 'site sheet',
            deviations: [{ what: 'current of Supply', unit: 'mA', measured: 240.001, low: 160, high: 240 }],
          },
          message:
            'On line 1.1 the current of Supply was measured as 240.001 mA where 160 to 240 mA are to be expected; computed from the devices that the site sheet says are connected.',
          remedy: expect.stringContaining('linebudget diagnose'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(measuredDeviates, measured(current(240.001))).findings[0]?.measure).toEqual({
      quantity: 'measured current of Supply',
      unit: 'mA',
      value: 240.001,
      limit: 240,
      holds: 'at most',
      setBy: 'measuredShare',
    });
  });

  it.each([
    ['a current that is too low', current(159.999), 'note', 'at least'],
    ['a voltage that is too low', voltage(28.035), 'warning', 'at least'],
    ['a voltage that is too high', voltage(29.037), 'note', 'at most'],
  ])('finds %s', (_, values, severity, holds) => {
    const { findings } = check(measuredDeviates, measured(values));
    expect(findings).toMatchObject([{ severity, measure: { holds } }]);
  });

  it('puts what harms first where several deviate', () => {
    const values = { ...current(300), ...voltage(29.9) };
    const [found] = check(measuredDeviates, measured(values)).findings;
    expect(found).toMatchObject({ severity: 'warning', measure: { value: 300 } });
    expect(found?.facts.deviations).toHaveLength(2);
  });

  it('computes with the devices that are connected: what the sheet says, else what the archive marks as loaded', () => {
    expect(said(measuredDeviates, measured(current(100), { connected: ['1.1.1'] })).found).toEqual([]);
    const loaded = (isLoaded: boolean, address: number) => ({ ...consumer(address, 100), isLoaded });
    const marked = [supply(640), loaded(true, 1), loaded(false, 2)];
    expect(said(measuredDeviates, measured(current(100), { connected: undefined }, marked)).found).toEqual([]);
    expect(said(measuredDeviates, measured(current(200), { connected: undefined }, marked)).found).toMatchObject([
      { facts: { connectedBy: 'loaded' } },
    ]);
  });

  it('lets the voltage be anything that the standard allows a supply whose voltage nobody knows', () => {
    const unknown = (v: number): PlantSpec => {
      const plant = measured(voltage(v));
      return { ...plant, sheet: { ...plant.sheet, supplies: [] } };
    };
    // From 28 − 1.5 − 1.464 − 0.5 to 31 − 1.464 + 0.5.
    expect(said(measuredDeviates, unknown(24.537)).found).toEqual([]);
    expect(said(measuredDeviates, unknown(24.535)).found).toHaveLength(1);
    expect(said(measuredDeviates, unknown(30.035)).found).toEqual([]);
    expect(said(measuredDeviates, unknown(30.037)).found).toHaveLength(1);
  });

  it.each([
    ['no cable is known', { cable: undefined, runs: undefined, places: undefined }, 'site sheet'],
    ['nobody says what is connected', { connected: undefined }, 'nobody'],
  ])('needs 21 V at a device also where %s, and 20 V whatever happens', (_, entry, connectedBy) => {
    const place = 'cable' in entry ? {} : { at: 'hall' };
    const at = (v: number) => measured({ voltages: [{ ...place, voltage: `${v} V` }] }, entry);
    expect(said(measuredDeviates, at(20.999)).found).toMatchObject([
      { severity: 'warning', facts: { connectedBy, deviations: [{ measured: 20.999, low: 21, high: null }] } },
    ]);
    expect(said(measuredDeviates, at(20)).found).toMatchObject([{ severity: 'warning' }]);
    expect(said(measuredDeviates, at(19.999)).found).toMatchObject([{ severity: 'error' }]);
  });

  it.each<readonly [string, PlantSpec, string]>([
    ...notOnSite(
      DEVICES,
      {},
      { noSheet: 'measured values: no site sheet has any', noEntry: 'measured values: the site sheet has none' },
    ),
    ['no measured values', measured({}), 'measured values: the site sheet has none'],
    [
      'no word on what is connected',
      measured(current(200), { connected: undefined }),
      'which devices are connected: the archive marks none as loaded, and the site sheet does not say',
    ],
  ])('skips a segment with %s', (_, plant, missing) => {
    const { findings, coverage } = check(measuredDeviates, plant);
    expect(findings).toEqual([]);
    expect(coverage).toMatchObject([{ status: 'skipped', missing }]);
  });
});
