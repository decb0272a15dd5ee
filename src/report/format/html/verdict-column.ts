import { VERDICTS } from '../../../electrical/verdict.js';
import type { ReportSegment } from '../../report.js';
import { verdictText } from '../segment-cells.js';
import type { Page } from './model.js';
import type { TableColumn } from './table.js';

/** The verdict, sorted from worst to best. */
export function verdictColumn({ texts, words }: Page): TableColumn<ReportSegment> {
  return {
    heading: texts.columns.verdict,
    cell: (segment) => verdictText(segment, words),
    rank: ({ verdict }) => VERDICTS.indexOf(verdict),
  };
}
