import { CsvError, parse } from 'csv-parse/sync';
import { InputError, quoted } from '../errors.js';

/** What is read of a list of products; columns beside these are left alone. */
const COLUMNS = ['orderNumber', 'productId', 'currentMa', 'ratingMa', 'note'] as const;

type ColumnName = (typeof COLUMNS)[number];

/** A row's cells as they are written; empty where there is no such column. */
export type ListRow = Readonly<Record<ColumnName, string>> & { readonly line: number };

export interface ListTable {
  /** Whether a comma may stand for the decimal point, as it separates no cells. */
  readonly hasDecimalComma: boolean;
  readonly rows: readonly ListRow[];
  /** Rows that do not fit the header. */
  readonly faults: readonly { readonly line: number; readonly text: string }[];
}

/** Spreadsheets separate by semicolon where the comma is the decimal point. */
const SEPARATORS = [',', ';', '\t'] as const;

interface CsvRecord {
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Finds separator and columns of a list by its headings.
 * @throws InputError `invalid-product-list` where it is no such list
 */
export function readListTable(source: string, name: string): ListTable {
  // Lines are counted alike whichever way they end.
  const text = source.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  const separator = SEPARATORS.find((one) => isHeader(headingsBy(one, text)));
  if (separator === undefined) throw refusal(HEADER_WANTED, name, 1);
  const [header, ...records] = recordsOf(text, separator, name);
  const headings = (header?.cells ?? []).map((heading) => heading.trim());
  const twice = COLUMNS.find((column) => headings.indexOf(column) !== headings.lastIndexOf(column));
  if (twice !== undefined) throw refusal(`the column ${twice} stands there twice; it takes one of each`, name, 1);
  const filled = records.filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  return {
    hasDecimalComma: separator !== ',',
    rows: filled.map((record) => rowOf(record, headings)),
    faults: filled.flatMap((record) => misfitsOf(record, headings)),
  };
}

const HEADER_WANTED =
  'the first line is no header of a list of products; it takes headings separated by comma, semicolon or tabulator, among them productId or orderNumber, and currentMa or ratingMa';

function isHeader(headings: readonly string[]): boolean {
  const has = (column: ColumnName) => headings.includes(column);
  return (has('productId') || has('orderNumber')) && (has('currentMa') || has('ratingMa'));
}

/** The first record; none where it cannot be read with this separator. */
function headingsBy(delimiter: string, text: string): string[] {
  try {
    const [headings = []]: string[][] = parse(text, { delimiter, to: 1 });
    return headings.map((heading) => heading.trim());
  } catch (cause) {
    if (cause instanceof CsvError) return [];
    throw cause;
  }
}

function recordsOf(text: string, delimiter: string, name: string): CsvRecord[] {
  try {
    const records = parse(text, { delimiter, relax_column_count: true, record_delimiter: '\n', info: true });
    let lines = 0;
    return (records as unknown as { record: string[]; info: { lines: number } }[]).map(({ record, info }) => {
      const line = lines + 1; // a record may have ends of lines in it
      lines = info.lines;
      return { line, cells: record };
    });
  } catch (cause) {
    if (!(cause instanceof CsvError)) throw cause;
    throw refusal(
      `quotation marks do not match (${cause.code}); a cell that holds one has it doubled`,
      name,
      Number(cause.lines),
    );
  }
}

function rowOf({ line, cells }: CsvRecord, headings: readonly string[]): ListRow {
  const cell = (column: ColumnName) => cells[headings.indexOf(column)] ?? '';
  return {
    line,
    orderNumber: cell('orderNumber'),
    productId: cell('productId'),
    currentMa: cell('currentMa').trim(),
    ratingMa: cell('ratingMa').trim(),
    note: cell('note'),
  };
}

/** A row that was cut, or that has a separator too many, would put values under a wrong heading. */
function misfitsOf({ line, cells }: CsvRecord, headings: readonly string[]): ListTable['faults'] {
  const beyond = cells.slice(headings.length).find((cell) => cell.trim() !== '');
  if (beyond !== undefined) {
    return [{ line, text: `${quoted(beyond)} stands behind the last column; a row takes ${headings.length} cells` }];
  }
  const last = Math.max(...COLUMNS.filter((column) => column !== 'note').map((column) => headings.indexOf(column)));
  if (cells.length > last) return [];
  return [{ line, text: `the row ends before the column ${headings[last]}; it takes ${headings.length} cells` }];
}

function refusal(detail: string, name: string, line: number): InputError {
  return new InputError('invalid-product-list', detail, { part: name, line });
}
