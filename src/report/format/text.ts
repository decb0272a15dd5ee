import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import type { Report, ReportProject, ReportSegment } from '../report.js';
import type { FormatContext } from './context.js';
import { bullet, table, wrap } from './layout.js';
import { changedKeys, unusedEntries } from './policy-entries.js';
import { headroomText, nameOf, ratingText, shareText, verdictText } from './segment-cells.js';
import { findingsText } from './text-findings.js';
import { proposalsText } from './text-proposals.js';
import { scheduleText } from './text-schedule.js';
import { siteText } from './text-site.js';

const BAR_CELLS = 20;

/** What is said where a rule failed. */
export const INCOMPLETE = EN.report.incomplete;

/** The report as a person reads it on a terminal: verdict, segments with their load, findings worst first. */
export function formatText(report: Report, { words = EN }: Pick<FormatContext, 'words'> = {}): string {
  const segmentsOf = segmentsByInstallation(report);
  const blocks = [
    heading(report, words),
    ...report.projects.flatMap((project) => projectBlocks(project, segmentsOf, words)),
    findingsText(report, words),
    proposalsText(report, words),
    scheduleText(report, words),
    siteText(report, words),
    coverage(report, words),
    basis(report, words),
    wrap(words.report.cautionOf(report.caution)),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

/** One line for one archive: what a list of several shows. */
export function summaryLine({ summary }: Report, words: Words = EN): string {
  const { error = 0, warning = 0, note = 0 } = summary.findings;
  return words.report.summary({
    verdict: verdictSentence(summary, words),
    counts: words.report.counts({ error, warning, note }),
    waived: summary.waived,
    isComplete: summary.complete,
    isEmpty: summary.checks === 0,
  });
}

function heading({ tool, summary }: Report, words: Words): string {
  const { title, incomplete, nothingChecked } = words.report;
  return [
    title(`${tool.name} ${tool.version}`),
    '',
    verdictSentence(summary, words),
    ...(summary.complete ? [] : ['', incomplete]),
    ...(summary.checks === 0 ? ['', nothingChecked] : []),
  ].join('\n');
}

/** How many segments are carried, and what is wrong with the others. */
export function verdictSentence({ segments }: Report['summary'], words: Words = EN): string {
  const { sufficient = 0, tight = 0, insufficient = 0, unfed = 0, undecidable = 0 } = segments;
  const carried = sufficient + tight;
  const judged = carried + insufficient + unfed + undecidable;
  return words.report.verdict({ carried, judged, tight, insufficient, unfed, undecidable });
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

function projectBlocks(project: ReportProject, segmentsOf: SegmentsOf, words: Words): string[] {
  const texts = words.report;
  const isOnlyOne = project.installations.length === 1;
  const blocks = project.installations.map(({ number, devicesPlaced, devicesUnplaced, notes }) => {
    const segments = segmentsOf.get(installationKey(project.id, number)) ?? [];
    const counts = texts.installation({
      number: isOnlyOne ? null : number,
      segments: segments.length,
      placed: devicesPlaced,
      unplaced: devicesUnplaced,
    });
    const all = [
      ...notes,
      ...segments.flatMap(({ label, notes: own }) => own.map((note) => texts.noteOnLine({ line: label, note }))),
    ];
    return [counts, segmentTable(segments, words), ...all.map((note) => bullet(texts.note, note))].join('\n');
  });
  return [wrap(texts.project(project)), ...blocks];
}

function segmentTable(segments: readonly ReportSegment[], words: Words): string {
  const { line, name, load, rating, share, headroom, room, verdict } = words.report.segments.columns;
  const scale = `0 ${'─'.repeat(BAR_CELLS - 8)} 100 %`;
  return table(
    [
      [line, name, load, rating, scale, share, headroom, room, verdict],
      ...segments.map((segment) => segmentRow(segment, words)),
    ],
    ['left', 'left', 'right', 'right', 'left', 'right', 'right', 'right', 'left'],
  );
}

function segmentRow(segment: ReportSegment, words: Words): string[] {
  const { load, supply, utilisation, roomForDevices, verdict } = segment;
  const label = words.names.segment(segment.label);
  if (verdict === 'not-bus-powered') {
    return [label, nameOf(segment), '', '', '', '', '', '', words.report.segments.notPowered(segment.medium.name)];
  }
  return [
    label,
    nameOf(segment),
    `${words.figures.milliamps(load.totalMa)}${load.assumedItems > 0 ? ' *' : '  '}`,
    ratingText(supply, words),
    utilisation === null ? '' : bar(utilisation, (supply.targetMa ?? 0) / (supply.capacityMa ?? 1)),
    shareText(segment, words),
    headroomText(segment, words),
    roomForDevices === null ? '' : String(roomForDevices),
    verdictText(segment, words),
  ];
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

function coverage({ coverage: entries, rules, segments }: Report, { report }: Words): string {
  const texts = report.coverage;
  const of = (status: string) => entries.filter((entry) => entry.status === status).length;
  const reasons = new Map<string, number>();
  for (const { missing } of entries) if (missing !== null) reasons.set(missing, (reasons.get(missing) ?? 0) + 1);
  const off = rules.filter(({ inForce }) => inForce === 'off').map(({ id }) => id);
  return [
    texts.counts({
      rules: rules.length,
      segments: segments.length,
      passed: of('passed'),
      found: of('found'),
      skipped: of('skipped'),
      failed: of('failed'),
    }),
    ...[...reasons].sort(([, a], [, b]) => b - a).map(([reason, times]) => `  ${texts.skipped({ times, reason })}`),
    ...(off.length === 0 ? [] : [bullet(`  ${texts.off}`, off.join(', '))]),
  ].join('\n');
}

/** Entries of the policy that are for nothing in this archive: right in a policy of many plants, or a slip. */
function unusedText(policy: Report['policy'], { report, figures }: Words): string[] {
  const unused = unusedEntries(policy);
  return unused.length === 0 ? [] : [bullet(report.basis.unusedEntries, figures.list(unused))];
}

function basis({ summary, policy, source, archive, unknowns, asOf, baseline }: Report, words: Words): string {
  const texts = words.report.basis;
  const { targetLoad, assumedCurrentMa } = policy.values;
  const { sha256 } = archive;
  return [
    texts.currents({ ...summary.currents, assumedMa: assumedCurrentMa }),
    ...(unknowns.length === 0 ? [] : [texts.dataSheets(unknowns.length)]),
    texts.policy({ name: policy.extends, changed: changedKeys(policy), target: targetLoad, sha256: policy.sha256 }),
    ...unusedText(policy, words),
    ...(asOf === null ? [] : [texts.waivers({ asOf, waived: summary.waived })]),
    ...(baseline === null ? [] : [texts.baseline(baseline)]),
    source === 'plan'
      ? texts.file({ source: words.names.sources.plan, bytes: archive.bytes, sha256 })
      : texts.archive({ bytes: archive.bytes, parts: archive.parts.length, sha256 }),
  ].join('\n');
}
