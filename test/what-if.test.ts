import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../src/audit.js';
import { readChanges } from '../src/changes/changes.js';
import { type Documents, readGiven } from '../src/given.js';
import { comparisonSchema } from '../src/report/compare/comparison.js';
import { formatComparisonText } from '../src/report/compare/text.js';
import { whatIf } from '../src/what-if.js';
import { FIXTURES, fixtureArchive } from './support/archives.js';
import { refusalOf } from './support/refusal.js';

let school: Buffer;

beforeAll(async () => {
  school = await fixtureArchive('school');
});

async function of(archive: Buffer, changes: unknown, documents: { readonly [name in keyof Documents]?: string } = {}) {
  const named = Object.entries(documents).map(([name, text]) => [name, { name, text }]);
  const { policy, site, waivers } = await readGiven(Object.fromEntries(named));
  const read = await readChanges(JSON.stringify({ changes }), 'changes');
  return whatIf({ archive, changes: read, policy, site, waivers, asOf: '2027-01-01' });
}

const texts = ({ changes }: Awaited<ReturnType<typeof of>>) => changes?.map(({ text }) => text);

describe('what if', () => {
  // 1.4 is loaded with 141.5 mA of 160 mA, in fixtures/school.md.
  it.each([
    [18.5, 'tight'],
    [18.501, 'insufficient'],
  ])('%d mA more come to line 1.4, it is %s', async (ma, verdict) => {
    const comparison = await of(school, [{ line: '1.4', add: 1, current: `${ma} mA` }]);
    expect(comparisonSchema.parse(comparison)).toEqual(comparison);
    expect(comparison.segments).toMatchObject([
      {
        old: { label: '1.4', verdict: 'tight', loadMa: 141.5, headroomMa: -13.5 },
        new: { label: '1.4', verdict, headroomMa: (128_000 - 141_500 - ma * 1000) / 1000 },
      },
    ]);
    expect(comparison.segmentsUnchanged).toBe(17);
    const causes = [...comparison.findings.new, ...comparison.findings.worsened].map(({ cause }) => cause);
    expect(new Set(causes)).toEqual(new Set(['changes']));
  });

  it('compares with the audit of the archive as it is', async () => {
    const report = await audit(school);
    const { old, new: fresh, inputs } = await of(school, [{ line: '1.1', add: 1, product: 'AF-SA8' }]);
    expect([old.archiveSha256, fresh.archiveSha256]).toEqual([report.archive.sha256, report.archive.sha256]);
    expect(new Set(Object.values(inputs))).toEqual(new Set(['same']));
  });

  it('tells what was understood, with what each is charged with and why', async () => {
    const comparison = await of(
      school,
      [
        { line: '1.1', add: 4, product: 'AF-SA8', location: 'Caravan' },
        { line: '2.1', add: 1, product: 'QH-PC1' },
        { line: '2.1', remove: 2, product: 'People counter' },
        { line: '1.3', segment: 1, add: 2, current: '9 mA', what: 'panel' },
        { line: '3.1', supply: '160 mA' },
        { line: '3.2', remove: 3, product: 'AF-PS160' },
        { line: '2.4', add: 1, product: 'BW-PSX' },
      ],
      { policy: 'products: [{ orderNumber: AF-SA8, currentMa: 13, note: a data sheet }]' },
    );
    expect(texts(comparison)).toEqual([
      '4 × Switch actuator, 8 channels (AF-SA8) added on line 1.1, in Caravan, where the archive has no device: 13 mA each, set by the policy',
      '1 × People counter (QH-PC1) added on line 2.1: 10 mA, assumed (not declared)',
      '2 × People counter (QH-PC1) removed on line 2.1: 10 mA each, assumed (not declared)',
      '2 × panel added on line 1.3 segment 1: 9 mA each, as the change says',
      '1 × supply 160 mA added on line 3.1: rated 160 mA',
      '3 × Bus power supply 160 mA (AF-PS160) removed on line 3.2: rated 160 mA each',
      '1 × Power unit, older type (BW-PSX) added on line 2.4: of no declared rating',
    ]);
    expect(comparison.changes?.[0]).toMatchObject({ action: 'added', count: 4, currentMa: 13, origin: 'overridden' });
    expect(comparison.changes?.[5]).toMatchObject({ action: 'removed', count: 3, currentMa: null, ratedMa: 160 });
  });

  it('charges a coupler that comes to the line above as well', async () => {
    const { segments } = await of(school, [{ line: '2.2', add: 1, product: 'AF-LC1' }]);
    const moved = segments.map(({ old, new: fresh }) => [fresh.label, fresh.loadMa - old.loadMa]);
    expect(moved).toEqual([
      ['2.0', 6.5],
      ['2.2', 6.5],
    ]);
  });

  it('is written as text: what was understood, then what comes of it', async () => {
    const text = formatComparisonText(await of(school, [{ line: '1.5', add: 4, product: 'AF-SA8' }]));
    expect(text).toContain(
      '\n\nChanges:\n  - 4 × Switch actuator, 8 channels (AF-SA8) added on line 1.5: 11.5 mA each',
    );
    expect(text).toMatch(/^1\.5 +127\.1 mA → 173\.1 mA +160 mA .* 0\.9 mA → -45\.1 mA +sufficient → insufficient$/m);
    expect(text).not.toContain('Devices:');
    expect(text).not.toContain('by the changes');
  });

  it('says of a whole list how many there are beyond those that it shows', async () => {
    const many = Array.from({ length: 21 }, () => ({ line: '1.1', add: 1, product: 'AF-SA8' }));
    expect(formatComparisonText(await of(school, many))).toContain('20 shown of 21; the JSON comparison has all');
  });
});

