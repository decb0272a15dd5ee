/** An element of a document, to be rearranged; its text is of no interest to the audit and is dropped. */
export interface Element {
  name: string;
  readonly attributes: [name: string, raw: string][];
  readonly children: Element[];
}

const TAG = /<([A-Za-z]\w*)((?:\s+[\w:]+="[^"]*")*)\s*(\/?)>|<\/[A-Za-z]\w*>/g;
const ATTRIBUTE = /([\w:]+)="([^"]*)"/g;

/** The root of a document that is written as plainly as ours are. */
export function parsed(document: string): Element {
  const top: Element = { name: '', attributes: [], children: [] };
  const open = [top];
  for (const [, name, attributes = '', isEmpty] of document.matchAll(TAG)) {
    if (name === undefined) {
      open.pop();
      continue;
    }
    const pairs = [...attributes.matchAll(ATTRIBUTE)].map(([, key = '', raw = '']): [string, string] => [key, raw]);
    const element: Element = { name, attributes: pairs, children: [] };
    open.at(-1)?.children.push(element);
    if (isEmpty !== '/') open.push(element);
  }
  const [root] = top.children;
  if (root === undefined || open.length !== 1) throw new Error('the document is not as plain as it should be');
  return root;
}

export function written({ name, attributes, children }: Element): string {
  const pairs = attributes.map(([key, raw]) => ` ${key}="${raw}"`).join('');
  return `<${name}${pairs}>${children.map(written).join('')}</${name}>`;
}

/** An element where it stands. */
export interface Place {
  readonly parent: Element;
  readonly element: Element;
  /** The names from the root to the parent. */
  readonly path: string;
}

/** The places of the elements below one, in document order. */
export function below(parent: Element, path = parent.name): Place[] {
  return parent.children.flatMap((element) => [
    { parent, element, path },
    ...below(element, `${path}/${element.name}`),
  ]);
}
