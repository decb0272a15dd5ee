import type { Report } from '../../report.js';
import { html, type Markup } from './markup.js';
import { bullets, table } from './table.js';
import { en } from './texts.js';

/** Every value that the audit applied, who set it and where it is from. */
export function policyTable({ policy }: Report): Markup {
  const unused = [
    ...policy.products.filter(({ devices }) => devices === 0).map(({ entry }) => `products[${entry}]`),
    ...policy.growth.filter(({ segments }) => segments === 0).map(({ entry }) => `growth[${entry}]`),
  ];
  const values = table({
    caption: en.basis.policyCaption,
    columns: [
      { heading: en.basis.key, cell: ([key]) => html`<code>${key}</code>` },
      { heading: en.basis.value, cell: ([, value]) => valueText(value) },
      { heading: en.basis.setBy, cell: ([key]) => policy.setBy[key] },
      { heading: en.basis.source, cell: ([key]) => policy.sources[key] },
    ],
    rows: Object.entries(policy.values),
  });
  return html`${values}${
    unused.length > 0 &&
    html`<p>${en.basis.unused}:</p>
${bullets(unused)}`
  }`;
}

/** Lists and mappings as a policy file could have them. */
function valueText(value: unknown): string {
  if (typeof value === 'number') return en.number(value);
  return typeof value === 'string' ? value : JSON.stringify(value).replaceAll(',"', ', "');
}
