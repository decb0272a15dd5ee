import { VERDICTS } from '../../electrical/verdict.js';
import { SEVERITIES } from '../../policy/policy.js';
import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import type { Report, ReportFinding, ReportSegment } from '../report.js';
import type { FormatContext } from './context.js';
import { cutRemark, within } from './markdown-list.js';
import { proposalsMarkdown } from './markdown-proposals.js';
import { scheduleMarkdown } from './markdown-schedule.js';
import { clipped, markdownText } from './markdown-text.js';
import { headroomText, nameOf, ratingText, shareText, verdictText } from './segment-cells.js';
import { verdictSentence } from './text.js';

/** A comment on a pull request takes 65,536 characters (from memory, not confirmed); some are left for those who post it. */
const MOST_CHARACTERS = 60_000;
const MOST_FOR_SEGMENTS = 12_000;
const MOST_FOR_WAIVED = 6_000;
/** A heading of a list, and the line that says that it is cut. */
const LIST_FRAME = 120;

const LONGEST_TEXT = 1000;
const LONGEST_NAME = 200;

/** A summary for a comment on a pull request: verdict, segments that are not fine, findings, worst first. */
export function formatMarkdown(report: Report, { archive, words = EN }: FormatContext): string {
  const before = [...verdict(report, archive, words), segmentTable(report, words)];
  const after = [
    proposalsMarkdown(report, words),
    scheduleMarkdown(report, words),
    waivedFindings(report, words),
    basis(report, words),
    words.report.cautionOf(markdownText(report.caution)),
  ];
  const room = MOST_CHARACTERS - joined([...before, ...after]).length;
  return joined([...before, ...findingLists(report, room, words), ...after]);
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

function verdict({ summary, tool, source }: Report, archive: string, words: Words): string[] {
  const { error = 0, warning = 0, note = 0 } = summary.findings;
  const { title, counts, incomplete, nothingChecked, findings } = words.report;
  const waived = summary.waived === 0 ? [] : [findings.waivedCount(summary.waived)];
  return [
    `## ${title(markdownText(tool.name))}`,
    `**${verdictSentence(summary, words)}**`,
    summary.complete ? '' : `**${incomplete}**`,
    summary.checks > 0 ? '' : `**${nothingChecked}**`,
    `${words.names.sources[source]} ${name(archive)}: ${[counts({ error, warning, note }), ...waived].join(', ')}.`,
  ];
}

function segmentTable({ segments }: Report, words: Words): string {
  const rank = ({ verdict }: ReportSegment) => VERDICTS.indexOf(verdict);
  const concerned = segments
    .filter((segment) => rank(segment) < VERDICTS.indexOf('sufficient'))
    .sort((a, b) => rank(a) - rank(b) || (b.utilisation ?? 0) - (a.utilisation ?? 0));
  if (concerned.length === 0) return '';
  const shown = within(
    concerned.map((segment) => segmentRow(segment, words)),
    MOST_FOR_SEGMENTS,
  );
  const { line, name: called, load, rating, share, headroom, verdict: judged } = words.report.segments.columns;
  const head = [
    `| ${[line, called, load, rating, share, headroom, judged].join(' | ')} |`,
    '| :-- | :-- | --: | --: | --: | --: | :-- |',
  ];
  return joined([[...head, ...shown].join('\n'), cutRemark(shown.length, concerned.length, words)]).trimEnd();
}

function segmentRow(segment: ReportSegment, words: Words): string {
  const { label, load, supply } = segment;
  const cells = [
    name(words.names.segment(label)),
    name(nameOf(segment)),
    `${words.figures.milliamps(load.totalMa)}${load.assumedItems > 0 ? ' \\*' : ''}`,
    ratingText(supply, words),
    shareText(segment, words),
    headroomText(segment, words),
    verdictText(segment, words),
  ];
  return `| ${cells.join(' | ')} |`;
}

interface FindingList {
  readonly title: string;
  readonly findings: readonly ReportFinding[];
}

function findingLists({ findings, baseline }: Report, room: number, words: Words): string[] {
  const texts = words.report.findings;
  const open = findings.filter(({ waiver }) => waiver === null);
  if (open.length === 0) return [texts.none];
  const isNew = ({ sinceBaseline }: ReportFinding) => baseline !== null && sinceBaseline === 'new';
  const known = open.filter((finding) => !isNew(finding));
  const lists: FindingList[] = [
    { title: texts.newList, findings: open.filter(isNew) },
    ...SEVERITIES.map((severity) => ({
      title: texts.lists[severity],
      findings: known.filter((finding) => finding.severity === severity),
    })),
  ].filter((list) => list.findings.length > 0);
  let left = room - lists.length * LIST_FRAME;
  return lists.map((list) => {
    const items = within(itemsOf(list, words), left);
    for (const item of items) left -= item.length + 1;
    // Once one does not fit, nothing after it is shown: what is left out is always the least.
    if (items.length < list.findings.length) left = 0;
    return listOf(list, items, words);
  });
}

function listOf({ title, findings }: FindingList, items: readonly string[], words: Words): string {
  const heading = `### ${title} (${findings.length})`;
  return joined([heading, items.join('\n'), cutRemark(items.length, findings.length, words)]).trimEnd();
}

/** One by one, as only the first of very many are shown. */
function* itemsOf({ findings }: FindingList, { names, report }: Words): Generator<string> {
  for (const { rule, severity, message, remedy, sinceBaseline } of findings) {
    const isOther = sinceBaseline === 'worsened' || sinceBaseline === 'improved';
    const change = isOther ? `, ${names.sinceBaseline[sinceBaseline]}` : '';
    const what = `- **${names.severities[severity]} \`${rule}\`${change}:** ${sentence(message)}`;
    yield `${what}\n  ${report.findings.do} ${sentence(remedy)}`;
  }
}

function waivedFindings({ findings }: Report, words: Words): string {
  const texts = words.report.findings;
  const items: string[] = [];
  for (const { rule, message, waiver } of findings) {
    if (waiver === null) continue;
    const { reason, author, expires } = waiver;
    const mark = { reason: sentence(reason), author: name(author), expires: name(expires) };
    const because = texts.waiver({ ...mark, accepted: null, raiseAbove: null });
    items.push(`- \`${rule}\`: ${sentence(message)}\n  ${texts.waived} ${because}`);
  }
  if (items.length === 0) return '';
  const shown = within(items, MOST_FOR_WAIVED);
  return joined([
    `<details><summary>${texts.waivedCount(items.length)}</summary>`,
    shown.join('\n'),
    cutRemark(shown.length, items.length, words),
    '</details>',
  ]).trimEnd();
}

function basis({ policy, source, archive, asOf, baseline, summary, tool }: Report, words: Words): string {
  const texts = words.report.basis;
  const { assumed } = summary.currents;
  const { targetLoad, assumedCurrentMa } = policy.values;
  const lines = [
    texts.extended({ name: policy.extends, target: targetLoad, sha256: digest(policy.sha256) }),
    texts.file({ source: words.names.sources[source], bytes: archive.bytes, sha256: digest(archive.sha256) }),
    texts.tool(markdownText(`${tool.name} ${tool.version}`)),
    ...(assumed === 0 ? [] : [texts.assumed({ assumed, assumedMa: assumedCurrentMa, mark: '\\*' })]),
    ...(asOf === null ? [] : [texts.waiversAsOf(name(asOf))]),
    ...(baseline === null ? [] : [texts.baselineOf(digest(baseline.sha256))]),
  ];
  return joined([`### ${texts.title}`, lines.map((line) => `- ${line}`).join('\n')]).trimEnd();
}

function digest(sha256: string): string {
  return `\`${sha256}\``;
}
