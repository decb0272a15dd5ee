import { describe, expect, it } from 'vitest';
import { auditPlan } from '../../src/audit.js';
import { readGiven } from '../../src/given.js';
import { formatText } from '../../src/report/format/text.js';
import type { Report } from '../../src/report/report.js';
import { readPlan } from '../../src/tender/plan.js';
import { recordsOf } from '../../src/tender/records.js';

const audited = (plan: object, documents = {}): Promise<Report> =>
  readGiven(documents).then((given) => auditPlan({ name: 'plan', text: JSON.stringify(plan) }, given));

/** What is charged to the segment that people call so. */
async function loadsAt(label: string, plan: object): Promise<string[]> {
  const found = (await audited(plan)).segments.find((segment) => segment.label === label);
  return (found?.devices ?? []).map(({ address, name, currentMa }) => `${address ?? '–'} ${name}: ${currentMa}`);
}

const line = (address: string, more: object = {}) => ({ line: address, ...more });
const one = { devices: [{ count: 1, what: 'panel', current: '12 mA' }] };

describe('the couplers of a plan', () => {
  it.each<[string, string, object[], string[]]>([
    ['a line alone has none', '1.1', [line('1.1', one)], ['– panel 1: 12']],
    [
      'lines beside each other have one each',
      '1.1',
      [line('1.1', one), line('1.2')],
      ['1.1.0 line coupler: 10', '– panel 1: 12'],
    ],
    [
      'the line above is charged with them',
      '1.0',
      [line('1.0'), line('1.1'), line('1.2')],
      ['1.1.0 line coupler: 10', '1.2.0 line coupler: 10'],
    ],
    [
      'main lines have one where there are several areas',
      '2.0',
      [line('1.0'), line('2.0')],
      ['2.0.0 line coupler: 10'],
    ],
    ['the backbone has none', '0.0', [line('0.0'), line('1.0')], ['1.0.0 line coupler: 10']],
    [
      'an IP coupler draws nothing from the line above',
      '1.0',
      [line('1.0'), line('1.1', { coupler: 'IP' }), line('1.2', { coupler: 'none' })],
      [],
    ],
    ['an IP coupler draws from its own line', '1.1', [line('1.1', { coupler: 'IP' })], ['1.1.0 IP coupler: 10']],
    [
      'a line alone has one where the plan says so',
      '1.1',
      [line('1.1', { coupler: 'line' })],
      ['1.1.0 line coupler: 10'],
    ],
    ['none where the plan says so', '1.1', [line('1.1', { coupler: 'none', ...one }), line('1.2')], ['– panel 1: 12']],
    [
      'a further segment has a repeater',
      '1.1 segment 2',
      [line('1.1'), line('1.1', { segment: 2, ...one })],
      ['1.1.255 line repeater: 10', '– panel 1: 12'],
    ],
    [
      'which the first segment is charged with',
      '1.1 segment 1',
      [line('1.1', { segment: 3 }), line('1.1', { segment: 2 }), line('1.1')],
      ['1.1.255 line repeater: 10', '1.1.254 line repeater: 10'],
    ],
    [
      'none on a further segment where the plan says so',
      '1.1 segment 2',
      [line('1.1'), line('1.1', { segment: 2, coupler: 'none', ...one })],
      ['– panel 1: 12'],
    ],
  ])('%s', async (_what, label, lines, expected) => {
    expect(await loadsAt(label, { lines })).toEqual(expected);
  });

  it('whose line above is not planned are told of', async () => {
    const [project] = (await audited({ lines: [line('1.1'), line('1.2')] })).projects;
    expect(project?.installations[0]?.notes[0]).toBe(
      'The coupler 1.1.0 line coupler reaches line 1.0, which the plan does not hold; what it draws there is charged nowhere.',
    );
  });
});

