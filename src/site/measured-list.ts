import { cellNumber } from '../documents/cell-number.js';
import {
  type FilledTable,
  readFilledTable,
  type TableFault,
  type TableKind,
  type TableRow,
  tableRefusal,
} from '../documents/filled-table.js';
import { unguarded } from '../documents/formula.js';
import { quoted } from '../errors.js';
import { UA_PER_MA } from '../units.js';

const COLUMNS = ['segment', 'segmentId', 'quantity', 'at', 'supplyId', 'point', 'unit', 'measured'] as const;

type Column = (typeof COLUMNS)[number];
type Row = TableRow<Column>;

const KIND: TableKind<Column> = {
  columns: COLUMNS,
  mayLack: [],
  isHeader: (has) =>
    (has('segment') || has('segmentId')) && has('quantity') && has('measured') && (has('supplyId') || has('point')),
  called: 'a list of measured values',
  wanted: 'segment or segmentId, quantity, supplyId or point, and measured',
  fault: 'invalid-measured-values',
};

/** What a site sheet allows for a measured value, and what the list writes it in. */
const QUANTITIES = {
  current: { unit: 'mA', example: '312.5', most: 10_000 },
  voltage: { unit: 'V', example: '27.9', most: 50 },
} as const;

type QuantityName = keyof typeof QUANTITIES;

/** A value that was measured, as a row of the list says it. */
export type MeasuredRow = {
  readonly line: number;
  /** The segment, as texts call it; null where the row does not say, or the list calls several so. */
  readonly label: string | null;
  readonly segmentId: string | null;
} & (
  | {
      readonly quantity: 'current';
      /** Id of the supply’s device. */
      readonly supply: string;
      /** What people call it, `1.1.0 Supply`. */
      readonly at: string;
      readonly ua: number;
    }
  | {
      readonly quantity: 'voltage';
      /** As the runs of the site sheet call it; null for the far end. */
      readonly point: string | null;
      readonly v: number;
    }
);

export interface MeasuredList {
  /** What errors call the file. */
  readonly name: string;
  readonly rows: readonly MeasuredRow[];
}

/**
 * Reads back the list of what to measure (the format csv-site-check) after somebody has filled it in: separated by comma,
 * semicolon or tabulator, columns found by their headings. Rows without `measured` say nothing, and a list may hold no
 * other. Spreadsheets read the segment 1.10 as the number 1.1, so the id goes before what texts call a segment, which
 * counts for nothing once it stands beside several ids.
 * @param name what errors call the file
 * @throws InputError `invalid-measured-values` with line, column, value and what is allowed for each fault
 */
export function readMeasured(source: string, name: string): MeasuredList {
  const table = readFilledTable(source, name, KIND);
  const faults: TableFault[] = [...table.faults];
  const shared = sharedLabels(table.rows);
  const rows = new Map<string, MeasuredRow>();
  for (const row of table.rows) {
    if (row.measured.trim() === '') continue;
    const read = rowOf(row, table, shared, faults);
    if (read !== null) addRow(rows, read, faults);
  }
  if (faults.length > 0) throw tableRefusal(faults, name, KIND.fault);
  return { name, rows: [...rows.values()] };
}

function sharedLabels(rows: readonly Row[]): ReadonlySet<string> {
  const ids = new Map<string, string>();
  const shared = new Set<string>();
  for (const { segment, segmentId } of rows) {
    if (segmentId.trim() === '') continue;
    if ((ids.get(segment) ?? segmentId) !== segmentId) shared.add(unguarded(segment));
    ids.set(segment, segmentId);
  }
  return shared;
}

type Fail = (column: Column, given: string, allowed: string) => void;

function rowOf(
  row: Row,
  { hasDecimalComma }: FilledTable<Column>,
  shared: ReadonlySet<string>,
  faults: TableFault[],
): MeasuredRow | null {
  const { rowLine: line } = row;
  const before = faults.length;
  const fail: Fail = (column, given, allowed) =>
    faults.push({ line, text: `${column}: ${given} is not allowed; it takes ${allowed}` });
  const [label, segmentId] = [textOf(row, 'segment', fail), textOf(row, 'segmentId', fail)];
  if (label === null && segmentId === null) {
    fail('segmentId', 'nothing', 'the id of a segment where segment does not say what it is called either');
  }
  const segment = { line, label: label === null || shared.has(label) ? null : label, segmentId };
  const quantity = quantityOf(row, fail);
  const value = quantity === null ? null : measuredValue(row, quantity, hasDecimalComma, fail);
  const supply = quantity === 'current' ? supplyOf(row, fail) : null;
  const point = quantity === 'voltage' ? textOf(row, 'point', fail) : null;
  if (faults.length > before || value === null) return null;
  if (supply === null) return { ...segment, quantity: 'voltage', point, v: value };
  return { ...segment, quantity: 'current', supply, at: unguarded(row.at), ua: Math.round(value * UA_PER_MA) };
}

/** A name out of the archive or the site sheet, exactly as it is there; null where there is none. */
function textOf(row: Row, column: Column, fail: Fail): string | null {
  const text = unguarded(row[column]);
  if (text.includes('\uFFFD')) fail(column, quoted(text), 'a text in UTF-8; save the list as CSV in UTF-8');
  return text.trim() === '' ? null : text;
}

function quantityOf(row: Row, fail: Fail): QuantityName | null {
  const text = row.quantity.trim();
  if (text === 'current' || text === 'voltage') return text;
  fail('quantity', text === '' ? 'nothing' : quoted(text), `one of ${Object.keys(QUANTITIES).join(', ')}`);
  return null;
}

function supplyOf(row: Row, fail: Fail): string | null {
  const supply = textOf(row, 'supplyId', fail);
  if (supply === null) fail('supplyId', 'nothing', 'the id of a supply; a row for each supply holds what it delivers');
  return supply;
}

function measuredValue(row: Row, quantity: QuantityName, hasDecimalComma: boolean, fail: Fail): number | null {
  const kind = QUANTITIES[quantity];
  const [unit, text] = [row.unit.trim(), row.measured.trim()];
  if (unit !== '' && unit !== kind.unit) fail('unit', quoted(unit), `${kind.unit} for a ${quantity}`);
  const value = cellNumber(text, hasDecimalComma, kind);
  if (typeof value !== 'number') fail('measured', quoted(text), value.allowed);
  else if (value >= 0 && value <= kind.most) return value;
  else fail('measured', quoted(text), `a number from 0 to ${kind.most} ${kind.unit}`);
  return null;
}

/** A place may stand in the list twice, but with one value. */
function addRow(rows: Map<string, MeasuredRow>, row: MeasuredRow, faults: TableFault[]): void {
  const place = row.quantity === 'current' ? row.supply : row.point;
  const key = JSON.stringify([row.segmentId ?? row.label, row.quantity, place]);
  const before = rows.get(key);
  if (before !== undefined && valueIn(before) !== valueIn(row)) {
    const allowed = `${valueIn(before)}, as line ${before.line} says of the same place`;
    faults.push({ line: row.line, text: `measured: "${valueIn(row)}" is not allowed; it takes ${allowed}` });
  }
  if (before === undefined) rows.set(key, row);
}

function valueIn(row: MeasuredRow): number {
  return row.quantity === 'current' ? row.ua / UA_PER_MA : row.v;
}
