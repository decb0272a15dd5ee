import schema from '@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json' with { type: 'json' };
import draft04 from 'ajv-draft-04';
import formats from 'ajv-formats';
import type { Log, Run } from 'sarif';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { formatSarif } from '../../src/report/format/sarif.js';
import { INCOMPLETE, summaryLine } from '../../src/report/format/text.js';
import type { Report } from '../../src/report/report.js';
import { RULES } from '../../src/rules/index.js';
import { fixtureArchive } from '../support/archives.js';
import {
  HOSTILE_NAMES,
  reportOf,
  WAIVER,
  withBaseline,
  withFindings,
  withHostileNames,
  withMany,
  withWaivers,
} from '../support/reports.js';

/** The schema of OASIS SARIF 2.1.0, as the package of matchers carries it; nothing else of that package is read. */
const ajv = new draft04.default({ strict: false, allErrors: true, unicodeRegExp: false });
formats.default(ajv);
const valid = ajv.compile(schema);

const CONTEXT = { archive: 'plans/school' };

/** The run of a log that the standard's schema allows. */
function read(report: Report, context = CONTEXT): Run {
  const log = JSON.parse(formatSarif(report, context)) as Log;
  valid(log);
  expect(valid.errors ?? []).toEqual([]);
  expect([log.version, log.runs.length]).toEqual(['2.1.0', 1]);
  return log.runs[0] as Run;
}

const resultsOf = (run: Run) => run.results ?? [];
const rulesOf = (run: Run) => run.tool.driver.rules ?? [];
const notificationsOf = (run: Run) => run.invocations?.[0]?.toolExecutionNotifications ?? [];

/** A message as a reader of the standard shows it: doubled braces and escaped brackets undone. */
function shown(text = ''): string {
  return text.replace(/([{}])\1/g, '$1').replace(/\\([[\]\\])/g, '$1');
}

