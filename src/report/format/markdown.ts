import { VERDICTS } from '../../electrical/verdict.js';
import { SEVERITIES, type Severity } from '../../policy/policy.js';
import { count } from '../../rules/words.js';
import { percent } from '../../units.js';
import type { Report, ReportFinding, ReportSegment } from '../report.js';
import type { FormatContext } from './context.js';
import { cutRemark, within } from './markdown-list.js';
import { proposalsMarkdown } from './markdown-proposals.js';
import { scheduleMarkdown } from './markdown-schedule.js';
import { clipped, markdownText } from './markdown-text.js';
import { INCOMPLETE, NOTHING_CHECKED, nameOf, ratingText, verdictSentence, verdictText } from './text.js';

/** A comment on a pull request takes 65,536 characters (from memory, not confirmed); some are left for those who post it. */
const MOST_CHARACTERS = 60_000;
const MOST_FOR_SEGMENTS = 12_000;
const MOST_FOR_WAIVED = 6_000;
/** A heading of a list, and the line that says that it is cut. */
const LIST_FRAME = 120;

const LONGEST_TEXT = 1000;
const LONGEST_NAME = 200;

/** A summary for a comment on a pull request: verdict, segments that are not fine, findings, worst first. */
export function formatMarkdown(report: Report, { archive }: FormatContext): string {
  const before = [...verdict(report, archive), segmentTable(report)];
  const after = [
    proposalsMarkdown(report),
    scheduleMarkdown(report),
    waivedFindings(report),
    basis(report),
    `Caution: ${markdownText(report.caution)}`,
  ];
  const room = MOST_CHARACTERS - joined([...before, ...after]).length;
  return joined([...before, ...findingLists(report, room), ...after]);
}

