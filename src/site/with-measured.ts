import { type TableFault, tableRefusal } from '../documents/filled-table.js';
import { quoted } from '../errors.js';
import type { MeasuredList, MeasuredRow } from './measured-list.js';
import { type SheetSegment, type SiteSheet, siteSheetSchema } from './sheet.js';

/** A sheet that says nothing. @param name what errors call the file that is read in its place */
export function emptySheet(name: string): SiteSheet {
  return { ...siteSheetSchema.parse({}), name };
}

/** The sheet without what was measured or seen. */
export function withoutMeasured(sheet: SiteSheet): SiteSheet {
  return { ...sheet, segments: sheet.segments.map(({ measured: _, ...entry }) => entry) };
}

/**
 * The sheet with the values of a list put into the entries of their segments: a value that the sheet has of the same
 * place is replaced, all others stay, and a segment without an entry gets one. Segments are found by id, else by what
 * texts call them.
 * @throws InputError `invalid-measured-values` where a voltage is of a point that the sheet’s runs do not name
 */
export function withMeasured(sheet: SiteSheet, { name, rows }: MeasuredList): SiteSheet {
  const entries = new Map(sheet.segments.map((entry) => [entry.segment, entry]));
  const faults: TableFault[] = [];
  for (const [segment, own] of bySegment(rows, entries)) {
    const entry = entries.get(segment) ?? newEntry(segment);
    faults.push(...strayPoints(entry, own));
    entries.set(segment, measuredIn(entry, own));
  }
  if (faults.length > 0) throw tableRefusal(faults, name, 'invalid-measured-values');
  return { ...sheet, segments: [...entries.values()] };
}

/** The rows of each segment, by what the sheet calls it, else by its id, else by its label. */
function bySegment(rows: readonly MeasuredRow[], entries: ReadonlyMap<string, unknown>): Map<string, MeasuredRow[]> {
  const groups = new Map<string, MeasuredRow[]>();
  for (const row of rows) {
    const names = [row.segmentId, row.label].filter((name) => name !== null);
    const segment = names.find((name) => entries.has(name)) ?? names[0] ?? '';
    const group = groups.get(segment);
    if (group === undefined) groups.set(segment, [row]);
    else group.push(row);
  }
  return groups;
}

function newEntry(segment: string): SheetSegment {
  const [entry] = siteSheetSchema.parse({ segments: [{ segment }] }).segments;
  if (entry === undefined) throw new Error('the shape of the sheet dropped an entry');
  return entry;
}

/** The sheet has it that a point is one of the runs. */
function strayPoints({ runs }: SheetSegment, rows: readonly MeasuredRow[]): TableFault[] {
  const points = new Set(runs.flatMap(({ from, to }) => [from, to]));
  const allowed = points.size === 0 ? 'nothing, as the site sheet gives no runs of the segment' : 'a point of its runs';
  return rows.flatMap((row) => {
    if (row.quantity === 'current' || row.point === null || points.has(row.point)) return [];
    return [{ line: row.line, text: `point: ${quoted(row.point)} is not allowed; it takes ${allowed}` }];
  });
}

type Measured = NonNullable<SheetSegment['measured']>;

function measuredIn(entry: SheetSegment, rows: readonly MeasuredRow[]): SheetSegment {
  const before: Measured = entry.measured ?? { currents: [], voltages: [] };
  const currents = rows.flatMap((row) => (row.quantity === 'current' ? [row] : []));
  const voltages = rows.flatMap((row) => (row.quantity === 'voltage' ? [row] : []));
  const calls = new Set(currents.flatMap(callsOf));
  const points = new Set(voltages.map(({ point }) => point));
  return {
    ...entry,
    measured: {
      ...before,
      currents: [
        ...before.currents.filter(({ supply }) => !calls.has(supply)),
        ...currents.map(({ supply, ua }) => ({ supply, current: ua })),
      ],
      voltages: [
        ...before.voltages.filter(({ at = null }) => !points.has(at)),
        ...voltages.map(({ point, v }) => ({ ...(point === null ? {} : { at: point }), voltage: v })),
      ],
    },
  };
}

/** What a sheet may call a supply by: its id, and its address and its name, which the list has together. */
function callsOf({ supply, at }: MeasuredRow & { readonly quantity: 'current' }): string[] {
  const [, address, name] = /^(\d+\.\d+\.\d+) (.*)$/s.exec(at) ?? [];
  return [supply, at, ...(address === undefined ? [] : [address]), ...(name === undefined ? [] : [name])];
}
