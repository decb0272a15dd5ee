import type { z } from 'zod';
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
import { type ProductOverride, productOverrideSchema } from './overrides.js';

const COLUMNS = ['orderNumber', 'productId', 'currentMa', 'ratingMa', 'note'] as const;

type Column = (typeof COLUMNS)[number];
type Row = TableRow<Column>;

const KIND: TableKind<Column> = {
  columns: COLUMNS,
  mayLack: ['note'],
  isHeader: (has) => (has('productId') || has('orderNumber')) && (has('currentMa') || has('ratingMa')),
  called: 'a list of products',
  wanted: 'productId or orderNumber, and currentMa or ratingMa',
  fault: 'invalid-product-list',
};

/** A row of the list that is filled in. */
interface Entry {
  readonly line: number;
  readonly override: ProductOverride;
}

/**
 * Reads back the list of data sheets to look up (the format csv-unknowns) after somebody has filled it in: separated by
 * comma, semicolon or tabulator, columns found by their headings. Rows without `currentMa` and `ratingMa` are not filled
 * in yet and say nothing; rows for the same product are put together.
 * @param name what errors call the file
 * @throws InputError `invalid-product-list` with line, column, value and what is allowed for each fault
 */
export function readProductList(source: string, name: string): ProductOverride[] {
  const table = readFilledTable(source, name, KIND);
  const faults: TableFault[] = [...table.faults];
  const entries = new Map<string, Entry>();
  for (const cells of table.rows) {
    const row = { ...cells, currentMa: cells.currentMa.trim(), ratingMa: cells.ratingMa.trim() };
    if (row.currentMa === '' && row.ratingMa === '') continue;
    const read = entryOf(row, table, name);
    if ('faults' in read) faults.push(...read.faults);
    else addEntry(entries, read, faults);
  }
  if (faults.length > 0) throw tableRefusal(faults, name, KIND.fault);
  return [...entries.values()].map(({ override }) => override);
}

function entryOf(
  row: Row,
  { hasDecimalComma }: FilledTable<Column>,
  name: string,
): Entry | { readonly faults: TableFault[] } {
  const { rowLine: line } = row;
  const faults: TableFault[] = [];
  const fail = (column: string, given: string, allowed: string) =>
    faults.push({ line, text: `${column}: ${given} is not allowed; it takes ${allowed}` });
  const identity = identityOf(row, fail);
  const given = { currentMa: row.currentMa, ratingMa: row.ratingMa };
  const values = Object.entries(given).flatMap(([column, text]) => {
    if (text === '') return [];
    const number = cellNumber(text, hasDecimalComma, { unit: 'mA', example: '12.5' });
    if (typeof number === 'number') return [[column, number] as const];
    fail(column, quoted(text), number.allowed);
    return [];
  });
  const note = unguarded(row.note).trim() || `filled in by hand in ${name}`;
  if (faults.length > 0) return { faults };
  const checked = productOverrideSchema.safeParse({ ...identity, ...Object.fromEntries(values), note });
  if (checked.success) return { line, override: checked.data };
  for (const issue of checked.error.issues) failAt(issue, { ...row, ...identity, note }, fail);
  return { faults };
}

type Fail = (column: string, given: string, allowed: string) => void;

/** The id, else the order number, as it is in the archive: neither is a pattern here. */
function identityOf(row: Row, fail: Fail): Pick<ProductOverride, 'id' | 'orderNumber'> {
  const column = row.productId.trim() === '' ? 'orderNumber' : 'productId';
  const text = unguarded(row[column]);
  if (text.trim() === '') {
    fail('productId', 'nothing', 'the id of a product where there is no orderNumber either');
  } else if (text.includes('*')) {
    fail(column, quoted(text), 'one product; * stands for any characters, which is for the products of a policy file');
  } else if (text.includes('\uFFFD')) {
    fail(column, quoted(text), 'a text in UTF-8; save the list as CSV in UTF-8');
  }
  return column === 'productId' ? { id: text } : { orderNumber: text };
}

/** What the shape of an entry does not allow, by the heading of its column. */
function failAt({ path, message }: z.core.$ZodIssue, given: Readonly<Record<string, unknown>>, fail: Fail): void {
  const key = String(path[0]);
  fail(key === 'id' ? 'productId' : key, quoted(String(given[key])), message);
}

/** One product may stand in several rows, with its current in one and its rating in another. */
function addEntry(entries: Map<string, Entry>, { line, override }: Entry, faults: TableFault[]): void {
  const key = JSON.stringify([override.id, override.orderNumber]);
  const before = entries.get(key);
  if (before === undefined) {
    entries.set(key, { line, override });
    return;
  }
  for (const column of ['currentMa', 'ratingMa'] as const) {
    const [earlier, now] = [before.override[column], override[column]];
    if (earlier === undefined || now === undefined || earlier === now) continue;
    const allowed = `${earlier}, as line ${before.line} says of the same product`;
    faults.push({ line, text: `${column}: ${quoted(String(now))} is not allowed; it takes ${allowed}` });
  }
  entries.set(key, { line: before.line, override: { ...override, ...before.override } });
}
