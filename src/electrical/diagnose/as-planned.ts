import { deviceLabel } from '../../plant/plant.js';
import type { ExpectedInput } from '../expected.js';
import { type Hypothesis, supposed } from './hypothesis.js';
import { wholeMa } from './shares.js';
import { milliamps } from './words.js';

/** All is as the plan has it. @param input with what is connected; @param all with everything */
export function asPlanned(input: ExpectedInput, all: ExpectedInput): Hypothesis[] {
  const connectedMa = wholeMa(input, {});
  const allMa = wholeMa(all, {});
  const plan = supposed(
    'as planned',
    input,
    {},
    `All is as planned: what is connected draws ${milliamps(connectedMa)}.`,
  );
  if (allMa === connectedMa) return [plan];
  const text = `Everything is connected and draws ${milliamps(allMa)}, not only the ${milliamps(connectedMa)} of what is marked so.`;
  return [plan, supposed('everything connected', all, {}, text)];
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
