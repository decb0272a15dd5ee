import type { Waiver } from '../../src/policy/waivers.js';
import type { JudgedWaiver, WaiverOutcome } from '../../src/rules/judged-waiver.js';
import type { WaiverRule } from '../../src/rules/rule.js';

/** A waiver of a made-up finding. */
export const waiver = (more: Partial<Waiver> = {}): Waiver => ({
  fingerprint: '0123456789abcdef0123456789abcdef',
  rule: 'low-headroom',
  subject: '1.1',
  reason: 'the canteen closes in spring',
  author: 'A. Planner',
  expires: '2027-06-30',
  ...more,
});

export const judged = (outcome: WaiverOutcome, more: Partial<Waiver> = {}): JudgedWaiver => ({
  waiver: waiver(more),
  asOf: '2027-07-03',
  outcome,
});

/** Every way in which a waiver ends, by what it is. */
export const OUTCOMES: readonly WaiverOutcome[] = [
  { is: 'in force' },
  { is: 'not judged' },
  { is: 'unused', because: { is: 'nothing found' } },
  { is: 'expired', days: 3 },
  { is: 'outgrown', value: 91.25, quantity: 'load', limit: { value: 84, unit: '%' }, isFloor: false },
  {
    is: 'incomparable',
    because: { is: 'no share' },
    quantity: 'load',
    limit: { value: 84, unit: '%' },
    isFloor: false,
  },
];

/** What a rule says of waivers, in a form that tables compare. */
export function saidOfWaivers(rule: WaiverRule, all: readonly JudgedWaiver[]) {
  return [...rule.check(all)].map(({ judged: { outcome }, measure, facts }) => ({
    outcome: outcome.is,
    measure,
    message: rule.words.message(facts),
    remedy: rule.words.advice(facts),
  }));
}
