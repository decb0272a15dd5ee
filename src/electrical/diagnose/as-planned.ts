import { deviceLabel } from '../../plant/plant.js';
import { sum } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { whyCollapsed } from './along-runs.js';
import { type Hypothesis, type Sentence, supposed } from './hypothesis.js';
import { limitsMa, wholeMa } from './shares.js';
import { toTenth } from './tenth.js';
import { isLaid } from './worked.js';

/** All is as the plan has it. @param input with what is connected; @param all with everything */
export function asPlanned(input: ExpectedInput, all: ExpectedInput): Hypothesis[] {
  const connectedMa = wholeMa(input, {});
  const allMa = wholeMa(all, {});
  const text: Sentence = ({ diagnosis }) => diagnosis.causes.asPlanned(toTenth(connectedMa));
  const plan = supposed('as planned', input, {}, collapseText(input) ?? text);
  if (allMa === connectedMa) return [plan];
  const facts = { allMa: toTenth(allMa), connectedMa: toTenth(connectedMa) };
  const collapsed = collapseText(all);
  const allText: Sentence = (words) =>
    [words.diagnosis.causes.everything(facts), ...(collapsed === null ? [] : [collapsed(words)])].join(' ');
  return [plan, supposed('everything connected', all, {}, allText)];
}

/** In place of a plan that has no working point; null where it has one. */
function collapseText(plan: ExpectedInput): Sentence | null {
  if (plan.segment.supplies.length === 0) return null;
  const whole = wholeMa(plan, {});
  const limit = sum(limitsMa(plan));
  const isBeyond = isLaid(plan) ? whyCollapsed(plan) === 'beyond the limit of the supplies' : whole > limit;
  if (isBeyond) {
    const facts = { loadMa: toTenth(whole), limitMa: toTenth(limit) };
    return ({ diagnosis }) => diagnosis.causes.beyondSupplies(facts);
  }
  return isLaid(plan) && whyCollapsed(plan) !== null ? ({ diagnosis }) => diagnosis.causes.beyondCable : null;
}

/** Supplies that give nothing: each by itself, and all. */
export function suppliesOut(input: ExpectedInput): Hypothesis[] {
  const { supplies } = input.group;
  const each = supplies.map(({ device }) => {
    const out = new Set([device.id]);
    const othersCarryMa = supplies.length === 1 ? null : toTenth(wholeMa(input, {}));
    return supposed('one supply out', input, { out }, ({ diagnosis }) =>
      diagnosis.causes.supplyOut({ supply: deviceLabel(device), othersCarryMa }),
    );
  });
  if (supplies.length < 2) return each;
  const out = new Set(supplies.map(({ device }) => device.id));
  return [
    ...each,
    supposed('all supplies out', input, { out }, ({ diagnosis }) => diagnosis.causes.allSuppliesOut(supplies.length)),
  ];
}
