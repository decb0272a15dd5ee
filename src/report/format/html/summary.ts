import { VERDICTS } from '../../../electrical/verdict.js';
import { SEVERITIES } from '../../../policy/policy.js';
import { ORIGINS } from '../../report.js';
import { verdictSentence } from '../text.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';

/** The verdict on the whole project in a sentence, and the counts. */
export function summary({ report, words, texts }: Page): Markup {
  const { complete, checks } = report.summary;
  const alarm = (text: string) => html`<p class="alarm">${text}</p>
`;
  return html`<p class="verdict-sentence">${verdictSentence(report.summary, words)}</p>
${!complete && alarm(words.report.incomplete)}${checks === 0 && alarm(words.report.nothingChecked)}<div class="counts">
${segmentCounts(report.summary, words, texts)}
${findingCounts(report.summary, texts)}
${otherCounts(report.summary, texts)}
</div>
`;
}

type Summary = Page['report']['summary'];
type Counted = readonly [count: number, of: Markup];

function segmentCounts({ segments }: Summary, { names }: Page['words'], { summary: texts }: Page['texts']): Markup {
  const verdicts = VERDICTS.filter((verdict) => (segments[verdict] ?? 0) > 0);
  return counts(
    texts.segments,
    verdicts.map((verdict) => [
      segments[verdict] ?? 0,
      html`<b class="verdict v-${verdict}">${names.verdicts[verdict]}</b>`,
    ]),
  );
}

function findingCounts({ findings, waived }: Summary, { summary: texts }: Page['texts']): Markup {
  return counts(texts.findings, [
    ...SEVERITIES.map((severity): Counted => {
      const found = findings[severity] ?? 0;
      return [found, html`<b class="severity s-${severity}">${texts.severity({ severity, findings: found })}</b>`];
    }),
    ...(waived > 0 ? [[waived, html`${texts.waived}`] as const] : []),
  ]);
}

function otherCounts({ devicesPlaced, devicesUnplaced, currents }: Summary, { summary: texts, names }: Page['texts']) {
  return html`${counts(texts.devices, [
    [devicesPlaced, html`${texts.placed}`],
    [devicesUnplaced, html`${texts.unplaced}`],
  ])}
${counts(
  texts.currents,
  ORIGINS.map((origin) => [currents[origin], html`${names.origins[origin]}`]),
)}`;
}

function counts(heading: string, entries: readonly Counted[]): Markup {
  return html`<div class="count"><h3>${heading}</h3><ul class="count-list">${entries.map(([count, of]) => html`<li><span class="figure">${count}</span> ${of}</li>`)}</ul></div>`;
}
