import type { CellObject, Sheet as LibrarySheet } from 'write-excel-file/node';
import { printable } from './layout.js';
import { clipped } from './markdown-text.js';

/** A cell; null is an empty one. */
export type XlsxCell = string | number | null;

export interface XlsxColumn {
  readonly heading: string;
  /** In characters. */
  readonly width: number;
  /** How numbers are shown (ECMA-376 part 1, 18.8.31); left out: as they are. */
  readonly numbers?: string;
}

export interface XlsxSheet {
  readonly name: string;
  readonly columns: readonly XlsxColumn[];
  readonly rows: readonly XlsxRow[];
}

export interface XlsxRow {
  readonly cells: readonly XlsxCell[];
  readonly isBold?: boolean;
}

/** A cell takes 32,767 characters (from memory, not confirmed), and one may count as two. */
const LONGEST_TEXT = 16_383;

/**
 * A workbook (ECMA-376), each sheet with a bold header row that stays in sight. The same sheets give the same bytes. What
 * writes it is loaded only here, as hardly any call needs it.
 */
export async function xlsxWorkbook(sheets: readonly XlsxSheet[]): Promise<Uint8Array> {
  const [{ default: writeXlsxFile }, { unzipSync, zipSync }] = await Promise.all([
    import('write-excel-file/node'),
    import('fflate'),
  ]);
  const written = await writeXlsxFile(sheets.map(librarySheet)).toBuffer();
  // The library dates the parts by the clock, and has no option for it.
  return zipSync(unzipSync(written), { mtime: noTime() });
}

/** The first day that a ZIP file can tell of, at noon: made when it is told, as both are in local time. */
function noTime(): Date {
  return new Date(1980, 0, 1, 12);
}

function librarySheet({ name, columns, rows }: XlsxSheet): LibrarySheet<never> {
  const header = columns.map(({ heading }) => textCell(heading, true));
  return {
    sheet: name,
    stickyRowsCount: 1,
    columns: columns.map(({ width }) => ({ width })),
    data: [
      header,
      ...rows.map(({ cells, isBold = false }) => cells.map((cell, at) => cellOf(cell, isBold, columns[at]?.numbers))),
    ],
  };
}

function cellOf(cell: XlsxCell, isBold: boolean, numbers: string | undefined): CellObject | null {
  if (cell === null) return null;
  if (typeof cell === 'string') return textCell(cell, isBold);
  return {
    type: Number,
    value: cell,
    alignVertical: 'top',
    ...(numbers !== undefined && { format: numbers }),
    ...(isBold && { fontWeight: 'bold' }),
  };
}

/** Marked as text, so that it is no formula even when somebody edits it, and an order number keeps its zeros. */
function textCell(text: string, isBold: boolean): CellObject {
  return {
    type: String,
    value: cellText(text),
    format: '@',
    wrap: true,
    alignVertical: 'top',
    ...(isBold && { fontWeight: 'bold' }),
  };
}

/** `_x0041_` stands for a character there (ECMA-376 part 1, 22.9.2.19), so that a text that looks so is escaped. */
function cellText(text: string): string {
  const plain = clipped(printable(text), LONGEST_TEXT).replace(/_(?=x[\da-f]{4}_)/gi, '_x005F_');
  // The library looks texts up in an object, where it finds such as "constructor" without having put it in.
  return plain in {} ? `${plain} ` : plain;
}
