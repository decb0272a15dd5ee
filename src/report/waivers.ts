import type { Waiver } from '../policy/waivers.js';
import { rulesIn } from '../rules/index.js';
import { type JudgedWaiver, waiverLabel } from '../rules/judged-waiver.js';
import type { Facts, WaiverFound, WaiverRule } from '../rules/rule.js';
import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import { countFindings, worstFirst } from './findings.js';
import { waiverFingerprintOf } from './fingerprint.js';
import { type Judgement, judgeWaivers } from './judge-waiver.js';
import { waiverMeasure } from './measure.js';
import type { Report, ReportFinding, ReportRule, WaiverMark } from './report.js';

/**
 * The report with what was accepted: findings that a waiver covers are marked and no longer counted; what is to be said
 * of the waivers themselves are findings of their own. Without waivers the report as it is.
 * @param asOf the day on which waivers are judged, YYYY-MM-DD in UTC; one counts to the end of its last day
 * @param words what findings about waivers are told with, as the report's others are
 */
export function applyWaivers(report: Report, waivers: readonly Waiver[], asOf: string, words: Words = EN): Report {
  if (waivers.length === 0) return report;
  const judgements = judgeWaivers(report, waivers, asOf);
  const marked = markCovered(report.findings, judgements);
  const runs = waiverRulesOf(report, words).map((rule) => runOn(judgements, rule, report, words));
  const findings = worstFirst([...marked, ...runs.flatMap(({ found }) => found)], report.rules);
  return {
    ...report,
    asOf,
    summary: {
      ...report.summary,
      findings: countFindings(findings),
      waived: findings.filter(({ waiver }) => waiver !== null).length,
    },
    findings,
    coverage: [...report.coverage, ...runs.map(({ coverage }) => coverage)],
  };
}

function markCovered(findings: readonly ReportFinding[], judgements: readonly Judgement[]): ReportFinding[] {
  const marks = new Map(
    judgements.flatMap(({ judged, covered }) => covered.map((finding) => [finding, markOf(judged.waiver)] as const)),
  );
  return findings.map((finding) => ({ ...finding, waiver: marks.get(finding) ?? finding.waiver }));
}

function markOf({ reason, author, expires, accepted, raiseAbove }: Waiver): WaiverMark {
  return { reason, author, expires, accepted: accepted ?? null, raiseAbove: raiseAbove ?? null };
}

type Run = { readonly rule: WaiverRule; readonly inForce: ReportRule['inForce'] };

/** The rules about waivers that the report lists, and what its policy makes of them. */
function waiverRulesOf({ rules }: Report, words: Words): Run[] {
  const listed = new Map(rules.map(({ id, inForce }) => [id, inForce]));
  return rulesIn(words).flatMap((rule) => {
    const inForce = listed.get(rule.id);
    return rule.scope === 'waivers' && inForce !== undefined ? [{ rule, inForce }] : [];
  });
}

/** What one rule says of the waivers. Nothing of the plant is judged, so no check is counted in the summary. */
function runOn(
  judgements: readonly Judgement[],
  { rule, inForce }: Run,
  report: Report,
  words: Words,
): { readonly found: readonly ReportFinding[]; readonly coverage: Report['coverage'][number] } {
  const { project, installation, part } = firstInstallation(report);
  const at = { rule: rule.id, project, installation, segment: null, missing: null };
  if (inForce === 'off') return { found: [], coverage: { ...at, status: 'off' } };
  const concerned = new Map(judgements.map(({ judged, concerned: finding }) => [judged, finding]));
  const severity = inForce;
  const found = [...rule.check([...concerned.keys()], words)].map((one) => ({
    ...findingOf(one, rule, { project, installation, part }, concerned.get(one.judged) ?? null),
    severity,
  }));
  return { found, coverage: { ...at, status: found.length > 0 ? 'found' : 'passed' } };
}

type At = { readonly project: string; readonly installation: number; readonly part: string };

/** A finding about a waiver; where it stands is where the finding stands that the waiver is for. */
function findingOf(
  { judged, measure, facts }: WaiverFound<Facts>,
  rule: WaiverRule,
  elsewhere: At,
  concerned: ReportFinding | null,
): Omit<ReportFinding, 'severity'> {
  return {
    rule: rule.id,
    fingerprint: waiverFingerprintOf(rule.id, judged.waiver.fingerprint),
    project: concerned?.project ?? elsewhere.project,
    installation: concerned?.installation ?? elsewhere.installation,
    subject: subjectOf(judged),
    segments: [...(concerned?.segments ?? [])],
    restsOn: concerned?.restsOn ?? 'declared',
    measure: waiverMeasure(measure, rule),
    location: concerned?.location ?? { part: elsewhere.part, line: null },
    waiver: null,
    sinceBaseline: null,
    message: rule.words.message(facts),
    remedy: rule.words.advice(facts),
    facts: { ...facts },
  };
}

function subjectOf({ waiver }: JudgedWaiver): ReportFinding['subject'] {
  return { kind: 'waiver', id: waiver.fingerprint, label: waiverLabel(waiver) };
}

/** Where a finding stands that is about nothing in the plant. */
function firstInstallation({ projects }: Report): At {
  const [first] = projects.flatMap(({ id, installations }) =>
    installations.map(({ number, part }) => ({ project: id, installation: number, part })),
  );
  if (first === undefined) throw new Error('a report has an installation, or there is nothing to audit');
  return first;
}
