import type { PageFigures } from './figures.js';
import { type Content, html, type Markup } from './markup.js';

export interface TableColumn<Row> {
  readonly heading: string;
  readonly cell: (row: Row) => Content;
  /** The figure that a number is sorted by; columns that have it are set right. */
  readonly value?: (row: Row) => number | null;
  /** What a column of words is sorted by, where that is not the alphabet. */
  readonly rank?: (row: Row) => number;
  /** Whether the cells are bare numbers, which are set so that their decimal marks stand under each other. */
  readonly isAligned?: true;
}

interface TableOptions<Row> {
  readonly caption: string;
  /** The first one names the row. */
  readonly columns: readonly TableColumn<Row>[];
  readonly rows: readonly Row[];
  /** Whether a heading above says the same, so that the caption is for those who cannot see that. */
  readonly isHeaded?: true;
  /** Attributes of a row. */
  readonly rowAttributes?: (row: Row) => Markup;
}

/** A column of numbers, with their unit in its heading; blank where there is none. */
export function numberColumn<Row>(
  figures: Pick<PageFigures, 'number'>,
  [heading, unit]: readonly [heading: string, unit: string],
  value: (row: Row) => number | null,
  write: (value: number) => string = figures.number,
): TableColumn<Row> {
  const cell = (row: Row) => {
    const number = value(row);
    return number === null ? '' : write(number);
  };
  return { heading: unit === '' ? heading : `${heading}, ${unit}`, value, isAligned: true, cell };
}

/**
 * A table that scrolls by itself where it is too wide; the script makes it sortable. The ends of cells are left out, as
 * HTML has them end by the next one or the row's end: of a large page they are an eighth.
 */
export function table<Row>({ caption, columns, rows, isHeaded, rowAttributes }: TableOptions<Row>): Markup {
  const head = columns.map(({ heading, value }) => html`<th scope="col"${value && html` class="n"`}>${heading}`);
  const most = columns.map(({ isAligned, value }) =>
    isAligned && value ? rows.reduce((longest, row) => Math.max(longest, decimalsOf(value(row))), 0) : 0,
  );
  const body = rows.map(
    (row) => html`<tr${rowAttributes && html` ${rowAttributes(row)}`}>${columns.map((column, at) =>
      cellOf(column, row, at, most[at] ?? 0),
    )}</tr>
`,
  );
  return html`<div class="scroll" role="group" tabindex="0" aria-label="${caption}"><table>
<caption${isHeaded && html` class="unseen"`}>${caption}</caption>
<thead><tr>${head}</tr></thead>
<tbody>
${body}</tbody>
</table></div>
`;
}

function cellOf<Row>({ cell, value, rank, isAligned }: TableColumn<Row>, row: Row, at: number, most: number): Markup {
  if (at === 0) return html`<th scope="row">${cell(row)}`;
  if (value === undefined) return html`<td${rank && html` data-v="${rank(row)}"`}>${cell(row)}`;
  const number = value(row);
  const filler = isAligned && number !== null ? fillerClass(decimalsOf(number), most) : '';
  return html`<td class="n${filler}" data-v="${number}">${cell(row)}`;
}

/** Room for the digits that a number lacks behind its mark, and for the mark. */
function fillerClass(decimals: number, most: number): string {
  if (decimals >= most) return '';
  return ` d${most - decimals}${decimals === 0 ? ' mark' : ''}`;
}

function decimalsOf(value: number | null): number {
  return value === null ? 0 : (String(value).split('.')[1]?.length ?? 0);
}

/** A list of names and what they are; without those that there is nothing of. */
export function facts(entries: readonly (readonly [name: string, what: Content])[]): Markup {
  const known = entries.filter(([, what]) => what !== null && what !== undefined && what !== '' && what !== false);
  return html`<dl class="facts">${known.map(([name, what]) => html`<div><dt>${name}</dt><dd>${what}</dd></div>`)}</dl>
`;
}

/** What is behind a chart, or too long to stand open on a screen; printed it is open. */
export function folded(summary: Content, content: Content): Markup {
  return html`<details class="more"><summary>${summary}</summary>
${content}</details>
`;
}

export function bullets(items: readonly Content[]): Markup {
  return html`<ul>${items.map(
    (item) => html`<li>${item}</li>
`,
  )}</ul>
`;
}
