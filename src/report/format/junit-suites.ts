import type { Report, ReportFinding } from '../report.js';

type Coverage = Report['coverage'][number];

/** A rule on a segment, or on an installation as a whole. */
export interface TestCase {
  readonly rule: string;
  readonly status: Coverage['status'];
  readonly missing: string | null;
  readonly findings: readonly ReportFinding[];
}

export interface Suite {
  /** Given to no other suite. */
  readonly name: string;
  readonly cases: readonly TestCase[];
}

interface OpenSuite {
  readonly name: string;
  readonly cases: Map<string, TestCase & { readonly findings: ReportFinding[] }>;
}

/** Suites by where they are of. */
type Suites = Map<string, OpenSuite>;

/** Where coverage or a finding belongs. */
interface Whereabouts {
  readonly project: string;
  readonly installation: number;
}

/** Every segment's suite, then that of the installation, in the order of the plant. */
export function suitesOf(report: Report): Suite[] {
  const suites = emptySuites(report);
  for (const { rule, status, missing, ...where } of report.coverage) {
    suiteAt(suites, where, where.segment).cases.set(rule, { rule, status, missing, findings: [] });
  }
  for (const finding of report.findings) {
    const places = finding.segments.length === 0 ? [null] : [...new Set(finding.segments)];
    const touched = new Set(places.map((segment) => suiteAt(suites, finding, segment)));
    for (const suite of touched) addFinding(suite, finding);
  }
  return [...suites.values()].map(({ name, cases }) => ({ name, cases: [...cases.values()] }));
}

/** A finding without coverage is shown as well. */
function addFinding({ cases }: OpenSuite, finding: ReportFinding): void {
  const { rule } = finding;
  const known = cases.get(rule) ?? { rule, status: 'found', missing: null, findings: [] };
  known.findings.push(finding);
  cases.set(rule, known);
}

function emptySuites({ projects, segments }: Report): Suites {
  const suites: Suites = new Map();
  const unique = uniqueNames();
  const byInstallation = segmentsByInstallation(segments);
  for (const { id, installations } of projects) {
    for (const { number } of installations) {
      const where = { project: id, installation: number };
      // Not the project's name, which may be long and would stand on every test case.
      const before = [...(projects.length > 1 ? [id] : []), ...(installations.length > 1 ? [`${number}`] : [])];
      const add = (segment: string | null, label: string) =>
        suites.set(keyOf(where, segment), { name: unique([...before, label].join(' / ')), cases: new Map() });
      for (const segment of byInstallation.get(keyOf(where, null)) ?? []) add(segment.id, segment.label);
      add(null, 'installation');
    }
  }
  return suites;
}

function segmentsByInstallation(segments: Report['segments']): ReadonlyMap<string, Report['segments']> {
  const found = new Map<string, Report['segments']>();
  for (const segment of segments) {
    const key = keyOf(segment, null);
    const others = found.get(key);
    if (others === undefined) found.set(key, [segment]);
    else others.push(segment);
  }
  return found;
}

/** What names a segment that the report does not hold is told of the installation. */
function suiteAt(suites: Suites, where: Whereabouts, segment: string | null): OpenSuite {
  const found = suites.get(keyOf(where, segment)) ?? suites.get(keyOf(where, null));
  if (found !== undefined) return found;
  const added = { name: `${where.project} / ${where.installation} / installation`, cases: new Map() };
  suites.set(keyOf(where, null), added);
  return added;
}

function keyOf({ project, installation }: Whereabouts, segment: string | null): string {
  return JSON.stringify([project, installation, segment]);
}

/** Gives each text as a name that was not given before, in a few steps however often a text comes. */
function uniqueNames(): (text: string) => string {
  const given = new Set<string>();
  const times = new Map<string, number>();
  return (text) => {
    let time = (times.get(text) ?? 0) + 1;
    let name = time === 1 ? text : `${text} [${time}]`;
    while (given.has(name)) name = `${text} [${++time}]`;
    times.set(text, time);
    given.add(name);
    return name;
  };
}
