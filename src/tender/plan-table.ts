import type { z } from 'zod';
import { cellNumber } from '../documents/cell-number.js';
import {
  readFilledTable,
  type TableFault,
  type TableKind,
  type TableRow,
  tableRefusal,
} from '../documents/filled-table.js';
import { unguarded } from '../documents/formula.js';
import { quoted } from '../errors.js';
import { type Plan, planSchema } from './plan-shape.js';
import { MOST_CURRENT_MA } from './shapes.js';

const COLUMNS = [
  'line',
  'segment',
  'name',
  'coupler',
  'supplyMa',
  'what',
  'count',
  'currentMa',
  'orderNumber',
  'location',
] as const;

type Column = (typeof COLUMNS)[number];
type Row = TableRow<Column>;

const KIND: TableKind<Column> = {
  columns: COLUMNS,
  mayLack: COLUMNS.filter((column) => column !== 'line'),
  isHeader: (has) => has('line') && (has('count') || has('supplyMa')),
  called: 'a plan',
  wanted: 'line, and count or supplyMa',
  fault: 'invalid-plan',
};

/** What the rows of one segment say together, with the row of each of its devices. */
interface Segment {
  readonly row: number;
  readonly says: Map<string, { readonly value: unknown; readonly text: string; readonly row: number }>;
  readonly devices: { readonly row: number; readonly value: Readonly<Record<string, unknown>> }[];
}

/** The columns of a segment, and those of what hangs on it, by the key of the plan. */
const OF_SEGMENT = { line: 'line', segment: 'segment', name: 'name', coupler: 'coupler', supply: 'supplyMa' } as const;
const OF_DEVICES = {
  count: 'count',
  what: 'what',
  current: 'currentMa',
  orderNumber: 'orderNumber',
  location: 'location',
} as const;

/** Whether a text begins as a list of lines, and not as a mapping in YAML or JSON. */
export function isPlanTable(source: string): boolean {
  const [first = ''] = source.replace(/^\uFEFF/, '').split(/[\r\n]/, 1);
  return [',', ';', '\t'].some((separator) => {
    const headings = first.split(separator).map((heading) => heading.replaceAll('"', '').trim());
    return KIND.isHeader((column) => headings.includes(column));
  });
}

/**
 * Reads a plan out of a list: a row for each kind of device on a line; what stands in one row of a segment need not stand
 * in its others.
 * @throws InputError `invalid-plan` with line, column, value and what is allowed for each fault
 */
export function readPlanTable(source: string, name: string): Plan {
  const { rows, faults: misfits, hasDecimalComma } = readFilledTable(source, name, KIND);
  const faults: TableFault[] = [...misfits];
  const segments = new Map<string, Segment>();
  for (const row of rows) addRow(segments, row, { faults, hasDecimalComma });
  const found = [...segments.values()];
  if (faults.length > 0) throw tableRefusal(faults, name, KIND.fault);
  const lineOf = (path: readonly PropertyKey[]) => rowOf(path, found);
  const read = planSchema.safeParse({ lines: found.map(plannedLine) });
  if (read.success) return { ...read.data, lineOf };
  throw tableRefusal(
    read.error.issues.map((issue) => faultOf(issue, found)),
    name,
    KIND.fault,
  );
}

function plannedLine({ says, devices }: Segment): unknown {
  const own = [...says].map(([key, { value }]) => [key, value] as const);
  return { ...Object.fromEntries(own), devices: devices.map(({ value }) => value) };
}

interface Reading {
  readonly faults: TableFault[];
  readonly hasDecimalComma: boolean;
}

function addRow(segments: Map<string, Segment>, row: Row, reading: Reading): void {
  const cells = Object.fromEntries(COLUMNS.map((column) => [column, unguarded(row[column].trim())]));
  const key = JSON.stringify([cells.line, cells.segment || '1']);
  const segment: Segment = segments.get(key) ?? { row: row.rowLine, says: new Map(), devices: [] };
  segments.set(key, segment);
  for (const [name, column] of Object.entries(OF_SEGMENT)) {
    const text = cells[column] ?? '';
    const before = segment.says.get(name);
    if (text === '') continue;
    if (before === undefined)
      segment.says.set(name, { value: cellValue(column, text, row, reading), text, row: row.rowLine });
    else if (before.text !== text) tell(row, column, text, `${before.text}, as line ${before.row} says`, reading);
  }
  const device = Object.entries(OF_DEVICES).flatMap(([name, column]) => {
    const text = cells[column] ?? '';
    return text === '' ? [] : [[name, cellValue(column, text, row, reading)] as const];
  });
  if (device.length > 0) segment.devices.push({ row: row.rowLine, value: Object.fromEntries(device) });
}

/** A cell as a plan in YAML would have it. */
function cellValue(column: Column, text: string, row: Row, reading: Reading): unknown {
  if (column === 'currentMa') return currentOf(column, text, row, reading);
  if (column === 'supplyMa') return text.split('+').map((one) => currentOf(column, one.trim(), row, reading));
  if (column === 'count' || column === 'segment') return /^\d{1,9}$/.test(text) ? Number(text) : text;
  return text;
}

function currentOf(column: Column, text: string, row: Row, reading: Reading): string {
  const example = column === 'supplyMa' ? '640' : '12.5';
  const number = cellNumber(text, reading.hasDecimalComma, { unit: 'mA', example, most: MOST_CURRENT_MA });
  if (typeof number !== 'number') tell(row, column, text, number.allowed, reading);
  else if (number < 0 || number > MOST_CURRENT_MA)
    tell(row, column, text, `a number in mA from 0 to ${MOST_CURRENT_MA}`, reading);
  else return `${number.toFixed(3)} mA`;
  return '';
}

function tell({ rowLine }: Row, column: string, text: string, allowed: string, { faults }: Reading): void {
  faults.push({ line: rowLine, text: `${column}: ${quoted(text)} is not allowed; it takes ${allowed}` });
}

/** Where something of the plan stands in the list. */
function rowOf([, index, key, device]: readonly PropertyKey[], segments: readonly Segment[]): number {
  const segment = segments[Number(index)];
  const own = segment?.says.get(String(key))?.row;
  return segment?.devices[Number(device)]?.row ?? own ?? segment?.row ?? 1;
}

/** What the shape of a plan does not allow, by the heading of its column. */
function faultOf({ path, message }: z.core.$ZodIssue, segments: readonly Segment[]): TableFault {
  const [, index, key, device, part] = path;
  const segment = segments[Number(index)];
  const value =
    part === undefined ? segment?.says.get(String(key))?.text : segment?.devices[Number(device)]?.value[String(part)];
  const column = { ...OF_SEGMENT, ...OF_DEVICES, devices: 'count' }[String(part ?? key) as 'line'] ?? 'the list';
  const given = value === undefined ? 'this' : quoted(String(value));
  return { line: rowOf(path, segments), text: `${column}: ${given} is not allowed; it takes ${message}` };
}