function joined(blocks: readonly string[]): string {
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function name(text: string): string {
  return markdownText(clipped(text, LONGEST_NAME));
}

function sentence(text: string): string {
  return markdownText(clipped(text, LONGEST_TEXT));
}

const SOURCE_NAMES = { archive: 'Archive', plan: 'Plan' } as const;

function verdict({ summary, tool, source }: Report, archive: string): string[] {
  const { error = 0, warning = 0, note = 0 } = summary.findings;
  const counts = [count(error, 'error'), count(warning, 'warning'), count(note, 'note')];
  const waived = summary.waived === 0 ? [] : [count(summary.waived, 'waived', 'waived')];
  return [
    `## ${markdownText(tool.name)}: bus power audit`,
    `**${verdictSentence(summary)}**`,
    summary.complete ? '' : `**${INCOMPLETE}**`,
    summary.checks > 0 ? '' : `**${NOTHING_CHECKED}**`,
    `${SOURCE_NAMES[source]} ${name(archive)}: ${[...counts, ...waived].join(', ')}.`,
  ];
}

function segmentTable({ segments }: Report): string {
  const rank = ({ verdict }: ReportSegment) => VERDICTS.indexOf(verdict);
  const concerned = segments
    .filter((segment) => rank(segment) < VERDICTS.indexOf('sufficient'))
    .sort((a, b) => rank(a) - rank(b) || (b.utilisation ?? 0) - (a.utilisation ?? 0));
  if (concerned.length === 0) return '';
  const shown = within(concerned.map(segmentRow), MOST_FOR_SEGMENTS);
  const head = [
    '| Line | Name | Load | Rating | Share | Headroom | Verdict |',
    '| :-- | :-- | --: | --: | --: | --: | :-- |',
  ];
  return joined([[...head, ...shown].join('\n'), cutRemark(shown.length, concerned.length)]).trimEnd();
}

function segmentRow(segment: ReportSegment): string {
  const { label, load, supply, utilisation, headroomMa } = segment;
  const cells = [
    name(label),
    name(nameOf(segment)),
    `${load.totalMa} mA${load.assumedItems > 0 ? ' \\*' : ''}`,
    ratingText(supply),
    utilisation === null ? '' : percent(utilisation),
    headroomMa === null ? '' : `${headroomMa > 0 ? '+' : ''}${headroomMa} mA`,
    verdictText(segment),
  ];
  return `| ${cells.join(' | ')} |`;
}

interface FindingList {
  readonly title: string;
  readonly findings: readonly ReportFinding[];
}

function findingLists({ findings, baseline }: Report, room: number): string[] {
  const open = findings.filter(({ waiver }) => waiver === null);
  if (open.length === 0) return ['No findings.'];
  const isNew = ({ sinceBaseline }: ReportFinding) => baseline !== null && sinceBaseline === 'new';
  const known = open.filter((finding) => !isNew(finding));
  const lists: FindingList[] = [
    { title: 'New since the baseline', findings: open.filter(isNew) },
    ...SEVERITIES.map((severity) => ({
      title: TITLES[severity],
      findings: known.filter((finding) => finding.severity === severity),
    })),
  ].filter((list) => list.findings.length > 0);
  let left = room - lists.length * LIST_FRAME;
  return lists.map((list) => {
    const items = within(itemsOf(list), left);
    for (const item of items) left -= item.length + 1;
    // Once one does not fit, nothing after it is shown: what is left out is always the least.
    if (items.length < list.findings.length) left = 0;
    return listOf(list, items);
  });
}

const TITLES: Readonly<Record<Severity, string>> = { error: 'Errors', warning: 'Warnings', note: 'Notes' };

function listOf({ title, findings }: FindingList, items: readonly string[]): string {
  const heading = `### ${title} (${findings.length})`;
  return joined([heading, items.join('\n'), cutRemark(items.length, findings.length)]).trimEnd();
}

/** One by one, as only the first of very many are shown. */
function* itemsOf({ findings }: FindingList): Generator<string> {
  for (const { rule, severity, message, remedy, sinceBaseline } of findings) {
    const change = sinceBaseline === 'worsened' || sinceBaseline === 'improved' ? `, ${sinceBaseline}` : '';
    yield `- **${severity} \`${rule}\`${change}:** ${sentence(message)}\n  Do: ${sentence(remedy)}`;
  }
}

function waivedFindings({ findings }: Report): string {
  const items: string[] = [];
  for (const { rule, message, waiver } of findings) {
    if (waiver === null) continue;
    const { reason, author, expires } = waiver;
    const because = `${sentence(reason)} (${name(author)}, until ${name(expires)})`;
    items.push(`- \`${rule}\`: ${sentence(message)}\n  Waived: ${because}`);
  }
  if (items.length === 0) return '';
  const shown = within(items, MOST_FOR_WAIVED);
  return joined([
    `<details><summary>${items.length} waived</summary>`,
    shown.join('\n'),
    cutRemark(shown.length, items.length),
    '</details>',
  ]).trimEnd();
}

function basis({ policy, source, archive, asOf, baseline, summary, tool }: Report): string {
  const { assumed } = summary.currents;
  const { targetLoad, assumedCurrentMa } = policy.values;
  const lines = [
    `Policy: extends ${policy.extends}, target ${percent(targetLoad)} of the rating; sha-256 \`${policy.sha256}\``,
    `${SOURCE_NAMES[source]}: ${archive.bytes} bytes; sha-256 \`${archive.sha256}\``,
    `Tool: ${markdownText(`${tool.name} ${tool.version}`)}`,
    ...(assumed === 0 ? [] : [`Currents: ${assumed} assumed at ${assumedCurrentMa} mA (loads marked \\*)`]),
    ...(asOf === null ? [] : [`Waivers as of ${name(asOf)}`]),
    ...(baseline === null ? [] : [`Baseline: archive with sha-256 \`${baseline.sha256}\``]),
  ];
  return joined(['### Basis', lines.map((line) => `- ${line}`).join('\n')]).trimEnd();
}
