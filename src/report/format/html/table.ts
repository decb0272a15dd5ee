import { type Content, html, type Markup } from './markup.js';

export interface TableColumn<Row> {
  readonly heading: string;
  readonly cell: (row: Row) => Content;
  /** The figure that a number is sorted by; columns that have it are set right. */
  readonly value?: (row: Row) => number | null;
}

interface TableOptions<Row> {
  readonly caption: string;
  /** The first one names the row. */
  readonly columns: readonly TableColumn<Row>[];
  readonly rows: readonly Row[];
  /** Attributes of a row. */
  readonly rowAttributes?: (row: Row) => Markup;
  /** Rows below, which stay below when the others are sorted. */
  readonly footer?: readonly (readonly Content[])[];
}

/** A table that scrolls by itself where it is too wide; the script makes it sortable. */
export function table<Row>({ caption, columns, rows, rowAttributes, footer = [] }: TableOptions<Row>): Markup {
  const head = columns.map(({ heading, value }) => html`<th scope="col"${numeric(value)}>${heading}</th>`);
  const body = rows.map(
    (
      row,
    ) => html`<tr${rowAttributes && html` ${rowAttributes(row)}`}>${columns.map((column, at) => cellOf(column, row, at))}</tr>
`,
  );
  const foot = footer.map((cells) => html`<tr>${cells.map((cell) => html`<td>${cell}</td>`)}</tr>`);
  return html`<div class="scroll" role="group" tabindex="0" aria-label="${caption}"><table>
<caption>${caption}</caption>
<thead><tr>${head}</tr></thead>
<tbody>
${body}</tbody>${foot.length > 0 && html`<tfoot>${foot}</tfoot>`}
</table></div>
`;
}

function numeric(value: unknown): Markup | false {
  return value !== undefined && html` class="n"`;
}

function cellOf<Row>({ cell, value }: TableColumn<Row>, row: Row, at: number): Markup {
  if (at === 0) return html`<th scope="row">${cell(row)}</th>`;
  if (value === undefined) return html`<td>${cell(row)}</td>`;
  return html`<td class="n" data-v="${value(row)}">${cell(row)}</td>`;
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
