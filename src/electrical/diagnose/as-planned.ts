import { deviceLabel } from '../../plant/plant.js';
import { sum } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { whyCollapsed } from './along-runs.js';
import { type Hypothesis, supposed } from './hypothesis.js';
import { limitsMa, wholeMa } from './shares.js';
import { milliamps } from './words.js';
import { isLaid } from './worked.js';

/** All is as the plan has it. @param input with what is connected; @param all with everything */
export function asPlanned(input: ExpectedInput, all: ExpectedInput): Hypothesis[] {
  const connectedMa = wholeMa(input, {});
  const allMa = wholeMa(all, {});
  const text = collapseText(input) ?? `All is as planned: what is connected draws ${milliamps(connectedMa)}.`;
  const plan = supposed('as planned', input, {}, text);
  if (allMa === connectedMa) return [plan];
  const allText = `Everything is connected and draws ${milliamps(allMa)}, not only the ${milliamps(connectedMa)} of what is marked so.`;
  return [plan, supposed('everything connected', all, {}, [allText, collapseText(all)].filter(Boolean).join(' '))];
}

/** In place of a plan that has no working point; null where it has one. */
function collapseText(plan: ExpectedInput): string | null {
  if (plan.segment.supplies.length === 0) return null;
  const whole = wholeMa(plan, {});
  const limit = sum(limitsMa(plan));
  const isBeyond = isLaid(plan) ? whyCollapsed(plan) === 'beyond the limit of the supplies' : whole > limit;
  if (isBeyond) {
    return `The planned load is beyond what the supplies deliver: ${milliamps(whole)} of at most ${milliamps(limit)}.`;
  }
  if (isLaid(plan) && whyCollapsed(plan) !== null) return 'The planned load is more than the cable carries.';
  return null;
}

/** Supplies that give nothing: each by itself, and all. */
export function suppliesOut(input: ExpectedInput): Hypothesis[] {
  const { supplies } = input.group;
  const each = supplies.map(({ device }) => {
    const out = new Set([device.id]);
    const rest = supplies.length === 1 ? '' : `; the others are to carry ${milliamps(wholeMa(input, {}))}`;
    return supposed('one supply out', input, { out }, `${deviceLabel(device)} gives nothing${rest}.`);
  });
  if (supplies.length < 2) return each;
  const out = new Set(supplies.map(({ device }) => device.id));
  return [
    ...each,
    supposed('all supplies out', input, { out }, `None of the ${supplies.length} supplies gives anything.`),
  ];
}
