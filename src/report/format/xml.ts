/** Writing XML 1.0: elements with everything in them escaped. */

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  /** Elements, or a text; nothing makes an empty element. */
  readonly content?: readonly Element[] | string;
}

/** A whole document, indented by two blanks. */
export function xmlDocument(root: Element): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${written(root, '')}`;
}

function written({ name, attributes, content = [] }: Element, indent: string): string {
  const pairs = Object.entries(attributes).map(([key, value]) => ` ${key}="${attributeText(String(value))}"`);
  const start = `${indent}<${name}${pairs.join('')}`;
  if (content.length === 0) return `${start}/>\n`;
  if (typeof content === 'string') return `${start}>${escaped(content)}</${name}>\n`;
  const inner = content.map((element) => written(element, `${indent}  `)).join('');
  return `${start}>\n${inner}${indent}</${name}>\n`;
}

/** What is not in the production Char of XML 1.0, section 2.2; it cannot be written by reference either. */
const FORBIDDEN = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;

const REFERENCES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

/** A carriage return is written by reference, as a reader takes a literal one for the end of a line (section 2.11). */
function escaped(text: string): string {
  return text.replace(FORBIDDEN, '\uFFFD').replace(/[&<>"'\r]/g, (character) => REFERENCES[character] as string);
}

/** In attributes a reader takes literal tabs and ends of lines for blanks as well (section 3.3.3). */
function attributeText(text: string): string {
  return escaped(text).replace(/[\t\n]/g, (character) => REFERENCES[character] as string);
}
