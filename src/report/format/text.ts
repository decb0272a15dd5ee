import { count, list, sourceText } from '../../rules/words.js';
import { percent } from '../../units.js';
import type { Report, ReportFinding, ReportProject, ReportRule, ReportSegment, WaiverMark } from '../report.js';
import { bullet, table, wrap } from './layout.js';
import { proposalsText } from './text-proposals.js';
import { scheduleText } from './text-schedule.js';
import { siteText } from './text-site.js';

const BAR_CELLS = 20;
const MOST_PER_RULE = 10;

/** What is said where a rule failed. */
export const INCOMPLETE = 'INCOMPLETE: a rule failed by a fault of this tool; something may be missing.';

/** What is said where every rule is off or lacks a fact: that is no success. */
export const NOTHING_CHECKED = 'NOTHING WAS CHECKED: every rule is off, or lacks what it needs.';

/** The report as a person reads it on a terminal: verdict, segments with their load, findings worst first. */
export function formatText(report: Report): string {
  const segmentsOf = segmentsByInstallation(report);
  const blocks = [
    heading(report),
    ...report.projects.flatMap((project) => projectBlocks(project, segmentsOf)),
    findings(report),
    proposalsText(report),
    scheduleText(report),
    siteText(report),
    coverage(report),
    basis(report),
    wrap(`Caution: ${report.caution}`),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

/** One line for one archive: what a list of several shows. */
export function summaryLine({ summary }: Report): string {
  const { error = 0, warning = 0, note = 0 } = summary.findings;
  const counts = [count(error, 'error'), count(warning, 'warning'), count(note, 'note')].join(', ');
  const waived = summary.waived === 0 ? '' : `, ${summary.waived} waived`;
  const incomplete = summary.complete ? '' : ' — INCOMPLETE, a rule failed';
  const empty = summary.checks === 0 ? ' — NOTHING WAS CHECKED' : '';
  return `${verdictSentence(summary)} ${counts}${waived}${incomplete}${empty}`;
}

function heading(report: Report): string {
  const { tool, summary } = report;
  const incomplete = summary.complete ? [] : ['', INCOMPLETE];
  const empty = summary.checks === 0 ? ['', NOTHING_CHECKED] : [];
  const title = `${tool.name} ${tool.version}: bus power audit`;
  return [title, '', verdictSentence(summary), ...incomplete, ...empty].join('\n');
}

/** How many segments are carried, and what is wrong with the others. */
export function verdictSentence({ segments }: Report['summary']): string {
  const of = (verdict: string) => segments[verdict] ?? 0;
  const carried = of('sufficient') + of('tight');
  const judged = carried + of('insufficient') + of('unfed') + of('undecidable');
  const bad = [
    of('insufficient') > 0 ? `${of('insufficient')} overloaded` : '',
    of('unfed') > 0 ? `${of('unfed')} without a supply` : '',
    of('undecidable') > 0 ? `${of('undecidable')} undecidable` : '',
  ].filter(Boolean);
  if (judged === 0) return 'No segment needs bus power.';
  const verb = carried === 1 || judged === 1 ? 'is' : 'are';
  const tight = of('tight') > 0 ? ` (${of('tight')} with low headroom)` : '';
  const rest = bad.length === 0 ? '.' : `; ${bad.join(', ')}.`;
  return `${carried} of ${count(judged, 'bus-powered segment')} ${verb} carried by the supplies${tight}${rest}`;
}

/** Segments by the installation that they are of. */
type SegmentsOf = ReadonlyMap<string, readonly ReportSegment[]>;

function segmentsByInstallation({ segments }: Report): SegmentsOf {
  const found = new Map<string, ReportSegment[]>();
  for (const segment of segments) {
    const key = installationKey(segment.project, segment.installation);
    const others = found.get(key);
    if (others === undefined) found.set(key, [segment]);
    else others.push(segment);
  }
  return found;
}

function installationKey(project: string, installation: number): string {
  return `${project} ${installation}`;
}

function projectBlocks(project: ReportProject, segmentsOf: SegmentsOf): string[] {
  const name = project.name ?? '(no name)';
  const title = wrap(
    project.schema === null ? `Plan ${name}` : `Project ${name} (${project.id}), schema ${project.schema}`,
  );
  const blocks = project.installations.map((installation) => {
    const segments = segmentsOf.get(installationKey(project.id, installation.number)) ?? [];
    const name = project.installations.length > 1 ? `Installation ${installation.number}: ` : '';
    const unplaced = installation.devicesUnplaced === 0 ? '' : `, ${installation.devicesUnplaced} on no line`;
    const counts = `${name}${count(segments.length, 'segment')}, ${count(installation.devicesPlaced, 'device')} placed${unplaced}`;
    const notes = [
      ...installation.notes,
      ...segments.flatMap((segment) => segment.notes.map((note) => `Line ${segment.label}: ${note}`)),
    ];
    return [counts, segmentTable(segments), ...notes.map((note) => bullet('Note:', note))].join('\n');
  });
  return [title, ...blocks];
}

function segmentTable(segments: readonly ReportSegment[]): string {
  const header = [
    'Line',
    'Name',
    'Load',
    'Rating',
    `0 ${'─'.repeat(BAR_CELLS - 8)} 100 %`,
    'Share',
    'Headroom',
    'Room',
    'Verdict',
  ];
  return table(
    [header, ...segments.map(segmentRow)],
    ['left', 'left', 'right', 'right', 'left', 'right', 'right', 'right', 'left'],
  );
}

function segmentRow(segment: ReportSegment): string[] {
  const { load, supply, utilisation, headroomMa, roomForDevices, verdict } = segment;
  if (verdict === 'not-bus-powered') {
    return [segment.label, nameOf(segment), '', '', '', '', '', '', `not bus-powered (${segment.medium.name})`];
  }
  return [
    segment.label,
    nameOf(segment),
    `${load.totalMa} mA${load.assumedItems > 0 ? ' *' : '  '}`,
    ratingText(supply),
    utilisation === null ? '' : bar(utilisation, (supply.targetMa ?? 0) / (supply.capacityMa ?? 1)),
    utilisation === null ? '' : percent(utilisation),
    headroomMa === null ? '' : `${headroomMa > 0 ? '+' : ''}${headroomMa} mA`,
    roomForDevices === null ? '' : String(roomForDevices),
    verdictText(segment),
  ];
}

/** The verdict, and of an open one the reason. */
export function verdictText({ verdict, boundariesKnown, supply }: ReportSegment): string {
  if (verdict !== 'undecidable') return verdict;
  if (!boundariesKnown) return 'undecidable: bounds not known';
  if (supply.units.length === 0) return 'undecidable: feed not known';
  return supply.unrated > 0 ? 'undecidable: rating not known' : 'undecidable: supplies not admissible together';
}

/** The ratings of a segment’s supplies, with a question mark for unknown ones. */
export function ratingText({ units, ratedMa, unrated }: ReportSegment['supply']): string {
  if (units.length === 0) return '–';
  const known = units.length === unrated ? [] : [`${ratedMa} mA`];
  return [...known, ...(unrated > 0 ? ['?'] : [])].join(' + ');
}

/** The name of a segment or else of its line, cut to what a column takes. */
export function nameOf({ name, lineName }: ReportSegment): string {
  const longest = 28;
  const text = name ?? lineName ?? '';
  return text.length > longest ? `${text.slice(0, longest - 1)}…` : text;
}

/** Load against rating; the stroke stands at the target share, a plus after the end means beyond the rating. */
function bar(utilisation: number, target: number): string {
  const filled = Math.min(BAR_CELLS, Math.ceil(utilisation * BAR_CELLS - 1e-9));
  const mark = Math.min(BAR_CELLS - 1, Math.round(target * BAR_CELLS));
  const cells = Array.from({ length: BAR_CELLS }, (_, cell) => {
    if (cell === mark) return '│';
    return cell < filled ? '█' : '·';
  });
  return cells.join('') + (utilisation > 1 ? '+' : '');
}

function findings(report: Report): string {
  if (report.findings.length === 0) return 'No findings.';
  const { error = 0, warning = 0, note = 0 } = report.summary.findings;
  const { waived } = report.summary;
  const accepted = waived === 0 ? '' : `; ${waived} waived, marked below`;
  const title = `Findings: ${count(error, 'error')}, ${count(warning, 'warning')}, ${count(note, 'note')}${accepted}`;
  const groups = new Map<string, ReportFinding[]>();
  for (const finding of report.findings) {
    const key = `${finding.severity} ${finding.rule}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [finding]);
    else group.push(finding);
  }
  const rules = new Map(report.rules.map((rule) => [rule.id, rule]));
  return [title, ...[...groups.values()].map((group) => findingGroup(group, rules))].join('\n\n');
}

function findingGroup(group: readonly ReportFinding[], rules: ReadonlyMap<string, ReportRule>): string {
  const [first] = group;
  const rule = first && rules.get(first.rule);
  if (first === undefined || rule === undefined) return '';
  const shown = group.slice(0, MOST_PER_RULE);
  const rest = group.length - shown.length;
  return [
    `${first.severity.toUpperCase()}  ${rule.title}  [${rule.id}]`,
    bullet('  Why:', rule.why),
    bullet('  Limit:', `${rule.limit} (${sourceText(rule)})`),
    ...shown.flatMap(findingLines),
    ...(rest > 0 ? [`  - ${shown.length} shown of ${group.length}; the JSON report has all of them`] : []),
  ].join('\n');
}

function findingLines(finding: ReportFinding): string[] {
  const { message, remedy, waiver, sinceBaseline, fingerprint } = finding;
  const since = sinceBaseline === null || sinceBaseline === 'unchanged' ? '' : `(${sinceBaseline}) `;
  return [
    bullet('  -', `${since}${message}`),
    bullet('    Figure:', `${figureText(finding)} [${fingerprint.slice(0, SHORT_FINGERPRINT)}]`),
    ...(waiver === null ? [bullet('    Do:', remedy)] : [bullet('    Waived:', waiverText(waiver))]),
  ];
}

/** How a fingerprint begins: what the command that waives a finding takes. The JSON report has all of it. */
const SHORT_FINGERPRINT = 12;

/** Units of what is measured. */
const MEASURED: ReadonlySet<string> = new Set(['mA', 'V', 'm', 'h', 'Ah']);

/** The figure of a finding against its limit: `load 700 mA, at most 640 mA: 60 mA beyond (set by policy file, targetLoad)`. */
export function figureText({ measure }: ReportFinding): string {
  const { quantity, unit, value, limit, holds, margin, breakEvenMa, limitFrom } = measure;
  const told = (figure: number) => (MEASURED.has(unit) ? `${figure} ${unit}` : String(figure)); // what is counted names itself
  const found = value === null ? `${quantity} not known` : `${quantity} ${told(value)}`;
  const bound = limit === null ? 'limit not known' : `${holds} ${told(limit)}`;
  const by = margin === null ? '' : `; ${told(Math.abs(margin))} ${margin < 0 ? 'beyond' : 'within'}`;
  const turn = breakEvenMa === null ? '' : `; turns at ${breakEvenMa} mA for each assumed device`;
  const from =
    limitFrom.setBy === null
      ? ''
      : `; limit by ${limitFrom.setBy}${limitFrom.key === null ? '' : ` (${limitFrom.key})`}`;
  return `${found}, ${bound}${by}${turn}${from}`;
}

function waiverText({ reason, author, expires, accepted, raiseAbove }: WaiverMark): string {
  const figure =
    accepted === null ? '' : `; accepted at ${accepted}${raiseAbove === null ? '' : `, again above ${raiseAbove}`}`;
  return `${reason} (${author}, until ${expires}${figure})`;
}

function coverage({ coverage: entries, rules, segments }: Report): string {
  const of = (status: string) => entries.filter((entry) => entry.status === status).length;
  const reasons = new Map<string, number>();
  for (const { missing } of entries) if (missing !== null) reasons.set(missing, (reasons.get(missing) ?? 0) + 1);
  const failed = of('failed') > 0 ? `, ${of('failed')} FAILED` : '';
  const off = rules.filter(({ inForce }) => inForce === 'off').map(({ id }) => id);
  const lines = [
    `Coverage: ${count(rules.length, 'rule')} on ${count(segments.length, 'segment')}, some on the installation as well: ${of('passed')} passed, ${of('found')} found something, ${of('skipped')} skipped${failed}`,
    ...[...reasons].sort(([, a], [, b]) => b - a).map(([reason, n]) => `  ${n} skipped: ${reason}`),
    ...(off.length === 0 ? [] : [bullet('  Off by the policy:', off.join(', '))]),
  ];
  return lines.join('\n');
}

/** Entries of the policy that are for nothing in this archive: right in a policy of many plants, or a slip. */
function unusedEntries({ products, growth }: Report['policy']): string[] {
  const unused = [
    ...products.filter(({ devices }) => devices === 0).map(({ entry }) => `products[${entry}]`),
    ...growth.filter(({ segments }) => segments === 0).map(({ entry }) => `growth[${entry}]`),
  ];
  return unused.length === 0 ? [] : [bullet('Entries of the policy that are for nothing here:', list(unused))];
}

function basis({ summary, policy, source, archive, unknowns, asOf, baseline }: Report): string {
  const { declared, overridden, assumed } = summary.currents;
  const { targetLoad, assumedCurrentMa } = policy.values;
  const own = Object.keys(policy.setBy).filter((key) =>
    ['policy file', 'product list'].includes(policy.setBy[key] ?? ''),
  );
  return [
    `Currents: ${declared} declared, ${overridden} overridden, ${assumed} assumed at ${assumedCurrentMa} mA (loads marked *)`,
    ...(unknowns.length === 0 ? [] : [`Data sheets to look up: ${unknowns.length} (linebudget unknowns lists them)`]),
    `Policy: ${policy.extends}${own.length === 0 ? '' : `, changed in ${own.join(', ')}`}; target ${percent(targetLoad)} of the rating; sha-256 ${policy.sha256}`,
    ...unusedEntries(policy),
    ...(asOf === null ? [] : [`Waivers: judged as of ${asOf}; ${summary.waived} of the findings waived`]),
    ...(baseline === null ? [] : [`Baseline: the report of archive sha-256 ${baseline.sha256} by ${baseline.tool}`]),
    source === 'plan'
      ? `Plan: ${archive.bytes} bytes; sha-256 ${archive.sha256}`
      : `Archive: ${archive.bytes} bytes, ${count(archive.parts.length, 'part')} read; sha-256 ${archive.sha256}`,
  ].join('\n');
}
