import type { Report, ReportFinding } from '../report.js';
import { type Suite, suitesOf, type TestCase } from './junit-suites.js';
import { type Element, xmlDocument } from './xml.js';

/**
 * The report as JUnit's XML, as build servers read it: a suite for each segment and one for each installation as a whole,
 * a test case for each rule. It holds no times, so that the same report gives the same bytes.
 */
export function formatJunit(report: Report, { archive }: { readonly archive: string }): string {
  const suites = suitesOf(report).map((suite) => suiteElement(suite));
  const attributes = { name: archive, ...totals(suites.map(({ counts }) => counts)) };
  return xmlDocument({ name: 'testsuites', attributes, content: suites.map(({ element }) => element) });
}

/** What counts a test case, beside that it is one. */
type Counted = 'failures' | 'errors' | 'skipped';

type Counts = { readonly [count in 'tests' | Counted]: number };

interface Outcome {
  readonly counted: Counted;
  readonly element: Element;
}

function totals(all: readonly Counts[]): Counts {
  const sum = { tests: 0, failures: 0, errors: 0, skipped: 0 };
  for (const counts of all) {
    for (const name of Object.keys(sum) as (keyof Counts)[]) sum[name] += counts[name];
  }
  return sum;
}

function suiteElement({ name, cases }: Suite): { counts: Counts; element: Element } {
  const outcomes = cases.map((one) => ({ one, outcome: outcomeOf(one) }));
  const counts = totals(
    outcomes.map(({ outcome }) => ({
      ...{ tests: 1, failures: 0, errors: 0, skipped: 0 },
      ...(outcome && { [outcome.counted]: 1 }),
    })),
  );
  const content = outcomes.map(({ one, outcome }) => caseElement(name, one, outcome));
  return { counts, element: { name: 'testsuite', attributes: { name, ...counts }, content } };
}

function caseElement(suite: string, one: TestCase, outcome: Outcome | null): Element {
  const told = outcome?.counted === 'failures' ? one.findings.filter((finding) => !fails(finding)) : one.findings;
  const output: Element[] =
    told.length === 0 ? [] : [{ name: 'system-out', attributes: {}, content: told.map(findingText).join('\n\n') }];
  return {
    name: 'testcase',
    attributes: { name: one.rule, classname: suite },
    content: [...(outcome === null ? [] : [outcome.element]), ...output],
  };
}

/** What a test case came to; null where it passed. A rule that failed by our own fault says nothing of the plant. */
function outcomeOf({ findings, status, missing }: TestCase): Outcome | null {
  if (status === 'failed') return { counted: 'errors', element: marked('error', RULE_FAILED) };
  const failing = findings.filter(fails);
  if (failing.length > 0) return { counted: 'failures', element: failure(failing) };
  if (status === 'off') return { counted: 'skipped', element: marked('skipped', 'off by the policy') };
  return status === 'skipped' ? { counted: 'skipped', element: marked('skipped', missing ?? '') } : null;
}

const RULE_FAILED = 'the rule failed by a fault of this tool';

function marked(name: string, message: string): Element {
  return { name, attributes: { message } };
}

function fails({ severity, waiver }: ReportFinding): boolean {
  return waiver === null && severity !== 'note';
}

/** The findings come worst first. */
function failure(failing: readonly ReportFinding[]): Element {
  const message = failing.map((finding) => finding.message).join(' ');
  const content = failing.map(findingText).join('\n\n');
  return { name: 'failure', attributes: { type: failing[0]?.severity ?? '', message }, content };
}

function findingText({ severity, message, remedy, waiver }: ReportFinding): string {
  const waived = waiver && `Waived until ${waiver.expires} by ${waiver.author}: ${waiver.reason}`;
  return [`${severity}: ${message}`, remedy, ...(waived === null ? [] : [waived])].join('\n');
}
