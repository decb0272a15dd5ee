import type { Outcome, Problem } from './exchange.js';
import { filled, type Texts } from './words.js';

/** Where an outcome is shown. Everything that comes from outside is put in as text. */
export class OutcomeView {
  readonly #section = element('outcome');
  readonly #heading = element('outcome-heading');
  readonly #body = element('outcome-body');
  readonly #texts: Texts;

  constructor(texts: Texts) {
    this.#texts = texts;
  }

  clear(): void {
    this.#section.hidden = true;
    this.#body.replaceChildren();
  }

  /**
   * Shows how an audit ended, and takes the reader there.
   * @param fileName what the report is saved as
   * @param more what follows a report
   */
  show(outcome: Outcome, fileName: string, more: () => Node): void {
    this.clear();
    this.#section.className = outcome.is === 'report' ? 'done' : 'problem';
    if (outcome.is === 'report') {
      this.#heading.textContent = this.#texts.ready;
      this.#body.append(paragraph(outcome.report.summary, 'verdict-sentence'), this.#links(outcome.report, fileName));
      this.#body.append(more());
    } else if (outcome.is === 'problem') {
      this.#heading.textContent = outcome.problem.title;
      this.#body.append(this.#problem(outcome.problem, outcome.requestId));
    } else {
      const { title, remedy } = this.#texts.found[outcome.found];
      this.#heading.textContent = title;
      this.#body.append(paragraph(remedy));
    }
    this.#section.hidden = false;
    this.#heading.focus();
  }

  #links({ body, mediaType }: { readonly body: string; readonly mediaType: string }, fileName: string): Node {
    // Never revoked: a report that is open in another tab can be loaded again as long as this page is there.
    const address = URL.createObjectURL(new Blob([body], { type: mediaType }));
    const open = document.createElement('a');
    open.href = address;
    open.target = '_blank';
    open.className = 'button';
    open.append(`${this.#texts.open} ${this.#texts.opensTab}`);
    const save = document.createElement('a');
    save.href = address;
    save.download = fileName;
    save.className = 'button';
    save.append(this.#texts.save);
    const links = paragraph('', 'actions');
    links.append(open, ' ', save);
    return links;
  }

  #problem({ type, detail, remedy, part, line }: Problem, requestId: string | null): Node {
    const { problem: words } = this.#texts;
    const named = this.#texts.fields[part ?? ''] ?? part ?? '';
    const place = line === undefined ? named : filled(words.partAndLine, { part: named, line });
    const found = definition(words.what, detail);
    found[1].lang = 'en';
    const list = document.createElement('dl');
    list.append(
      ...definition(words.remedy, remedy),
      ...found,
      ...(part === undefined ? [] : definition(words.where, place)),
      ...definition(words.code, type),
      ...(requestId === null ? [] : definition(words.request, requestId)),
    );
    return list;
  }
}

/** An element that the page has. */
export function element<E extends HTMLElement = HTMLElement>(id: string): E {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page has no element ${id}`);
  return found as E;
}

function paragraph(text: string, className = ''): HTMLParagraphElement {
  const made = document.createElement('p');
  made.className = className;
  made.append(text);
  return made;
}

function definition(term: string, text: string): [HTMLElement, HTMLElement] {
  const name = document.createElement('dt');
  const told = document.createElement('dd');
  name.append(term);
  told.append(text);
  return [name, told];
}
