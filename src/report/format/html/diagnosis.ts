import type { ReportOnSite } from '../../site-shape.js';
import { inEnglish } from './in-english.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets } from './table.js';

type Diagnosis = NonNullable<ReportOnSite['diagnosis']>;
type Cause = Diagnosis['causes'][number];

/** What was measured on a segment, and the causes that fit, best first. */
export function diagnosis({ observations, causes, further, missing }: Diagnosis, page: Page): Markup {
  const { texts, figures } = page;
  const { site } = texts;
  const seen = observations.map(({ what, value, unit }): Content => {
    const told = inEnglish(what, page);
    return value === null ? told : html`${told} ${figures.withUnit(value, unit ?? '')}`;
  });
  return html`<h5>${site.measured}</h5>
${bullets(seen)}${
  causes.length === 0
    ? html`<p>${site.noCause}</p>
`
    : html`<ol>${causes.map((cause) => causeItem(cause, page))}</ol>
`
}${
  further > 0 &&
  html`<p>${site.further(further)}</p>
`
}${
  missing.length > 0 &&
  html`<p>${site.missing}</p>
${bullets(missing.map((one) => inEnglish(one, page)))}`
}`;
}

function causeItem({ kind, fit, text, misfits, next }: Cause, page: Page): Markup {
  const { texts, figures } = page;
  const { site } = texts;
  const off = misfits.map(({ what, measured, computed, unit }) =>
    site.misfit({ what, measured: figures.withUnit(measured, unit), computed: figures.withUnit(computed, unit) }),
  );
  const rounded = figures.number(Math.round(fit * 100) / 100);
  return html`<li><b>${inEnglish(kind, page)}</b> (${site.fit(rounded)}): ${inEnglish(text, page)}${
    off.length > 0 && html` ${site.misfits} ${inEnglish(`${off.join('; ')}.`, page)}`
  }${next && html` ${nextText(next, page)}`}</li>
`;
}

/** The measurement that tells this cause from another, with what it would show in either case. */
function nextText({ measure, here, otherwise, unit, againstRank }: NonNullable<Cause['next']>, page: Page): Markup {
  const { site } = page.texts;
  const shown = ({ low, high }: typeof here) =>
    low === null ? site.openCircuit : page.figures.between(low, high, unit);
  const told = site.nextText({ here: shown(here), otherwise: shown(otherwise), rank: againstRank });
  return html`${site.next} ${inEnglish(measure, page)}: ${told}`;
}
