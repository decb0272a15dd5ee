import type { Report } from '../report.js';
import type { ScheduleRow } from '../schedule-shape.js';
import { type Column, csv, listed } from './csv.js';

/** The supplies to be ordered, kept and taken out: a row for each sort at each place. */
export function formatCsvSchedule({ schedule }: Report): string {
  return csv(COLUMNS, schedule);
}

const COLUMNS: readonly Column<ScheduleRow>[] = [
  ['project', ({ project }) => project],
  ['installation', ({ installation }) => installation],
  ['place', ({ place }) => place],
  ['state', ({ state }) => state],
  ['item', ({ item }) => item],
  ['ratedMa', ({ ratedMa }) => ratedMa],
  ['kind', ({ kind }) => kind],
  ['orderNumber', ({ orderNumber }) => orderNumber],
  ['quantity', ({ quantity }) => quantity],
  ['railUnits', ({ railUnits }) => railUnits],
  ['price', ({ price }) => price],
  ['sum', ({ sum }) => sum],
  ['segments', ({ segments }) => listed(segments)],
];
