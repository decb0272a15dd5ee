import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets, table } from './table.js';

/** Every value that the audit applied, who set it and where it is from. */
export function policyTable({ report: { policy }, words, texts, figures }: Page): Markup {
  const unused = [
    ...policy.products.filter(({ devices }) => devices === 0).map(({ entry }) => `products[${entry}]`),
    ...policy.growth.filter(({ segments }) => segments === 0).map(({ entry }) => `growth[${entry}]`),
  ];
  const source = (key: string) => texts.names.policySource({ key, source: policy.sources[key] ?? '' });
  const values = table<[key: string, value: unknown]>({
    caption: texts.basis.policyCaption,
    columns: [
      { heading: texts.basis.key, cell: ([key]) => html`<code>${key}</code>` },
      { heading: texts.basis.value, cell: ([, value]) => valueText(value, figures.number) },
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

/** Words, lists and mappings as a policy file has them. */
function valueText(value: unknown, number: (value: number) => string): Markup {
  if (typeof value === 'number') return html`${number(value)}`;
  const text = typeof value === 'string' ? value : JSON.stringify(value).replaceAll(',"', ', "');
  return html`<code>${text}</code>`;
}
