import { deviceLabel } from '../../plant/plant.js';
import { fromMa, toMa } from '../../units.js';
import type { Report, ReportSegment } from '../report.js';
import { type Column, csv, listed } from './csv.js';

/**
 * What to measure at hand-over, a row for each place where a meter is held, with `measured`, `date` and `note` to be
 * filled in by hand; `src/site/measured-list.ts` reads it back.
 *
 * - A current is measured at one supply after the other, so each supply has a row of its own, and one that feeds several
 *   segments only with the first of them. What the share of one cannot be told of has bounds and no expected value.
 * - A segment without an entry in a site sheet is there as well, so that the list is of use before anybody has written
 *   one: its current is the load that its verdict rests on, within the policy’s `measuredShare`, all devices taken as
 *   connected (`connectedBy` is blank).
 * - A voltage is computed where the cable is known. Else the far end has a row with the least that a device needs, the
 *   policy’s `leastDeviceV`.
 * - Segments of which nobody knows what stands on them, or what feeds them, are left out: a value measured there could be
 *   held against nothing.
 */
export function formatCsvSiteCheck({ segments, policy }: Pick<Report, 'segments' | 'policy'>): string {
  return csv(COLUMNS, siteCheckRows({ segments, policy }));
}

/** The places where a meter is held, as {@link formatCsvSiteCheck} has them. */
export function siteCheckRows({ segments, policy }: Pick<Report, 'segments' | 'policy'>): SiteCheckRow[] {
  const context = new Context(segments, policy.values);
  return onceEach(segments.flatMap((segment) => context.rowsOf(segment)));
}

/** A supply is measured once, however many segments it feeds. */
function onceEach(rows: readonly SiteCheckRow[]): SiteCheckRow[] {
  const seen = new Set<string>();
  return rows.filter(({ supplyId, segment: { project, installation } }) => {
    if (supplyId === null) return true;
    const key = JSON.stringify([project, installation, supplyId]);
    return !seen.has(key) && seen.add(key);
  });
}

/** What is measured at one place, and what to expect there. */
export interface SiteCheckRow {
  readonly segment: ReportSegment;
  readonly quantity: 'current' | 'voltage';
  readonly at: string;
  readonly togetherWith: readonly string[];
  readonly supplyId: string | null;
  readonly point: string | null;
  readonly unit: 'mA' | 'V';
  readonly expected: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly measured: number | null;
  readonly connectedBy: string | null;
}

type Figures = Pick<SiteCheckRow, 'expected' | 'low' | 'high'>;

const FAR_END = 'the far end';
const NOTHING: Figures = { expected: null, low: null, high: null };

class Context {
  readonly #labels: ReadonlyMap<string, string>;
  readonly #byId: ReadonlyMap<string, ReportSegment>;

  constructor(
    segments: readonly ReportSegment[],
    readonly values: Report['policy']['values'],
  ) {
    const units = segments.flatMap(({ supply }) => supply.units);
    this.#labels = new Map(units.map((unit) => [unit.id, deviceLabel(unit)]));
    this.#byId = new Map(segments.map((segment) => [segment.id, segment]));
  }

  rowsOf(segment: ReportSegment): SiteCheckRow[] {
    return segment.onSite === null ? this.#withoutEntry(segment) : this.#withEntry(segment, segment.onSite);
  }

  #withEntry(segment: ReportSegment, { expected }: NonNullable<ReportSegment['onSite']>): SiteCheckRow[] {
    if (expected === null) return [];
    const { connectedBy, readings } = expected;
    return readings.flatMap((reading): SiteCheckRow[] => {
      const { at, point, measured, low, high, supplies } = reading;
      if (reading.quantity === 'voltage') {
        return [{ ...voltageAt(segment, at, point), expected: reading.expected, low, high, measured, connectedBy }];
      }
      if (supplies.length > 1) return []; // each of them has a row
      return this.#currents(segment, supplies, reading, measured).map((row) => ({ ...row, connectedBy }));
    });
  }

  #withoutEntry(segment: ReportSegment): SiteCheckRow[] {
    const { medium, boundariesKnown, load, supply } = segment;
    if (!medium.needsPower || !boundariesKnown || load.items === 0 || supply.units.length === 0) return [];
    const { supplies, loadMa } = this.#carried(segment);
    const share = this.values.measuredShare;
    const figures = {
      expected: loadMa,
      low: toMa(Math.floor(fromMa(loadMa) * (1 - share))),
      high: toMa(Math.ceil(fromMa(loadMa) * (1 + share))),
    };
    return [...this.#currents(segment, supplies, figures, null), this.#farEnd(segment)];
  }

  /** The load that the segment’s supplies carry, and all supplies that carry it. */
  #carried({ load, supply: { units, shared } }: ReportSegment) {
    if (shared === null) return { supplies: units.map((unit) => unit.id), loadMa: load.totalMa };
    const judged = shared.judgedWith.flatMap((one) => this.#byId.get(one)?.supply.units ?? []);
    return { supplies: [...new Set(judged.map((unit) => unit.id))], loadMa: shared.loadMa };
  }

  /** A row for each supply that feeds the segment; one that feeds others of its group is measured there. */
  #currents(
    segment: ReportSegment,
    supplies: readonly string[],
    figures: Figures,
    measured: number | null,
  ): SiteCheckRow[] {
    const { expected, low, high } = figures;
    const own = segment.supply.units.filter(({ id }) => supplies.includes(id));
    return own.map(({ id }, index) => ({
      segment,
      quantity: 'current',
      at: this.#label(id),
      togetherWith: supplies.filter((other) => other !== id).map((other) => this.#label(other)),
      supplyId: id,
      point: null,
      unit: 'mA',
      ...(index === 0 ? { expected, low, high } : NOTHING),
      measured: supplies.length === 1 ? measured : null,
      connectedBy: null,
    }));
  }

  #farEnd(segment: ReportSegment): SiteCheckRow {
    return { ...voltageAt(segment, FAR_END, null), low: this.values.leastDeviceV };
  }

  #label(supply: string): string {
    return this.#labels.get(supply) ?? supply;
  }
}

function voltageAt(segment: ReportSegment, at: string, point: string | null): SiteCheckRow {
  const nowhere = { togetherWith: [], supplyId: null, measured: null, connectedBy: null };
  return { segment, quantity: 'voltage', at, point, unit: 'V', ...nowhere, ...NOTHING };
}

const COLUMNS: readonly Column<SiteCheckRow>[] = [
  ['segment', ({ segment }) => segment.label],
  ['segmentId', ({ segment }) => segment.id],
  ['quantity', ({ quantity }) => quantity],
  ['at', ({ at }) => at],
  ['togetherWith', ({ togetherWith }) => listed(togetherWith)],
  ['supplyId', ({ supplyId }) => supplyId],
  ['point', ({ point }) => point],
  ['unit', ({ unit }) => unit],
  ['expected', ({ expected }) => expected],
  ['low', ({ low }) => low],
  ['high', ({ high }) => high],
  ['measured', ({ measured }) => measured],
  ['date', () => null],
  ['note', () => null],
  ['connectedBy', ({ connectedBy }) => connectedBy],
];
