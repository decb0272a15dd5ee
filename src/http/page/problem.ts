import { html } from '../../report/format/html/markup.js';
import { upload as german } from '../../words/de/upload.js';
import { upload as english } from '../../words/en/upload.js';
import type { Language } from '../../words/language.js';
import type { ProblemDocument } from '../problems.js';
import { framed } from './frame.js';

/** Both languages at once, as no answer to a problem may wait for a file. */
const TEXTS = { en: english, de: german } as const satisfies Readonly<Record<Language, typeof english>>;

/** What a browser lets the page do. */
export const PROBLEM_PAGE_POLICY =
  "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

/** A problem as a page, for a browser whose form was sent without script, or whose address leads nowhere. */
export function problemPage(problem: ProblemDocument, requestId: string, language: Language): string {
  const { type, title, detail, remedy, part, line } = problem;
  const upload = TEXTS[language];
  const { where, partAndLine, what, remedy: toDo, code, request, back } = upload.problem;
  const place =
    line === undefined ? part : partAndLine.replace('{line}', String(line)).replace('{part}', () => part ?? '');
  const content = html`<main class="problem">
<h1>${title}</h1>
<dl>
<dt>${toDo}</dt><dd>${remedy}</dd>
<dt>${what}</dt><dd lang="en">${detail}</dd>
${part !== undefined && html`<dt>${where}</dt><dd>${place}</dd>`}
<dt>${code}</dt><dd><code>${type}</code></dd>
<dt>${request}</dt><dd><code>${requestId}</code></dd>
</dl>
<p><a href="/?lang=${language}">${back}</a></p>
</main>`;
  return framed({ language, title, hasScript: false, content });
}
