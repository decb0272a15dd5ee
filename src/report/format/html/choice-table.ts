import type { ReportChoice, ReportUnit } from '../../proposal-shape.js';
import type { Page } from './model.js';
import { groupedBy } from './order.js';
import { numberColumn, type TableColumn } from './table.js';

/**
 * Columns that tell of a choice: what stays, goes and is bought, and what that leaves. Those that no row has anything in
 * are left out, so that the others have room.
 * @param choiceOf null where no supplies from stock carry it
 */
export function choiceColumns<Row>(
  rows: readonly Row[],
  choiceOf: (row: Row) => ReportChoice | null,
  page: Page,
): TableColumn<Row>[] {
  const { texts, figures } = page;
  const { proposals } = texts;
  const choices = rows.flatMap((row) => choiceOf(row) ?? []);
  const units = (heading: string, of: (choice: ReportChoice) => readonly ReportUnit[]): TableColumn<Row>[] =>
    choices.every((choice) => of(choice).length === 0)
      ? []
      : [{ heading, cell: (row) => unitsText(choiceOf(row), of, page) }];
  const number = (
    [heading, unit]: readonly [heading: string, unit: string],
    of: (choice: ReportChoice) => number | null,
    write?: (value: number) => string,
  ): TableColumn<Row>[] => {
    if (choices.every((choice) => of(choice) === null)) return [];
    const figureOf = (row: Row) => {
      const choice = choiceOf(row);
      return choice && of(choice);
    };
    return [numberColumn(figures, [heading, unit], figureOf, write)];
  };
  return [
    ...units(proposals.keep, ({ kept }) => kept),
    ...units(proposals.remove, ({ removed }) => removed),
    ...units(proposals.order, ({ added }) => added),
    ...number([proposals.rated, 'mA'], ({ ratedMa }) => ratedMa),
    ...number([proposals.target, 'mA'], ({ targetMa }) => targetMa),
    ...number([proposals.left, 'mA'], ({ marginMa }) => marginMa, figures.signed),
    ...number([proposals.lowest, 'V'], ({ lowest }) => (lowest?.isDecided ? lowest.leastV : null)),
    ...number([proposals.price, ''], ({ price }) => (price === 0 ? null : price), figures.price),
  ];
}

/** `2 × 640 mA (plain, PS-640)`; of what is there its name and rating. */
function unitsText(
  choice: ReportChoice | null,
  of: (choice: ReportChoice) => readonly ReportUnit[],
  page: Page,
): string {
  if (choice === null) return page.texts.proposals.noChoice;
  const told = of(choice).map((unit) => unitText(unit, page));
  return groupedBy(told, (text) => text)
    .map((same) => `${same.length === 1 ? '' : `${same.length} × `}${same[0]}`)
    .join(', ');
}

function unitText({ id, name, ratedMa, kind, orderNumber, at }: ReportUnit, { texts, words, figures }: Page): string {
  const { frame, proposals } = texts;
  const rating = ratedMa === null ? frame.notKnown : figures.ma(ratedMa);
  if (id !== null) return `${name ?? id} (${rating})`;
  const what = `${rating} (${[words.names.supplyKinds[kind], ...(orderNumber === null ? [] : [orderNumber])].join(', ')})`;
  return at === null ? what : proposals.orderText({ what, point: at });
}
