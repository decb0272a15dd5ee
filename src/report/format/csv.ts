import { guarded } from '../../documents/formula.js';

export type Cell = string | number | boolean | null;

/** A column: its heading, and what it says of a row. */
export type Column<T> = readonly [heading: string, cell: (row: T) => Cell];

/** Comma-separated values by RFC 4180, with a header row. What is not known is an empty cell; numbers have a point. */
export function csv<T>(columns: readonly Column<T>[], rows: readonly T[]): string {
  const header = columns.map(([heading]) => heading);
  const records = rows.map((row) => columns.map(([, cell]) => cell(row)));
  return [header, ...records].map((record) => `${record.map(cellText).join(',')}\r\n`).join('');
}

/** Several texts in one cell. */
export function listed(texts: readonly string[]): string {
  return texts.join('; ');
}

function cellText(cell: Cell): string {
  const text = typeof cell === 'string' ? guarded(cell) : String(cell ?? '');
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
