import { describe, expect, it } from 'vitest';
import { balancesOf } from '../../src/electrical/balance.js';
import { segmentsOf } from '../../src/plant/plant.js';
import { runRules } from '../../src/rules/run.js';
import { supplyNotRedundant } from '../../src/rules/supply-not-redundant.js';
import type { Battery, SegmentSite } from '../../src/site/site.js';
import { check, consumer, contextOf, type DeviceSpec, supply } from '../support/plants.js';
import { NO_CAPACITY, said } from '../support/rules.js';
import { entryOf, notOnSite, onSite, siteOf, unwished } from '../support/site-plants.js';

const UNSAID = { efficiency: null, ownA: null, temperatureC: null, peukert: null, ratedHours: null };
const BATTERY: Battery = { capacityAh: 100, voltageV: 24, ...UNSAID };
const BACKED: Partial<SegmentSite> = { holdUp: { hours: 1, battery: BATTERY, peak: null } };
const WITHOUT_BATTERY: Partial<SegmentSite> = { holdUp: { hours: 1, battery: null, peak: null } };

/** A critical segment: supplies of these ratings on these mains circuits, and a load. */
function critical(
  ratings: readonly number[],
  loadMa: number,
  circuits: readonly (string | null)[] = [],
  more: Partial<SegmentSite> = {},
) {
  const supplies = Object.fromEntries(circuits.map((mainsCircuit, at) => [at + 1, { mainsCircuit }]));
  const devices = [...ratings.map((ma) => supply(ma)), consumer(1, loadMa)];
  return onSite(devices, { isCritical: true, ...more }, { supplies });
}

/** Critical: supplies of 320 mA that all hang on a circuit F1, of these boards. */
function boards(of: readonly (string | null)[], loadMa = 320) {
  const supplies = Object.fromEntries(of.map((board, at) => [at + 1, { mainsCircuit: 'F1', board }]));
  return onSite([...of.map(() => supply(80)), consumer(1, loadMa / 4)], { isCritical: true }, { supplies });
}

const on = (devices: readonly DeviceSpec[]) => onSite(devices, { isCritical: true });

