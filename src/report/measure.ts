import { type EffectivePolicy, sourceOf } from '../policy/effective.js';
import type { Measure, Rule } from '../rules/rule.js';
import type { ReportMeasure } from './report.js';

/** The figure of a finding as the report shows it, with where its limit is from. */
export function reportMeasure(measure: Measure, rule: Rule, policy: EffectivePolicy): ReportMeasure {
  const { setBy } = measure;
  const { basis, source } = setBy === undefined ? rule : sourceOf(setBy, policy);
  return {
    ...figuresOf(measure),
    limitFrom: {
      basis,
      source,
      setBy: setBy === undefined ? null : policy.setBy[setBy],
      key: setBy ?? null,
    },
  };
}

/** The figure of a finding about a waiver: its limit is what was accepted. */
export function waiverMeasure(measure: Measure, { basis, source }: Rule): ReportMeasure {
  return { ...figuresOf(measure), limitFrom: { basis, source, setBy: 'waivers file', key: null } };
}

function figuresOf(measure: Measure): Omit<ReportMeasure, 'limitFrom'> {
  const { quantity, unit, value, limit, holds, whole = null, breakEvenMa = null } = measure;
  return {
    quantity,
    unit,
    value,
    limit,
    holds,
    share: value === null || whole === null || whole === 0 ? null : Math.round((value / whole) * 1e6) / 1e6,
    margin: value === null || limit === null ? null : marginOf(value, limit, holds),
    flipsAt: limit,
    breakEvenMa,
  };
}

/** Currents carry three decimals (whole µA), accepted shares six; their difference has no more. */
function marginOf(value: number, limit: number, holds: Measure['holds']): number {
  const margin = holds === 'at least' ? value - limit : limit - value;
  return Math.round(margin * 1e6) / 1e6;
}
