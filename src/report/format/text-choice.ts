import { list, milliamps, volts } from '../../rules/words.js';
import type { ReportChoice, ReportProposal, ReportUnit } from '../proposal-shape.js';

/** `keep Supply 320 mA, add 640 mA (plain, PS-640)`. */
export function choiceText({ kept, removed, added }: ReportChoice): string {
  const parts = [
    ...(kept.length === 0 ? [] : [`keep ${list(kept.map(presentText))}`]),
    ...(removed.length === 0 ? [] : [`remove ${list(removed.map(presentText))}`]),
    ...(added.length === 0
      ? []
      : [`${kept.length + removed.length === 0 ? 'order' : 'add'} ${list(added.map(boughtText))}`]),
  ];
  return parts.join(', ');
}

function presentText({ name, ratedMa }: ReportUnit): string {
  return `${name} ${ratedMa === null ? '(not rated)' : milliamps(ratedMa)}`;
}

function boughtText({ ratedMa, kind, orderNumber, at }: ReportUnit): string {
  const which = [kind, ...(orderNumber === null ? [] : [orderNumber]), ...(at === null ? [] : [`at ${at}`])];
  return `${milliamps(ratedMa ?? 0)} (${which.join(', ')})`;
}

/** What the choice would leave, at which voltage and price. */
export function marginText(
  { marginMa, targetMa, price, lowest }: ReportChoice,
  { plannedMa }: Pick<ReportProposal, 'plannedMa'>,
): string {
  const planned = plannedMa === 0 ? '' : ` with ${milliamps(plannedMa)} planned`;
  const cost = price === null || price === 0 ? '' : `, price ${price}`;
  const voltage =
    lowest?.leastV == null || !lowest.isDecided ? '' : `, at least ${volts(lowest.leastV)} at every device`;
  return `${milliamps(marginMa)} left to the target of ${milliamps(targetMa)}${planned}${voltage}${cost}`;
}
