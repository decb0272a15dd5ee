import type { Words } from '../../words/words.js';
import type { ReportChoice, ReportProposal, ReportUnit } from '../proposal-shape.js';

/** A choice and what it would leave, at which voltage and price. */
export function choiceText(
  choice: ReportChoice,
  { plannedMa }: Pick<ReportProposal, 'plannedMa'>,
  words: Words,
): string {
  const { supplies, present, margin } = words.proposals.choice;
  const { kept, removed, added, marginMa, targetMa, price, lowest } = choice;
  const what = supplies({
    kept: kept.map(present),
    removed: removed.map(present),
    added: added.map((unit) => boughtText(unit, words)),
  });
  const leastV = lowest?.isDecided === true ? lowest.leastV : null;
  return `${what}; ${margin({ marginMa, targetMa, plannedMa, leastV, price: price === 0 ? null : price })}`;
}

/** `640 mA (plain, PS-640, at p3)`. */
function boughtText({ ratedMa, kind, orderNumber, at }: ReportUnit, { figures, names, proposals }: Words): string {
  const where = at === null ? [] : [proposals.choice.at(at)];
  const which = [names.supplyKinds[kind], ...(orderNumber === null ? [] : [orderNumber]), ...where];
  return `${figures.milliamps(ratedMa ?? 0)} (${which.join(', ')})`;
}
