import { type Content, html, NOTHING } from './markup.js';
import type { Page } from './model.js';

/**
 * A sentence that the report has in English only, told as such to whoever reads the page aloud (WCAG 2.2, 3.1.2). This
 * is for what fits measured values, until the diagnosis speaks both languages; then it goes, and so does what leaves it
 * out in `test/words/german-page.test.ts`.
 */
export function inEnglish(text: string | null, { words }: Page): Content {
  if (text === null) return NOTHING;
  return words.language === 'en' ? text : html`<span lang="en">${text}</span>`;
}
