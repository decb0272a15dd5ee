import { VERDICTS } from '../../../electrical/verdict.js';
import { SEVERITIES } from '../../../policy/policy.js';
import { INCOMPLETE, NOTHING_CHECKED, verdictSentence } from '../text.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { en } from './texts.js';

/** The verdict on the whole project in a sentence, and the counts. */
export function summary({ report }: Page): Markup {
  const { segments, findings, waived, complete, checks, devicesPlaced, devicesUnplaced, currents } = report.summary;
  const verdicts = VERDICTS.filter((verdict) => (segments[verdict] ?? 0) > 0);
  return html`<p class="verdict-sentence">${verdictSentence(report.summary)}</p>
${
  !complete &&
  html`<p class="alarm">${INCOMPLETE}</p>
`
}${
  checks === 0 &&
  html`<p class="alarm">${NOTHING_CHECKED}</p>
`
}<div class="counts">
${counts(
  en.summary.segments,
  verdicts.map((verdict) => [segments[verdict] ?? 0, html`<b class="verdict v-${verdict}">${verdict}</b>`]),
)}
${counts(en.summary.findings, [
  ...SEVERITIES.map(
    (name): Counted => [findings[name] ?? 0, html`<b class="severity s-${name}">${en.summary.severities[name]}</b>`],
  ),
  ...(waived > 0 ? [[waived, html`${en.summary.waived}`] as const] : []),
])}
${counts(en.summary.devices, [
  [devicesPlaced, html`${en.summary.placed}`],
  [devicesUnplaced, html`${en.summary.unplaced}`],
])}
${counts(
  en.summary.currents,
  ORIGINS.map((origin) => [currents[origin], html`${en.summary.origins[origin]}`]),
)}
</div>
`;
}

const ORIGINS = ['declared', 'overridden', 'assumed'] as const;

type Counted = readonly [count: number, of: Markup];

function counts(heading: string, entries: readonly Counted[]): Markup {
  return html`<div class="count"><h3>${heading}</h3><ul class="count-list">${entries.map(([count, of]) => html`<li><span class="figure">${count}</span> ${of}</li>`)}</ul></div>`;
}