describe('what a plan says', () => {
  it('of a current is declared; what it does not say is assumed, by the rule of thumb', async () => {
    const { summary, segments } = await audited({
      lines: [
        line('1.1', { supply: '640 mA', devices: [{ count: 3 }, { count: 2, what: 'panel', current: '12.5 mA' }] }),
      ],
    });
    expect(summary.currents).toEqual({ declared: 2, overridden: 0, assumed: 3 });
    expect(segments.map(({ load, verdict }) => [load.totalMa, verdict])).toEqual([[55, 'sufficient']]);
  });

  it('of an order number is looked up in the policy', async () => {
    const plan = {
      lines: [line('1.1', { supply: '160 mA', devices: [{ count: 2, what: 'panel', orderNumber: 'PX-1' }] })],
    };
    const policy = { name: 'policy', text: 'products: [{orderNumber: PX-*, currentMa: 40, note: data sheet}]' };
    const { summary, segments } = await audited(plan, { policy });
    expect([summary.currents.overridden, segments[0]?.load.totalMa]).toEqual([2, 80]);
  });

  it('of a segment that has no supply yet is told what to order', async () => {
    const { findings } = await audited({ lines: [line('1.1', { devices: [{ count: 24 }] })] });
    const found = findings.find(({ rule }) => rule === 'missing-supply');
    expect(found?.remedy).toContain('Order one: a supply of 320 mA carries this load within the target.');
  });

  it.each([
    [64, 0],
    [65, 1],
  ])('%d devices of a segment are %d too many', async (count, findings) => {
    const report = await audited({ lines: [line('1.1', { supply: '1280 mA', devices: [{ count }] })] });
    expect(report.findings.filter(({ rule }) => rule === 'too-many-devices')).toHaveLength(findings);
  });

  it('can be joined by a site sheet, by the names of the plan', async () => {
    const plan = { lines: [line('1.1', { supply: '640 mA', devices: [{ count: 20, location: 'Board' }] })] };
    const sheet = (segment: object) => ({
      name: 'site',
      text: JSON.stringify({ segments: [{ segment: '1.1', ...segment }] }),
    });
    const rulesOf = async (site: object) => (await audited(plan, { site })).findings.map(({ rule }) => rule);
    expect(await rulesOf(sheet({ cable: '0.8 mm pair', totalLength: '1000 m' }))).not.toContain('cable-too-long');
    expect(await rulesOf(sheet({ cable: '0.8 mm pair', totalLength: '1001 m' }))).toContain('cable-too-long');
    const runs = [{ from: 'board', to: 'hall', length: '100 m' }];
    const places = [
      { at: 'hall', locations: ['Board'] },
      { at: 'board', devices: ['supply 1'] },
    ];
    const [segment] = (await audited(plan, { site: sheet({ cable: '0.8 mm pair', runs, places }) })).segments;
    expect(segment?.onSite).not.toBeNull();
  });
});

describe('the report of a plan', () => {
  const plan = { project: 'Mill House', lines: [line('1.1', { supply: '320 mA', devices: [{ count: 24 }] })] };

  it('says that it is of a plan, and has nothing of an export', async () => {
    const report = await audited(plan);
    expect(report).toMatchObject({ source: 'plan', archive: { bytes: JSON.stringify(plan).length, parts: [] } });
    expect(report.projects).toMatchObject([{ id: 'plan', name: 'Mill House', schema: null, schemaKnown: true }]);
    const text = formatText(report);
    expect(text).toContain('\nPlan Mill House\n');
    expect(text).not.toMatch(/schema|states no medium|Archive/);
  });

  it('points to the line of the plan', async () => {
    const text = 'lines:\n  - line: "1.0"\n\n  - line: "1.1"\n    devices: [{count: 2}]\n';
    const { findings } = await auditPlan({ name: 'plan', text });
    const found = findings.filter(({ rule }) => rule === 'missing-supply');
    expect(found.map(({ subject, location }) => [subject.label, location.part, location.line])).toEqual([
      ['1.0', 'plan', 2],
      ['1.1', 'plan', 4],
    ]);
  });

  it('keeps ids and fingerprints when the plan is put in another order', async () => {
    const lines = [line('1.1', one), line('1.2', { devices: [{ count: 30 }, { count: 3, what: 'x' }] })];
    const turned = [line('1.2', { devices: [{ count: 3, what: 'x' }, { count: 30 }] }), line('1.1', one)];
    const idsOf = async (all: object[]) => {
      const { segments, findings } = await audited({ lines: all });
      const devices = segments.flatMap((segment) => segment.devices.map(({ id }) => id));
      return { devices: devices.sort(), findings: findings.map(({ fingerprint }) => fingerprint).sort() };
    };
    expect(await idsOf(turned)).toEqual(await idsOf(lines));
  });

  it('gives every device an id and every product another one, whatever they are called', async () => {
    const names = ['a', 'a 1', 'a 1 1', '(supply 1)', 'a" "b', 'a" 12 mA'];
    const entries = names.flatMap((what) => [
      { count: 2, what },
      { count: 1, what, orderNumber: 'b' },
      { count: 1, what, current: '12 mA' },
    ]);
    const record = recordsOf(
      await readPlan(JSON.stringify({ lines: [line('1.1', { supply: '320 mA', devices: entries })] }), 'plan'),
    );
    const devices = record.installations
      .flatMap(({ areas }) => areas)
      .flatMap(({ lines }) => lines[0]?.segments[0]?.devices ?? []);
    expect(new Set(devices.map(({ id }) => id)).size).toBe(devices.length);
    expect(record.products.size).toBe(entries.length + 1);
  });
});
