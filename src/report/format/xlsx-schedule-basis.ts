import { list } from '../../rules/words.js';
import { percent } from '../../units.js';
import type { Report } from '../report.js';
import type { FormatContext } from './context.js';
import { listed } from './csv.js';
import { changedKeys } from './policy-entries.js';
import { INCOMPLETE } from './text.js';
import type { XlsxColumn, XlsxRow } from './xlsx.js';

export const BASIS_COLUMNS: readonly XlsxColumn[] = [
  { heading: 'What', width: 18 },
  { heading: 'Lines', width: 24 },
  { heading: 'Says', width: 110 },
];

/** What a schedule lacks and what it depends on, by lines, and then what its figures rest on. */
export function basisRows(report: Report, context: FormatContext): XlsxRow[] {
  return [
    ...(report.summary.complete ? [] : [row('Incomplete', null, INCOMPLETE)]),
    ...report.notScheduled.map(({ segments, because }) => row('Not scheduled', segments, because)),
    ...conditionRows(report),
    row('Caution', null, report.caution),
    ...sourceRows(report, context),
  ];
}

function row(what: string, lines: readonly string[] | null, says: string | null): XlsxRow {
  return { cells: [what, lines && listed(lines), says] };
}

/** Of segments that share a proposal the first tells it. */
function conditionRows({ segments }: Report): XlsxRow[] {
  const labels = new Map(segments.map(({ id, label }) => [id, label]));
  const told = new Set<string>();
  return segments.flatMap(({ id, label, proposal }) => {
    if (told.has(id)) return [];
    for (const other of proposal.with) told.add(other);
    const lines = [label, ...proposal.with.map((other) => labels.get(other) ?? other)];
    return proposal.conditions.map((condition) => row('Condition', lines, condition));
  });
}

function sourceRows({ policy, summary, archive, source, site, tool }: Report, context: FormatContext): XlsxRow[] {
  const { assumed } = summary.currents;
  const { targetLoad, assumedCurrentMa } = policy.values;
  const changed = changedKeys(policy);
  const changes = changed.length === 0 ? '' : `, changed in ${list(changed, changed.length)}`;
  return [
    row('Planned to', null, `${percent(targetLoad)} of the rating`),
    row('Assumed currents', null, assumed === 0 ? 'none' : `${assumed}, of ${assumedCurrentMa} mA each`),
    row('Policy', null, `${policy.extends}${changes}`),
    row('Policy SHA-256', null, policy.sha256),
    row(source === 'plan' ? 'Plan' : 'Archive', null, context.archive),
    row(source === 'plan' ? 'Plan SHA-256' : 'Archive SHA-256', null, archive.sha256),
    row('Site SHA-256', null, site === null ? 'no site sheet was given' : site.sha256),
    row('Tool', null, `${tool.name} ${tool.version}`),
  ];
}
