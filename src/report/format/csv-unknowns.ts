import type { Report, ReportUnknown } from '../report.js';
import { type Column, csv, listed } from './csv.js';

/**
 * The products whose data sheet has to be looked up, a row each, with three columns to be filled in by hand;
 * `src/policy/product-list.ts` reads them back.
 */
export function formatCsvUnknowns({ unknowns }: Pick<Report, 'unknowns'>): string {
  return csv(COLUMNS, unknowns);
}

/** `4 on 1.1; 2 on 1.2`: where a product stands. */
export function placesText(places: ReportUnknown['places']): string {
  return listed(places.map(({ segment, devices }) => `${devices} on ${segment}`));
}

const COLUMNS: readonly Column<ReportUnknown>[] = [
  ['orderNumber', ({ orderNumber }) => orderNumber],
  ['productId', ({ productId }) => productId],
  ['product', ({ product }) => product],
  ['manufacturer', ({ manufacturer }) => manufacturer],
  ['wanted', ({ wanted }) => wanted],
  ['because', ({ because }) => because],
  ['declared', ({ declared }) => declared],
  ['chargedMa', ({ chargedMa }) => chargedMa],
  ['devices', ({ devices }) => devices],
  ['places', ({ places }) => placesText(places)],
  ['turnsAtMa', ({ turnsAtMa }) => turnsAtMa],
  ['currentMa', () => null],
  ['ratingMa', () => null],
  ['note', () => null],
];
