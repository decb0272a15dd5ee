import { CsvError, parse } from 'csv-parse/sync';
import { InputError, type InputFault, quoted } from '../errors.js';

/** A list of this tool that people fill in with a spreadsheet and give back: what is read of it, and how it is told. */
export interface TableKind<Column extends string> {
  /** What is read; columns beside these are left alone. */
  readonly columns: readonly Column[];
  /** What a row may end before. */
  readonly mayLack: readonly Column[];
  readonly isHeader: (has: (column: Column) => boolean) => boolean;
  /** `a list of products`. */
  readonly called: string;
  /** Which headings it takes, in words. */
  readonly wanted: string;
  readonly fault: InputFault;
}

/** A row's cells as they are written, empty where there is no such column, and the line of the text that it begins on. */
export type TableRow<Column extends string> = Readonly<Record<Column, string>> & { readonly rowLine: number };

/** A value that is not allowed, or a row that does not fit the header: the line, and what to say of it. */
export interface TableFault {
  readonly line: number;
  readonly text: string;
}

export interface FilledTable<Column extends string> {
  /** Whether a comma may stand for the decimal point, as it separates no cells. */
  readonly hasDecimalComma: boolean;
  readonly rows: readonly TableRow<Column>[];
  /** Rows that do not fit the header. */
  readonly faults: readonly TableFault[];
}

/** Spreadsheets separate by semicolon where the comma is the decimal point. */
const SEPARATORS = [',', ';', '\t'] as const;

/** So many faults are told of; whoever has more of them mends these first. */
const MOST_FAULTS = 20;

interface CsvRecord {
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Finds separator and columns of a list by its headings; rows without any cell that is filled are left out.
 * @param name what errors call the file
 * @throws InputError with the kind's fault where it is no such list
 */
export function readFilledTable<Column extends string>(
  source: string,
  name: string,
  kind: TableKind<Column>,
): FilledTable<Column> {
  const refuse = (text: string, line: number) => tableRefusal([{ line, text }], name, kind.fault);
  // Lines are counted alike whichever way they end.
  const text = source.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  const separator = SEPARATORS.find((one) => isHeader(headingsBy(one, text), kind));
  if (separator === undefined) throw refuse(headerWanted(kind), 1);
  const [header, ...records] = recordsOf(text, separator, refuse);
  const headings = (header?.cells ?? []).map((heading) => heading.trim());
  const twice = kind.columns.find((column) => headings.indexOf(column) !== headings.lastIndexOf(column));
  if (twice !== undefined) throw refuse(`the column ${twice} stands there twice; it takes one of each`, 1);
  const filled = records.filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  return {
    hasDecimalComma: separator !== ',',
    rows: filled.map((record) => rowOf(record, headings, kind)),
    faults: filled.flatMap((record) => misfitsOf(record, headings, kind)),
  };
}

/** The refusal of a list for its faults, in the order of its lines. @param name what errors call the file */
export function tableRefusal(faults: readonly TableFault[], name: string, code: InputFault): InputError {
  const inOrder = [...faults].sort((a, b) => a.line - b.line);
  const [first, ...more] = inOrder.slice(0, MOST_FAULTS);
  const rest = inOrder.length - MOST_FAULTS;
  const texts = [
    first?.text,
    ...more.map(({ line, text }) => `line ${line}: ${text}`),
    ...(rest > 0 ? [`${rest} more of the kind`] : []),
  ];
  return new InputError(code, texts.join('; '), { part: name, line: first?.line });
}

function headerWanted({ called, wanted }: Pick<TableKind<string>, 'called' | 'wanted'>): string {
  return `the first line is no header of ${called}; it takes headings separated by comma, semicolon or tabulator, among them ${wanted}`;
}

function isHeader<Column extends string>(headings: readonly string[], kind: TableKind<Column>): boolean {
  return kind.isHeader((column) => headings.includes(column));
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

function recordsOf(text: string, delimiter: string, refuse: (text: string, line: number) => InputError): CsvRecord[] {
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
    const what = `quotation marks do not match (${cause.code}); a cell that holds one has it doubled`;
    throw refuse(what, Number(cause.lines));
  }
}

function rowOf<Column extends string>(
  { line, cells }: CsvRecord,
  headings: readonly string[],
  { columns }: TableKind<Column>,
): TableRow<Column> {
  const named = columns.map((column) => [column, cells[headings.indexOf(column)] ?? '']);
  return { ...(Object.fromEntries(named) as Record<Column, string>), rowLine: line };
}

/** A row that was cut, or that has a separator too many, would put values under a wrong heading. */
function misfitsOf<Column extends string>(
  { line, cells }: CsvRecord,
  headings: readonly string[],
  { columns, mayLack }: TableKind<Column>,
): TableFault[] {
  const beyond = cells.slice(headings.length).find((cell) => cell.trim() !== '');
  if (beyond !== undefined) {
    return [{ line, text: `${quoted(beyond)} stands behind the last column; a row takes ${headings.length} cells` }];
  }
  const needed = columns.filter((column) => !mayLack.includes(column));
  const last = Math.max(...needed.map((column) => headings.indexOf(column)));
  if (cells.length > last) return [];
  return [{ line, text: `the row ends before the column ${headings[last]}; it takes ${headings.length} cells` }];
}
