import type { Report, ReportFinding } from '../report.js';
import { type Column, csv, listed } from './csv.js';

/** The findings as a table: a row each, worst first; those that are waived too. */
export function formatCsvFindings(report: Report): string {
  const labels = new Map(report.segments.map(({ id, label }) => [id, label]));
  const segments: Column<ReportFinding> = [
    'segments',
    (finding) => listed(finding.segments.map((id) => labels.get(id) ?? id)),
  ];
  return csv([...BEFORE_SEGMENTS, segments, ...AFTER_SEGMENTS], report.findings);
}

const BEFORE_SEGMENTS: readonly Column<ReportFinding>[] = [
  ['severity', ({ severity }) => severity],
  ['rule', ({ rule }) => rule],
  ['project', ({ project }) => project],
  ['installation', ({ installation }) => installation],
  ['subject', ({ subject }) => subject.label],
  ['subjectKind', ({ subject }) => subject.kind],
];

const AFTER_SEGMENTS: readonly Column<ReportFinding>[] = [
  ['message', ({ message }) => message],
  ['remedy', ({ remedy }) => remedy],
  ['quantity', ({ measure }) => measure.quantity],
  ['value', ({ measure }) => measure.value],
  ['unit', ({ measure }) => measure.unit],
  ['holds', ({ measure }) => measure.holds],
  ['limit', ({ measure }) => measure.limit],
  ['share', ({ measure }) => measure.share],
  ['margin', ({ measure }) => measure.margin],
  ['flipsAt', ({ measure }) => measure.flipsAt],
  ['breakEvenMa', ({ measure }) => measure.breakEvenMa],
  ['limitBasis', ({ measure }) => measure.limitFrom.basis],
  ['limitFrom', ({ measure }) => measure.limitFrom.source],
  ['limitSetBy', ({ measure }) => measure.limitFrom.setBy],
  ['restsOn', ({ restsOn }) => restsOn],
  ['part', ({ location }) => location.part],
  ['partLine', ({ location }) => location.line],
  ['subjectId', ({ subject }) => subject.id],
  ['fingerprint', ({ fingerprint }) => fingerprint],
  ['waivedBy', ({ waiver }) => waiver?.author ?? null],
  ['waivedUntil', ({ waiver }) => waiver?.expires ?? null],
  ['waivedBecause', ({ waiver }) => waiver?.reason ?? null],
  ['sinceBaseline', ({ sinceBaseline }) => sinceBaseline],
];
