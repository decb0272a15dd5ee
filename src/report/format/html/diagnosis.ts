import type { ReportOnSite } from '../../site-shape.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets } from './table.js';

type Diagnosis = NonNullable<ReportOnSite['diagnosis']>;
type Cause = Diagnosis['causes'][number];

/** What was measured on a segment, and the causes that fit, best first. */
export function diagnosis({ observations, causes, further, missing }: Diagnosis, page: Page): Markup {
  const { texts, words, figures } = page;
  const { site } = texts;
  const { told } = words.diagnosis;
  const seen = observations.map(({ what, value, unit }): Content => {
    return value === null ? what : html`${what} ${figures.withUnit(value, unit ?? '')}`;
  });
  return html`<h5>${site.measured}</h5>
${bullets(seen)}${
  causes.length === 0
    ? html`<p>${told.noCause}</p>
`
    : html`<ol>${causes.map((cause) => causeItem(cause, page))}</ol>
`
}${
  further > 0 &&
  html`<p>${told.further(further)}</p>
`
}${
  missing.length > 0 &&
  html`<p>${told.missing}</p>
${bullets(missing)}`
}`;
}

function causeItem({ kind, fit, text, misfits, next }: Cause, page: Page): Markup {
  const { words, figures } = page;
  const { told, kinds } = words.diagnosis;
  const off = misfits.map(({ what, measured, computed, unit }) =>
    told.misfit({ what, measured: figures.withUnit(measured, unit), computed: figures.withUnit(computed, unit) }),
  );
  const rounded = figures.number(Math.round(fit * 100) / 100);
  return html`<li><b>${kinds[kind]}</b> (${told.fit(rounded)}): ${text}${
    off.length > 0 && html` ${told.misfits} ${off.join('; ')}.`
  }${next && html` ${nextText(next, page)}`}</li>
`;
}

/** The measurement that tells this cause from another, with what it would show in either case. */
function nextText({ measure, here, otherwise, unit, againstRank }: NonNullable<Cause['next']>, page: Page): Markup {
  const { texts, words, figures } = page;
  const { site } = texts;
  const shown = ({ low, high }: typeof here) =>
    low === null ? words.diagnosis.told.openCircuit : figures.between(low, high, unit);
  const told = site.nextText({ here: shown(here), otherwise: shown(otherwise), rank: againstRank });
  return html`${site.next} ${measure}: ${told}`;
}
