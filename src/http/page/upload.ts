import type { Limits } from '../../limits.js';
import { BUILT_IN_NAMES } from '../../policy/policy.js';
import { html, type Markup } from '../../report/format/html/markup.js';
import { FORMATS, type FormatName } from '../../report/format/index.js';
import { LANGUAGES, type Language } from '../../words/language.js';
import type { Words } from '../../words/words.js';
import { AUDIT_FORM } from '../forms.js';
import { framed } from './frame.js';

/** What the page has to know of the service. */
export interface UploadPageFacts {
  readonly language: Language;
  readonly words: Words;
  readonly limits: Limits;
  /** Whether the service asks for a token. */
  readonly asksToken: boolean;
}

type Beside = Exclude<keyof typeof AUDIT_FORM, 'archive'>;

const BESIDE = Object.keys(AUDIT_FORM).filter((field): field is Beside => field !== 'archive');

/** What else the page saves of an archive, and under which name: the forms that people use. */
const FILES: readonly { readonly format: FormatName & keyof Words['upload']['files']; readonly name: string }[] = [
  { format: 'xlsx-schedule', name: FORMATS['xlsx-schedule'].fileName },
  { format: 'csv-schedule', name: 'supply-schedule.csv' },
  { format: 'csv-segments', name: 'segments.csv' },
  { format: 'csv-findings', name: 'findings.csv' },
  { format: 'csv-unknowns', name: 'data-sheets.csv' },
  { format: 'csv-site-check', name: 'site-check.csv' },
  { format: 'markdown', name: 'bus-power.md' },
  { format: 'text', name: 'bus-power.txt' },
  { format: 'json', name: 'bus-power.json' },
];

/**
 * The page where an archive is sent. It is a plain form, which works without script; with script the files are sent
 * with progress, and what comes back is shown on the page.
 */
export function uploadPage({ language, words, limits, asksToken }: UploadPageFacts): string {
  const { upload, report } = words;
  const most = Object.fromEntries(Object.entries(AUDIT_FORM).map(([field, limit]) => [field, limits[limit]]));
  const content = html`<a class="skip" href="#audit">${upload.skip}</a>
<header>
<p class="languages">${otherLanguages(language, words)}</p>
<h1>${upload.title}</h1>
<p>${upload.intro}</p>
</header>
<main>
<form id="audit" action="/v1/audits?format=html&amp;lang=${language}" method="post" enctype="multipart/form-data" data-most="${JSON.stringify(most)}" data-texts="${scriptTexts(words)}" data-files="${JSON.stringify(FILES)}">
<fieldset class="plain">
<div class="drop">
<label for="archive">${upload.archive}</label>
<p id="archive-hint">${upload.drop} ${upload.most(limits.uploadBytes)}</p>
<input type="file" id="archive" name="archive" required aria-describedby="archive-hint archive-chosen">
<p id="archive-chosen" role="status"></p>
<p id="dropped" role="alert"></p>
</div>
<details>
<summary>${upload.beside}</summary>
<p>${upload.besideHint}</p>
${BESIDE.map((field) => besideField(field, words))}${builtInPolicies(words)}</details>
${asksToken && tokenField(words)}<p class="actions"><button type="submit">${upload.send}</button></p>
</fieldset>
<noscript><p>${asksToken ? upload.noScriptToken : upload.noScript}</p></noscript>
</form>
<section id="progress" aria-labelledby="progress-heading" hidden>
<h2 id="progress-heading">${upload.progress}</h2>
<p id="stage" role="status"></p>
<p class="bar"><progress id="share" max="100" value="0" aria-labelledby="progress-heading"></progress> <span id="percent"></span></p>
<p class="actions"><button type="button" id="stop">${upload.stop}</button></p>
</section>
<section id="outcome" aria-labelledby="outcome-heading" hidden>
<h2 id="outcome-heading" tabindex="-1"></h2>
<div id="outcome-body"></div>
</section>
</main>
<footer>
<p>${upload.kept}</p>
<p>${report.caution}</p>
</footer>`;
  return framed({ language, title: upload.title, hasScript: true, content });
}

/** The texts that the script puts on the page. */
function scriptTexts({ upload }: Words): string {
  const { fields, stages, chosen, ready, open, opensTab, save, others, files, making, made, problem, found } = upload;
  return JSON.stringify({
    fields,
    stages,
    chosen,
    ready,
    open,
    opensTab,
    save,
    others,
    files,
    making,
    made,
    problem,
    found,
  });
}

function otherLanguages(language: Language, { upload }: Words): Markup[] {
  return LANGUAGES.filter((one) => one !== language).map(
    (one) => html`<a href="/?lang=${one}" lang="${one}" hreflang="${one}">${upload.otherLanguage}</a>`,
  );
}

function besideField(field: Beside, { upload }: Words): Markup {
  return html`<p class="field"><label for="${field}">${upload.fields[field]}</label>
<input type="file" id="${field}" name="${field}" aria-describedby="${field}-hint">
<span id="${field}-hint" class="hint">${upload.hints[field]}</span></p>
`;
}

/** Without a name, as a form holds files alone; the script puts it into the address. */
function builtInPolicies({ upload }: Words): Markup {
  const options = BUILT_IN_NAMES.map((name) => html`<option value="${name}">${upload.builtInNames[name]}</option>`);
  return html`<p class="field scripted" hidden><label for="built-in">${upload.builtIn}</label>
<select id="built-in">${options}</select></p>
`;
}

function tokenField({ upload }: Words): Markup {
  return html`<p class="field scripted" hidden><label for="token">${upload.token}</label>
<input type="password" id="token" autocomplete="off" aria-describedby="token-hint">
<span id="token-hint" class="hint">${upload.tokenHint}</span></p>
`;
}