describe('supply-not-redundant', () => {
  it.each([
    ['a load of exactly what the smaller supply carries', critical([320, 640], 320, ['F1', 'F2'])],
    ['the same on one circuit, with a battery', critical([320, 640], 320, ['F1', 'F1'], BACKED)],
    ['the same on unknown circuits, with a battery', critical([320, 640], 320, [], BACKED)],
    [
      'three supplies on two circuits, of which either carries the load',
      critical([640, 80, 80], 160, ['F1', 'F2', 'F2']),
    ],
    ['a segment that is not critical', onSite([supply(640), consumer(1, 600)], { isCritical: false })],
    ['F1 of one board and F1 of another', boards(['A', 'B'])],
    ['a supply on an unknown board that fails with the larger group', boards(['A', 'B', null], 320)],
    ['no load', on([supply(640)])],
  ])('passes %s', (_, plant) => {
    expect(said(supplyNotRedundant, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 µA more than what is left without the largest supply, whatever the circuits are', () => {
    const plant = critical([320, 640], 320.001);
    expect(said(supplyNotRedundant, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', loadMa: 320.001, leftMa: 320, lackingMa: 0.001, without: 'supply' },
          message:
            'Line 1.1 is charged with 320.001 mA; without Supply 320 mA are left: 0.001 mA too little for a critical segment.',
          remedy: expect.stringContaining('320.001 mA are left whichever of them fails'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(supplyNotRedundant, plant).findings[0]?.measure).toMatchObject({
      quantity: 'load',
      unit: 'mA',
      value: 320.001,
      limit: 320,
      holds: 'at most',
    });
  });

  it.each([
    ['without a battery', critical([640], 10)],
    ['with a battery', critical([640], 10, ['F1'], BACKED)],
  ])('finds a single supply %s, as nothing is left without it', (_, plant) => {
    expect(said(supplyNotRedundant, plant).found).toMatchObject([
      { facts: { leftMa: 0, supplies: 1 }, message: expect.stringContaining('without its only supply 0 mA are left') },
    ]);
  });

  it('counts what is drawn beside the bus', () => {
    const beside = (ua: number) => critical([320, 320], 300, ['F1', 'F2'], { auxiliaryUa: ua });
    expect(said(supplyNotRedundant, beside(20_000)).found).toEqual([]);
    expect(said(supplyNotRedundant, beside(20_001)).found).toMatchObject([{ facts: { lackingMa: 0.001 } }]);
  });

  it('rests on the rule of thumb where a current is assumed', () => {
    const devices = [supply(320), supply(160), consumer(1, 150), { address: 2 }, { address: 3 }];
    expect(said(supplyNotRedundant, on(devices)).found).toMatchObject([
      { restsOn: 'assumed', message: expect.stringContaining('20 mA are assumed, for 2 items') },
    ]);
  });

  it.each([
    ['one circuit', ['F1', 'F1'], {}],
    ['one circuit, typed in two ways', ['F1', ' f1 '], {}],
    ['one circuit, with a wanted time but no battery', ['F1', 'F1'], WITHOUT_BATTERY],
  ])('finds two supplies on %s', (_, circuits, more) => {
    const plant = critical([320, 320], 320, circuits, more);
    expect(said(supplyNotRedundant, plant)).toMatchObject({
      found: [
        {
          facts: { without: 'only mains circuit', leftMa: null },
          message: expect.stringMatching(/on one mains circuit, and no battery .* at least two circuits/),
          remedy: expect.stringContaining('another mains circuit'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(supplyNotRedundant, plant).findings[0]?.measure).toEqual({
      quantity: 'mains circuits',
      unit: 'circuits',
      value: 1,
      limit: 2,
      holds: 'at least',
    });
  });

  it('looks at every part of a feed group: the worst off today need not be the worst off without a supply', () => {
    // All three: 600 of 960 mA, and 640 without one. S1 and S2 alone have to carry 1.1: 330 of 640, and 320 without one.
    const named = (name: string): DeviceSpec => ({ ...supply(320), name });
    const plant = {
      lines: [
        { line: '1.1', segments: [[named('S1'), named('S2'), consumer(1, 330)]] },
        { line: '1.2', segments: [[named('S3'), consumer(1, 270)]] },
      ],
      sheet: {
        segments: [
          { segment: '1.1', critical: true },
          { segment: '1.2', fedBy: ['S2', 'S3'] },
        ],
      },
    };
    const [found] = said(supplyNotRedundant, plant).found;
    expect(found).toMatchObject({ about: 'segment 1.1', facts: { loadMa: 330, leftMa: 320, lackingMa: 10 } });
  });

  it('does not count what is dead without the supply that failed', () => {
    // Without S1 line 1.1 is dead, and S2 has 1.2 alone to carry.
    const named = (name: string, ma: number): DeviceSpec => ({ ...supply(ma), name });
    const plant = (ma: number) => ({
      lines: [
        { line: '1.1', segments: [[named('S1', 640), consumer(1, 180)]] },
        { line: '1.2', segments: [[named('S2', 160), consumer(1, ma)]] },
      ],
      sheet: {
        supplies: [
          { supply: 'S1', mainsCircuit: 'F1' },
          { supply: 'S2', mainsCircuit: 'F2' },
        ],
        segments: [{ segment: '1.2', fedBy: ['S1', 'S2'], critical: true }],
      },
    });
    expect(said(supplyNotRedundant, plant(160)).found).toEqual([]);
    expect(said(supplyNotRedundant, plant(160.001)).found).toMatchObject([{ facts: { failed: ['S1'], leftMa: 160 } }]);
  });

  it.each<[string, (string | null)[]]>([
    ['one board, however it is written', ['Board A', ' board a']],
    ['boards of which one is not known', ['Board A', null]],
    ['no board that is known', [null, null]],
  ])('finds one circuit on %s', (_, of) => {
    expect(said(supplyNotRedundant, boards(of)).found).toMatchObject([{ facts: { without: 'only mains circuit' } }]);
  });

  it('takes a supply on an unknown board to fail where it weighs most', () => {
    // 80 mA on A, 80 on B, 80 on either: 80 mA are left.
    expect(said(supplyNotRedundant, boards(['A', 'B', null], 320.004)).found).toMatchObject([
      { facts: { without: 'mains circuit', leftMa: 80 } },
    ]);
  });

  it('counts no battery that fails its time, and asks of one that is not told in full', () => {
    const backed = (capacityAh: number | null) =>
      critical([320, 640], 320, ['F1', 'F1'], {
        holdUp: { hours: 10, battery: { ...BATTERY, capacityAh }, peak: null },
      });
    expect(said(supplyNotRedundant, backed(0.1)).coverage).toEqual({ '1.1': 'found' });
    expect(said(supplyNotRedundant, backed(100)).coverage).toEqual({ '1.1': 'passed' });
    expect(said(supplyNotRedundant, backed(null)).coverage).toEqual({
      '1.1': 'skipped: how long the battery carries the segment',
    });
  });

  it('skips an entry that does not say whether the segment is critical', () => {
    expect(said(supplyNotRedundant, onSite([supply(640), consumer(1, 600)], {})).coverage).toEqual({
      '1.1': 'skipped: whether the segment is critical: the site sheet does not say',
    });
  });

  it('finds two circuits of which one alone carries too little', () => {
    // Without the largest supply 160 mA are left, without F1 with two of them 80 mA.
    const plant = (loadMa: number) => critical([80, 80, 80], loadMa, ['F1', 'F1', 'F2']);
    expect(said(supplyNotRedundant, plant(80)).found).toEqual([]);
    expect(said(supplyNotRedundant, plant(80.001)).found).toMatchObject([
      {
        facts: { without: 'mains circuit', leftMa: 80, lackingMa: 0.001 },
        message: expect.stringContaining(
          'without Supply and Supply, on one mains circuit, 80 mA are left: 0.001 mA too little',
        ),
        remedy: expect.stringMatching(/^Spread the supplies/),
      },
    ]);
  });

  describe('where segments share supplies', () => {
    /** Supplies 1 and 2 of the first segment feed the second as well, beside its own. */
    const shared = (loadMa: number, ...own: DeviceSpec[]) => {
      const site = siteOf(
        { 'P-0001-0_S-0-1': entryOf({ isCritical: true }) },
        { 1: { mainsCircuit: 'F1' }, 2: { mainsCircuit: 'F2' } },
      );
      const segments = [
        [supply(320), supply(320), consumer(1, 200)],
        [...own, consumer(2, loadMa)],
      ];
      const context = contextOf({ lines: [{ line: '1.1', segments }], site });
      const [first, second] = segmentsOf(context.installation);
      if (first === undefined || second === undefined) throw new Error('two segments were made');
      const supplies = [...first.supplies, ...second.supplies];
      const balances = balancesOf([first, { ...second, supplies, feed: 'stated' }], context.policy, site);
      const { findings, coverage } = runRules([supplyNotRedundant], { ...context, balances });
      return { findings: findings.map(({ finding }) => finding), coverage };
    };

    it('holds their loads together against these', () => {
      expect(shared(120).findings).toEqual([]);
      expect(shared(120).coverage).toMatchObject([{ status: 'passed' }, { status: 'skipped' }]);
      expect(shared(120.001).findings).toMatchObject([
        {
          facts: {
            segment: '1.1 segment 1',
            sharedWith: ['1.1 segment 2'],
            supplies: 2,
            leftMa: 320,
            lackingMa: 0.001,
          },
          message: expect.stringContaining('share supplies and are together charged with 320.001 mA'),
        },
      ]);
    });

    it('skips a load that only an unrated supply of the other might carry', () => {
      // 200 + 400 mA are above 80 % of 640 mA.
      expect(shared(400, supply()).coverage[0]).toMatchObject({
        status: 'skipped',
        missing: 'the rating of a supply is not declared',
      });
    });
  });

  it.each([
    ['unknown circuits', critical([320, 320], 320)],
    ['one circuit of two that is unknown', critical([320, 320], 320, ['F1', null])],
    ['a circuit without a name', critical([320, 320], 320, ['F1', ' '])],
  ])('skips %s', (_, plant) => {
    expect(said(supplyNotRedundant, plant)).toEqual({
      found: [],
      coverage: { '1.1': 'skipped: the mains circuit of each supply, or a battery that carries them' },
    });
  });

  it.each(
    NO_CAPACITY.map(([what, plant, missing]) => {
      const ids = ['P-0001-0_S-0-1', 'P-0001-0_L-0'].map((id) => [id, entryOf({ isCritical: true })]);
      return [what, { ...plant, site: siteOf(Object.fromEntries(ids)) }, missing] as const;
    }),
  )('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(supplyNotRedundant, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });

  it.each(
    notOnSite(
      [supply(640), consumer(1, 10)],
      { isCritical: true },
      unwished('whether the segment is critical: no site sheet says so'),
    ),
  )('skips %s', (_, plant, missing) => {
    expect(said(supplyNotRedundant, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
