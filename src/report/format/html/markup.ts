import { printable } from '../layout.js';

/** HTML that is written as it is. Only {@link html} and {@link ownText} make it, so nothing from outside gets in unescaped. */
export class Markup {
  constructor(readonly text: string) {}
}

/** What may stand in a template: a text is escaped, markup is not, nothing stands for what there is not. */
export type Content = Markup | string | number | null | undefined | false | readonly Content[];

/** The only empty one, for what there is nothing of. */
export const NOTHING = new Markup('');

/** HTML from a template: each value is escaped unless it is markup itself. Attributes have to stand in double quotes. */
export function html(strings: TemplateStringsArray, ...values: readonly Content[]): Markup {
  let text = strings[0] ?? '';
  values.forEach((value, at) => {
    text += written(value) + (strings[at + 1] ?? '');
  });
  return new Markup(text);
}

/** Style and script, which are files of this folder and hold nothing of a report. */
export function ownText(text: string): Markup {
  return new Markup(text);
}

function written(value: Content): string {
  if (value instanceof Markup) return value.text;
  if (typeof value === 'string') return escaped(value);
  if (typeof value === 'number') return String(value);
  if (Array.isArray(value)) return value.map(written).join('');
  return '';
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** A text in content or in a quoted attribute; what moves the cursor or turns the direction becomes a blank. */
function escaped(text: string): string {
  return printable(text).replace(/[&<>"']/g, (mark) => ESCAPES[mark] ?? mark);
}
