import { sum } from '../units.js';
import { SCHEDULE_ITEMS, type ScheduleRow } from './schedule-shape.js';

/** A sum of which parts may be missing: they count as unknown, never as 0. */
export interface PartlyKnown {
  /** Of those that it is known of; null where it is known of none. */
  readonly known: number | null;
  /** Of so many supplies it is not known. */
  readonly unknown: number;
}

/** Supplies, or couplers, of which the same becomes. */
export interface ScheduleTotal {
  readonly what: 'To order' | 'Stay' | 'To take out';
  readonly item: ScheduleRow['item'];
  readonly quantity: number;
  /** In units of 18 mm. */
  readonly railUnits: PartlyKnown;
  /** In the currency of the office; null where nothing is bought. */
  readonly sum: PartlyKnown | null;
}

const GROUPS = [
  { what: 'To order', states: ['new', 'replacement'], isBought: true },
  { what: 'Stay', states: ['existing'], isBought: false },
  { what: 'To take out', states: ['remove'], isBought: false },
] as const;

/** What there is to order, what stays and what goes, each by itself, as one cannot be set off against another. */
export function totalsOf(schedule: readonly ScheduleRow[]): ScheduleTotal[] {
  return GROUPS.flatMap(({ what, states, isBought }) =>
    SCHEDULE_ITEMS.flatMap((item): ScheduleTotal[] => {
      const rows = schedule.filter((row) => row.item === item && states.some((one) => one === row.state));
      if (rows.length === 0) return [];
      return [
        {
          what,
          item,
          quantity: sum(rows.map(({ quantity }) => quantity)),
          railUnits: partlyKnown(rows, ({ railUnits }) => railUnits),
          sum: isBought ? partlyKnown(rows, (row) => row.sum) : null,
        },
      ];
    }),
  );
}

function partlyKnown(rows: readonly ScheduleRow[], figureOf: (row: ScheduleRow) => number | null): PartlyKnown {
  const known = rows.flatMap((row) => figureOf(row) ?? []);
  const unknown = rows.filter((row) => figureOf(row) === null);
  return {
    // Widths come in thousandths, prices in hundredths; binary fractions would add digits of their own.
    known: known.length === 0 ? null : sum(known.map((figure) => Math.round(figure * 1000))) / 1000,
    unknown: sum(unknown.map(({ quantity }) => quantity)),
  };
}
