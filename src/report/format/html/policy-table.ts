import { saidIn, unusedEntries } from '../policy-entries.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets, table } from './table.js';

/** Every value that the audit applied, who set it and where it is from. */
export function policyTable(page: Page): Markup {
  const {
    report: { policy },
    words,
    texts,
  } = page;
  const unused = unusedEntries(policy);
  const source = (key: string) => texts.names.policySource({ key, source: policy.sources[key] ?? '' });
  const values = table<[key: string, value: unknown]>({
    caption: texts.basis.policyCaption,
    columns: [
      { heading: texts.basis.key, cell: ([key]) => html`<code>${key}</code>` },
      { heading: texts.basis.value, cell: ([, value]) => valueText(value, page) },
      { heading: texts.basis.setBy, cell: ([key]) => words.names.setBy(policy.setBy[key] ?? '') },
      { heading: texts.basis.source, cell: ([key]) => source(key) },
    ],
    rows: Object.entries(policy.values),
  });
  return html`${values}${
    unused.length > 0 &&
    html`<p>${words.report.basis.unusedEntries}</p>
${bullets(unused.map((entry) => html`<code>${entry}</code>`))}`
  }`;
}

/** Names and words as a policy file has them; of a list and of a mapping each entry by itself. */
function valueText(value: unknown, { figures, texts }: Page): Markup {
  if (typeof value === 'number') return html`${figures.number(value)}`;
  if (typeof value !== 'object' || value === null) return html`<code>${String(value)}</code>`;
  const number = figures.number;
  const entries = Array.isArray(value)
    ? value.map((entry: object) => saidIn(entry, number))
    : saidIn(value, number).map((entry) => [entry]);
  return entries.length === 0 ? html`${texts.basis.noEntries}` : bullets(entries.map(entryOf));
}

function entryOf(said: readonly (readonly [name: string, text: string])[]): Content {
  return said.map(([name, text], at) => html`${at > 0 && ', '}<code>${name}</code> ${text}`);
}
