import { html, type Markup } from '../../report/format/html/markup.js';
import type { Language } from '../../words/language.js';

/** What a page of the service's own is, around what it says. */
export interface Frame {
  readonly language: Language;
  readonly title: string;
  readonly hasScript: boolean;
  readonly content: Markup;
}

/** A page of the service's own: style and script come from the service and stand in no page. */
export function framed({ language, title, hasScript, content }: Frame): string {
  return html`<!DOCTYPE html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<link rel="icon" href="/page/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/page/page.css">
${hasScript && html`<script type="module" src="/page/main.js"></script>`}
</head>
<body>
${content}
</body>
</html>
`.text;
}
