import type { Segment } from '../../plant/plant.js';
import type { Measured } from '../../site/site.js';
import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import { connectedInput, type ExpectedInput } from '../expected.js';
import { asPlanned, suppliesOut } from './as-planned.js';
import { longerCable, openCable } from './cables.js';
import { carriesAnother, fedFromElsewhere } from './elsewhere.js';
import type { Misfit } from './fit.js';
import type { Hypothesis } from './hypothesis.js';
import { CAUSE_KINDS, type CauseKind } from './kinds.js';
import { drawsMore, notConnected } from './loads.js';
import { missingFor } from './missing.js';
import { type NextMeasurement, nextFor } from './next.js';
import { mostPlaces, placesOf, spread, supplyPlaces } from './places.js';
import { probesOf } from './probe.js';
import { type Reading, readingsOf } from './reading.js';
import { shorts } from './shorts.js';
import type { ToldInput } from './target.js';
import { type Tried, tried } from './tried.js';
import { isLaid } from './worked.js';

export interface DiagnoseInput extends ToldInput {
  /** Segments of the installation, for a wrong feed. */
  readonly others: readonly Segment[];
}

/** What the readings of a segment come to. */
export interface Diagnosis {
  readonly observations: readonly Observation[];
  /** Best first. */
  readonly causes: readonly Cause[];
  /** How many further causes fit as well as these or a little less, and are not listed. */
  readonly further: number;
  /** What keeps causes from being computed, or told apart better. */
  readonly missing: readonly string[];
}

export interface Observation {
  /** `current at 1.1.0 Supply`, `voltage at hall`, `dead`. */
  readonly what: string;
  /** Null for what was only seen. */
  readonly unit: 'mA' | 'V' | null;
  readonly value: number | null;
  /** By how much a computed figure may differ and still agree. */
  readonly tolerance: number | null;
}

export interface Cause {
  readonly kind: CauseKind;
  /** What would be the case, in one sentence with figures. */
  readonly text: string;
  /** 1 for a perfect match, 1/2 where the readings are a whole tolerance off; see `fit.ts`. */
  readonly fit: number;
  /** Readings that differ from the case by more than their tolerance. */
  readonly misfits: readonly Misfit[];
  /** Null where nothing that can be measured tells it from the other causes listed. */
  readonly next: NextMeasurement | null;
}

/** What fits less than this is no cause: on average 1.4 tolerances off. */
const LEAST_FIT = 0.05;

/** Where nothing fits, so many that come nearest are listed all the same, for their misfits. */
const NEAREST = 3;

/** So many causes are listed, and so many of one kind. */
const MOST_CAUSES = 8;
const MOST_OF_A_KIND = 3;

/**
 * Lists what may be the case on a segment, ranked by how well each case, worked out, matches what was measured or seen.
 * One departure from the plan at a time: two faults at once are not looked for.
 * @returns null where nothing was measured or seen
 */
export function diagnose(input: DiagnoseInput): Diagnosis | null {
  const { words } = input;
  const { measured } = input.entry;
  if (measured === null || isNothing(measured)) return null;
  const plan = { ...connectedInput(input), words };
  const readings = readingsOf(plan);
  const canBeTried = plan.segment.supplies.length > 0 && readings.length > 0;
  const all = canBeTried ? fitting(ranked(hypothesesOf(plan, input), readings, plan)) : [];
  const listed = mostOfEach(all).slice(0, MOST_CAUSES);
  const stages = probesOf(plan, readings);
  return {
    observations: observationsOf(readings, measured, words),
    causes: listed.map((cause) => ({
      kind: cause.kind,
      text: cause.text(words),
      fit: cause.fit,
      misfits: cause.misfits,
      next: nextFor(cause, listed, stages),
    })),
    further: all.length - listed.length,
    missing: missingFor(plan, readings),
  };
}

function isNothing({ currents, voltages, symptom }: Measured): boolean {
  return currents.length === 0 && voltages.length === 0 && symptom === null;
}

function hypothesesOf(plan: ExpectedInput, { others, ...all }: DiagnoseInput): Hypothesis[] {
  const places = spread(placesOf(plan, isLaid(plan)), mostPlaces(plan));
  return [
    ...asPlanned(plan, all),
    ...suppliesOut(plan),
    ...notConnected(plan, places),
    ...(isLaid(plan) ? openCable(plan) : []),
    ...longerCable(plan),
    ...drawsMore(plan, places),
    ...shorts(plan, [...supplyPlaces(plan, places), ...places]),
    ...carriesAnother(plan, others),
    ...fedFromElsewhere(plan, others),
  ];
}

/** By fit, then by kind, then by the text in English, as no order may come from the language. */
function ranked(hypotheses: readonly Hypothesis[], readings: readonly Reading[], plan: ExpectedInput): Tried[] {
  const place = ({ kind }: Tried) => CAUSE_KINDS.indexOf(kind);
  return hypotheses
    .flatMap((hypothesis) => tried(hypothesis, readings, plan) ?? [])
    .sort((a, b) => b.fit - a.fit || place(a) - place(b) || (a.text(EN) < b.text(EN) ? -1 : 1));
}

function fitting(causes: readonly Tried[]): readonly Tried[] {
  const those = causes.filter(({ fit }) => fit >= LEAST_FIT);
  return those.length > 0 ? those : causes.slice(0, NEAREST);
}

function mostOfEach(causes: readonly Tried[]): Tried[] {
  const seen = new Map<CauseKind, number>();
  return causes.filter(({ kind }) => {
    const before = seen.get(kind) ?? 0;
    seen.set(kind, before + 1);
    return before < MOST_OF_A_KIND;
  });
}

function observationsOf(readings: readonly Reading[], { symptom }: Measured, { diagnosis }: Words): Observation[] {
  const blank = { unit: null, value: null, tolerance: null };
  return [
    ...readings
      .filter(({ isMeasured }) => isMeasured)
      .map(({ what, unit, seen: { low }, tolerance }) => ({
        what,
        unit,
        value: toThousandths(low),
        tolerance: toThousandths(tolerance),
      })),
    ...(symptom === null ? [] : [{ what: diagnosis.symptoms[symptom], ...blank }]),
  ];
}

/** Microamperes and millivolts: finer is rounding. */
function toThousandths(value: number): number {
  return Math.round(value * 1000) / 1000;
}
