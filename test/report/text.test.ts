import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { builtIn, readPolicy } from '../../src/policy/effective.js';
import { table } from '../../src/report/format/layout.js';
import { formatText, summaryLine } from '../../src/report/format/text.js';
import type { Report } from '../../src/report/report.js';
import { RULES } from '../../src/rules/index.js';
import { EN } from '../../src/words/en/words.js';
import { fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { countLooks } from '../support/looks.js';

const textOf = async (fixture: string) => formatText(await audit(await fixtureArchive(fixture)));
const rowOf = (text: string, line: string) => text.split('\n').find((row) => row.startsWith(`${line} `)) ?? '';

describe('the report as text', () => {
  it('begins with a sentence whose parts add up', async () => {
    // fixtures/school.md: 8 sufficient and 1 tight, 1 insufficient, 2 unfed, 4 undecidable: 9 + 1 + 2 + 4 = 16
    expect((await textOf('school')).split('\n')[2]).toBe(
      '9 of 16 bus-powered segments are carried by the supplies (1 with low headroom); 1 overloaded, 2 without a supply, 4 undecidable.',
    );
    expect((await textOf('house')).split('\n')[2]).toBe('1 of 1 bus-powered segment is carried by the supplies.');
  });

  it('draws load against rating, the target above the fill, and a plus beyond the rating', async () => {
    const text = await textOf('school');
    expect(rowOf(text, '1.2')).toContain('████████████████│███+'); // 362.7 of 320
    expect(rowOf(text, '1.4')).toContain('████████████████│█··'); // 141.5 of 160: 17.7 of 20 cells
    expect(rowOf(text, '2.2')).toContain('█···············│···'); // 38.5 of 1280: 0.6 cells
  });

  it('says why a segment is undecidable, beside its verdict', async () => {
    const text = await textOf('school');
    expect(rowOf(text, '1.6')).toMatch(/undecidable: feed not known$/);
    expect(rowOf(text, '2.4')).toMatch(/ \? .*undecidable: rating not known$/);
    expect(rowOf(text, '3.2')).toMatch(/undecidable: supplies not admissible together$/);
    expect(rowOf(await textOf('repeaters'), '1.1')).toMatch(/undecidable: bounds not known$/);
  });

  it('has every finding with what, why, limit and what to do, errors first', async () => {
    const report = await audit(await fixtureArchive('school'));
    const folded = formatText(report).replace(/\s+/g, ' ');
    for (const { message, remedy, rule } of report.findings) {
      const { why, limit } = RULES.find(({ id }) => id === rule) as (typeof RULES)[number];
      for (const text of [message, remedy, why, limit]) expect(folded).toContain(text.replace(/\s+/g, ' '));
    }
    const severities = folded.match(/\b(ERROR|WARNING|NOTE)(?= .*?\[)/g) ?? [];
    expect(severities).toEqual([...severities].sort((a, b) => ORDER.indexOf(a) - ORDER.indexOf(b)));
  });

  it('gives each finding its figure, its limit, who set it, and how its fingerprint begins', async () => {
    const report = await audit(await fixtureArchive('school'));
    const folded = formatText(report).replace(/\s+/g, ' ');
    for (const { measure, fingerprint } of report.findings) {
      const value = measure.value === null ? 'not known' : EN.figures.number(measure.value);
      expect(folded).toContain(`${measure.quantity} ${value}`);
      expect(folded).toContain(`[${fingerprint.slice(0, 12)}]`);
    }
    expect(folded).toContain('Figure: load 362.7 mA, must be at most 320 mA; 42.7 mA too much [');
    expect(folded).toContain(
      'load 141.5 mA, must be at most 128 mA; 13.5 mA too much; limit by common-practice (targetLoad)',
    );
    expect(folded).toContain('participants without a supply 3, must be at most 0; 3 too many');
  });

  it('marks what is waived, with why, who and until when, and counts it apart', async () => {
    const plain = await audit(await fixtureArchive('school'));
    const [first] = plain.findings;
    const terms = { reason: 'ordered', author: 'planning', expires: '2027-01-31', accepted: '114 %' };
    const waiver = { ...terms, fingerprint: first?.fingerprint ?? '', rule: 'overloaded-segment' } as const;
    const report = await audit(await fixtureArchive('school'), { waivers: [waiver], asOf: '2027-01-31' });
    const folded = formatText(report).replace(/\s+/g, ' ');
    expect(folded).toContain('Findings: 8 errors, 11 warnings, 5 notes; 1 waived, marked below');
    expect(folded).toContain('Waived: ordered (planning, until 2027-01-31; accepted at 114 %)');
    expect(folded).toContain('Waivers: judged as of 2027-01-31; 1 of the findings waived');
    expect(summaryLine(report)).toContain('5 notes, 1 waived');
    expect(formatText(plain)).not.toMatch(/[Ww]aive/);
  });

  it('tells what is new or worse than the baseline', async () => {
    const file = await fixtureArchive('school');
    const report = await audit(file, { policy: builtIn('conservative'), baseline: await audit(file) });
    const text = formatText(report);
    expect(text).toMatch(/- \(new\) Line 1\.5 is charged/);
    expect(text).toMatch(/- \(worsened\) Line 1\.4 is charged/);
    expect(text).toContain('Baseline: the report of archive sha-256 ');
    expect(text).toMatch(/^Policy: conservative; target 70\.0 %/m);
  });

  it('never passes silence for success: rules that are off are named, and so is that nothing was checked', async () => {
    const severities = Object.fromEntries(RULES.map(({ id }) => [id, 'off']));
    const policy = await readPolicy(JSON.stringify({ severities }), 'policy');
    const report = await audit(await fixtureArchive('house'), { policy });
    expect(formatText(report)).toContain('NOTHING WAS CHECKED');
    expect(formatText(report)).toMatch(/Off by the policy: overloaded-segment, auxiliary-overload, missing-supply/);
    expect(summaryLine(report)).toContain('NOTHING WAS CHECKED');
    expect(formatText(await audit(await fixtureArchive('house')))).not.toMatch(/NOTHING|Off by/);
  });

  it('says that a list is cut, and how long it is', async () => {
    const parts = fixtureParts('house');
    const spare = (n: number) => `<DeviceInstance Id="P-01D4-0_DI-9${n}0" Name="Spare ${n}"/>`;
    const spares = `<UnassignedDevices>${Array.from({ length: 12 }, (_, n) => spare(n)).join('')}</UnassignedDevices>`;
    const topology = String(parts['P-01D4/0.xml']).replace('</Topology>', `${spares}</Topology>`);
    const text = formatText(await audit(await zip({ ...parts, 'P-01D4/0.xml': topology })));
    expect(text).toContain('10 shown of 12');
    expect(text.match(/stands on no line; its current/g)).toHaveLength(10);
  });

  it('shows each of many installations with its own segments, looking at each segment a few times only', async () => {
    const report = await audit(await fixtureArchive('house'));
    const {
      projects: [project],
    } = report;
    const [installation] = project?.installations ?? [];
    const [segment] = report.segments;
    const numbers = Array.from({ length: 200 }, (_, number) => number);
    const segments = numbers.map((number) =>
      countLooks({ ...segment, installation: number, label: `label ${number}` }),
    );
    const many = {
      ...report,
      segments: segments.map(({ counted }) => counted),
      projects: [{ ...project, installations: numbers.map((number) => ({ ...installation, number })) }],
    } as Report;
    const shown = formatText(many).match(/^Installation \d+: 1 segment\b|^label \d+/gm);
    expect(shown).toEqual(numbers.flatMap((number) => [`Installation ${number}: 1 segment`, `label ${number}`]));
    expect(Math.max(...segments.map(({ count }) => count()))).toBeLessThan(50);
  });

  it('lets no name out of its place', async () => {
    const parts = fixtureParts('house');
    const evil = 'House&#10;&#10;No findings.&#x202E;&#x2028;&#x1B;&#x7f;'.replace('&#x1B;', '');
    const information = String(parts['P-01D4/project.xml']).replace(/ Name="[^"]*"/, ` Name="${evil}"`);
    const topology = String(parts['P-01D4/0.xml']).replace(/(<Line [^>]*?) Name="[^"]*"/, `$1 Name="${evil}"`);
    const text = formatText(
      await audit(await zip({ ...parts, 'P-01D4/project.xml': information, 'P-01D4/0.xml': topology })),
    );
    expect(text).toContain('Project House No findings.');
    expect(text.split('\n').filter((line) => line === 'No findings.')).toHaveLength(1); // the report's own
    expect(text.replaceAll('\n', '')).not.toMatch(/[\p{C}\p{Zl}\p{Zp}]/u);
  });

  it('marks an audit in which a rule failed', async () => {
    const [first, ...others] = RULES;
    const broken = {
      ...first,
      check: () => {
        throw new Error('boom');
      },
    } as (typeof RULES)[number];
    const report = await audit(await fixtureArchive('house'), { rules: [broken, ...others] });
    expect(formatText(report)).toMatch(/\nINCOMPLETE: a rule failed/);
    expect(formatText(report)).toMatch(/, 1 FAILED/);
    expect(summaryLine(report)).toMatch(/INCOMPLETE/);
  });
});

const ORDER = ['ERROR', 'WARNING', 'NOTE'];

describe('a table', () => {
  it('is as wide as the widest of its rows, however many they are', () => {
    const rows = Array.from({ length: 200_000 }, () => ['1.1', '5 mA']);
    const lines = table([...rows, ['1.1 segment 2', '10 mA']], ['left', 'right']).split('\n');
    expect(lines).toHaveLength(200_001);
    expect([lines[0], lines.at(-1)]).toEqual(['1.1             5 mA', '1.1 segment 2  10 mA']);
  });
});