describe('what if, with a site sheet', () => {
  const site = readFileSync(join(FIXTURES, 'example-site.yaml'), 'utf8');

  it('counts what comes among what its supplies carry', async () => {
    const { segments } = await of(school, [{ line: '1.1', add: 1, product: 'AF-SA8' }], { site });
    expect(segments.map(({ old, new: fresh }) => [fresh.label, fresh.loadMa - old.loadMa])).toContainEqual([
      '1.1',
      11.5,
    ]);
  });

  it('reaches a segment that only the sheet parts', async () => {
    const mill = await fixtureArchive('repeaters');
    const { segments: all } = await audit(mill);
    const [found] = all.filter(({ boundariesKnown }) => !boundariesKnown);
    const line = found?.line ?? '';
    const parted = `lines: [{line: "${line}", segments: [{number: 1}, {number: 2}]}]`;
    const change = { line, segment: 2, add: 3, current: '7 mA' };
    const { segments, changes } = await of(mill, [change], { site: parted });
    expect(changes).toMatchObject([{ segment: `${line} segment 2`, count: 3 }]);
    expect(segments.map(({ old, new: fresh }) => [fresh.label, fresh.loadMa - old.loadMa])).toEqual([
      [`${line} segment 2`, 21],
    ]);
    const { code, detail } = await refusalOf(() => of(mill, [change]));
    expect([code, detail]).toEqual(['invalid-changes', expect.stringContaining('changes[0].segment: the line has no')]);
  });

  it('leaves out what was measured, as it was measured without the changes', async () => {
    const measured = 'segments: [{segment: "1.4", measured: {currents: [{supply: Supply 1.4, current: 10 mA}]}}]';
    const given = await readGiven({ site: { name: 'site', text: measured } });
    const before = await audit(school, given);
    expect(before.findings.map(({ rule }) => rule)).toContain('measured-deviates');
    const { findings } = await of(school, [{ line: '1.4', add: 9, product: 'AF-SA8' }], { site: measured });
    const told = Object.values(findings).flatMap((list) => (typeof list === 'number' ? [] : list));
    expect(told.map(({ rule }) => rule)).not.toContain('measured-deviates');
    expect(findings.unchanged).toBeLessThan(before.findings.length);
  });

  it('is refused where the sheet names what goes', async () => {
    const named = 'supplies: [{supply: Supply 1.4, board: Board 1}]';
    const { code, detail } = await refusalOf(() =>
      of(school, [{ line: '1.4', remove: 1, product: 'AF-PS160' }], { site: named }),
    );
    expect([code, detail]).toEqual([
      'invalid-changes',
      expect.stringContaining(
        'with the changes made the site sheet does not fit: "site": supplies[0].supply: "Supply 1.4"',
      ),
    ]);
  });

  it('is refused where a supply comes to a segment whose feed the sheet states', async () => {
    const fed = 'segments: [{segment: "1.4", fedBy: [Supply 1.4]}]';
    const { code, detail } = await refusalOf(() => of(school, [{ line: '1.4', supply: '160 mA' }], { site: fed }));
    expect([code, detail]).toEqual([
      'invalid-changes',
      'changes[0].line: the site sheet states what feeds 1.4 (fedBy), so a supply that comes would feed nothing; take that out of the sheet to try one',
    ]);
    expect(texts(await of(school, [{ line: '1.5', supply: '160 mA' }], { site: fed }))?.length).toBe(1);
  });

  it('is refused as an audit is where the sheet does not fit the archive to begin with', async () => {
    const wrong = 'supplies: [{supply: Supply 9.9, board: Board 1}]';
    const { code } = await refusalOf(() => of(school, [{ line: '1.4', supply: '160 mA' }], { site: wrong }));
    expect(code).toBe('invalid-site-sheet');
  });
});