describe('the SARIF log', () => {
  it('is refused by the schema where it is wrong, so the check can fail', async () => {
    const log = JSON.parse(formatSarif(await reportOf('house'), CONTEXT)) as Log;
    expect(valid(log)).toBe(true);
    expect(valid({ ...log, runs: [{ ...log.runs[0], tool: {} }] })).toBe(false);
    expect(valid({ ...log, runs: [{ ...log.runs[0], results: [{ message: { text: 1 } }] }] })).toBe(false);
  });

  it.each(['school', 'house', 'repeaters'])('has every finding of the %s', async (fixture) => {
    const report = await reportOf(fixture);
    const run = read(report);
    const found = resultsOf(run).map((result) => ({
      rule: result.ruleId,
      indexed: rulesOf(run)[result.ruleIndex ?? -1]?.id,
      severity: result.level,
      fingerprint: result.partialFingerprints?.primaryLocationLineHash,
      own: result.partialFingerprints?.['linebudgetFingerprint/v1'],
      text: shown(result.message.text),
      locations: result.locations?.map(({ physicalLocation }) => [
        physicalLocation?.artifactLocation?.uri,
        physicalLocation?.region?.startLine,
      ]),
      part: result.properties?.part,
    }));
    expect(found).toEqual(
      report.findings.map(({ rule, severity, fingerprint, message, remedy, location }) => ({
        rule,
        indexed: rule,
        severity,
        fingerprint,
        own: fingerprint,
        text: `${message} ${remedy}`,
        locations: [['plans/school', location.line ?? 1]],
        part: location.part,
      })),
    );
  });

  it('describes every rule, also where it has found nothing or is off', async () => {
    const report = await reportOf('house');
    const off = {
      ...report,
      rules: report.rules.map((rule, n) => (n === 0 ? { ...rule, inForce: 'off' as const } : rule)),
    };
    const rules = rulesOf(read(off));
    expect(rules.map(({ id }) => id)).toEqual(RULES.map(({ id }) => id));
    expect(rules.map(({ defaultConfiguration }) => defaultConfiguration?.enabled)).toEqual(RULES.map((_, n) => n > 0));
    for (const [n, { title, why, remedy, limit, source, severity }] of RULES.entries()) {
      const { shortDescription, fullDescription, help, defaultConfiguration } = rules[n] ?? {};
      expect([shortDescription?.text, fullDescription?.text, defaultConfiguration?.level]).toEqual([
        title,
        why,
        severity,
      ]);
      for (const text of [why, remedy, limit, source]) expect(help?.text).toContain(text);
      expect(help?.markdown).toContain('**Do:**');
    }
  });

  it('gives a rule the level that the policy makes of it', async () => {
    const report = await reportOf('house');
    const rules = report.rules.map((rule) => ({ ...rule, inForce: 'note' as const }));
    const levels = rulesOf(read({ ...report, rules })).map(({ defaultConfiguration }) => defaultConfiguration?.level);
    expect(new Set(levels)).toEqual(new Set(['note']));
  });

  it('has the archive and in it each part that a result points into', async () => {
    const report = await reportOf('school');
    const run = read(report);
    const [archive, ...parts] = run.artifacts ?? [];
    expect(archive?.location?.uri).toBe('plans/school');
    expect([archive?.hashes?.['sha-256'], archive?.length]).toEqual([report.archive.sha256, report.archive.bytes]);
    const wanted = new Set(report.findings.map(({ location }) => location.part));
    expect(new Set(parts.map(({ location }) => location?.uri))).toEqual(wanted);
    expect(parts.length).toBeGreaterThan(2);
    for (const { parentIndex, location, length } of parts) {
      expect([parentIndex, length]).toEqual([
        0,
        report.archive.parts.find(({ name }) => name === location?.uri)?.bytes,
      ]);
    }
    for (const { properties } of resultsOf(run)) {
      expect(run.artifacts?.[properties?.partArtifactIndex]?.location?.uri).toBe(properties?.part);
    }
  });

  it('marks what is waived as accepted, with the reason, and nothing else', async () => {
    const report = withWaivers(await reportOf('school'));
    const suppressions = resultsOf(read(report)).map((result) => result.suppressions);
    const accepted = {
      kind: 'external',
      status: 'accepted',
      justification: `${WAIVER.reason} (${WAIVER.author}, until ${WAIVER.expires})`,
      properties: WAIVER,
    };
    expect(suppressions).toEqual(report.findings.map(({ waiver }) => (waiver === null ? [] : [accepted])));
    expect(suppressions.filter((one) => one?.length === 1)).toHaveLength(9);
  });

  it('says what has changed since the baseline', async () => {
    const states = { new: 'new', worsened: 'updated', improved: 'updated', unchanged: 'unchanged' };
    const report = withBaseline(await reportOf('school'));
    const marked = resultsOf(read(report)).map(({ baselineState }) => baselineState);
    expect(marked).toEqual(report.findings.map(({ sinceBaseline }) => states[sinceBaseline ?? 'new']));
    expect(new Set(marked)).toEqual(new Set(Object.values(states)));
    for (const result of resultsOf(read(await reportOf('school')))) expect(result).not.toHaveProperty('baselineState');
  });

  it('keeps the measure, what it rests on and the segments', async () => {
    const report = await reportOf('school');
    for (const [n, { properties }] of resultsOf(read(report)).entries()) {
      const { measure, restsOn, segments } = report.findings[n] ?? {};
      expect(properties).toMatchObject({ measure, restsOn, segments });
    }
  });

  it('is whole with 25,000 results, and says what is cut from more', async () => {
    const report = await reportOf('school');
    const runWith = (total: number) => {
      const many = withMany(report, total);
      const findings = many.findings.map((one, index) => (index === 5 ? { ...one, waiver: WAIVER } : one));
      const log = JSON.parse(formatSarif(withFindings(many, findings), CONTEXT)) as Log;
      return { findings, run: log.runs[0] as Run };
    };
    const fingerprintsOf = (run: Run) => resultsOf(run).map((one) => one.partialFingerprints?.primaryLocationLineHash);

    const whole = runWith(25_000);
    expect(fingerprintsOf(whole.run)).toEqual(whole.findings.map(({ fingerprint }) => fingerprint));
    expect(notificationsOf(whole.run)).toEqual([]);

    const cut = runWith(25_001);
    // the one that is waived gives way, though it is not the least
    const kept = cut.findings.filter((_, index) => index !== 5).map(({ fingerprint }) => fingerprint);
    expect(fingerprintsOf(cut.run)).toEqual(kept);
    const [said, ...others] = notificationsOf(cut.run);
    expect([said?.level, said?.properties, others]).toEqual(['warning', { shown: 25_000, total: 25_001 }, []]);
    expect(said?.message.text).toContain('25000 shown of 25001');
    expect(rulesOf(cut.run)).toHaveLength(RULES.length);
  });

  it('has no results and all rules where nothing is found', async () => {
    const run = read(withFindings(await reportOf('school'), []));
    expect(run.results).toEqual([]); // not left out, which would say that nothing was looked for
    expect(rulesOf(run)).toHaveLength(RULES.length);
    expect(run.artifacts).toHaveLength(1);
    expect(run.invocations?.[0]?.executionSuccessful).toBe(true);
  });

  it('says that an audit is not complete, and which rule failed', async () => {
    const [first, ...others] = RULES;
    const broken = {
      ...first,
      check: () => {
        throw new Error('boom');
      },
    } as (typeof RULES)[number];
    const run = read(await audit(await fixtureArchive('house'), { rules: [broken, ...others] }));
    expect(run.invocations?.[0]?.executionSuccessful).toBe(false);
    expect(notificationsOf(run)).toEqual([
      { level: 'error', message: { text: INCOMPLETE }, associatedRule: { id: first?.id, index: 0 } },
    ]);
  });

  it('names tool, run and verdict in a way that lasts', async () => {
    const report = await reportOf('school');
    const run = read(report);
    expect(run.tool.driver).toMatchObject(report.tool);
    expect(run.automationDetails?.id).toBe('linebudget/plans/school/');
    expect(run.properties?.verdict).toBe(summaryLine(report));
    expect(formatSarif(await reportOf('school'), CONTEXT)).toBe(formatSarif(report, CONTEXT));
  });

  it('keeps hostile names text: no link, no placeholder, nothing that is not seen', async () => {
    const run = read(withHostileNames(await reportOf('school')));
    for (const { message, locations, suppressions } of resultsOf(run)) {
      const texts = [message.text, locations?.[0]?.logicalLocations?.[0]?.name, suppressions?.[0]?.justification];
      for (const text of texts) expect(text ?? '').not.toMatch(/[\p{C}\p{Zl}\p{Zp}]/u);
      // A link is [text](target) with bare brackets, a placeholder {number} with single braces.
      const bare = (message.text ?? '').replace(/\\[[\]\\]|\{\{|\}\}/g, '');
      expect(bare).not.toMatch(/[[\]{}]/);
    }
  });

  it.each([
    ['plans/Marlbrook Lane.1', 'plans/Marlbrook%20Lane.1'],
    ['.\\plans\\école', 'plans/%C3%A9cole'],
    ['/srv//school', 'srv/school'],
    ['C:\\plans\\school', 'C%3A/plans/school'],
    ['javascript:alert(1)', 'javascript%3Aalert(1)'],
    ['a?b#c%d', 'a%3Fb%23c%25d'],
    ['half \uD800', 'half%20%EF%BF%BD'],
    ['', 'archive'],
  ])('calls the archive %j by the relative URI %j', async (archive, uri) => {
    const [result] = resultsOf(read(await reportOf('school'), { archive }));
    expect(result?.locations?.[0]?.physicalLocation?.artifactLocation?.uri).toBe(uri);
    const resolved = new URL(uri, 'https://repository.example/'); // WHATWG URL: the same reader as a browser's
    expect([resolved.host, resolved.search, resolved.hash]).toEqual(['repository.example', '', '']);
  });

  it.each(HOSTILE_NAMES)('is valid whatever the archive is called: %j', async (archive) => {
    read(await reportOf('house'), { archive });
  });
});
