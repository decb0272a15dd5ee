import { acceptDrops } from './drop.js';
import { exchange, type Outcome, type Sending } from './exchange.js';
import { element, OutcomeView } from './outcome.js';
import { fileButtons, type SavedFile } from './saving.js';
import { type Found, filled, inALine, sizeText, type Texts } from './words.js';

const form = element<HTMLFormElement>('audit');
const archive = element<HTMLInputElement>('archive');
const policy = element<HTMLInputElement>('policy');
const builtIn = element<HTMLSelectElement>('built-in');
const token = document.getElementById('token') as HTMLInputElement | null;
const progress = element('progress');
const stop = element<HTMLButtonElement>('stop');
const language = document.documentElement.lang;
const texts = JSON.parse(form.dataset.texts ?? '{}') as Texts;
const files = JSON.parse(form.dataset.files ?? '[]') as SavedFile[];
const outcome = new OutcomeView(texts);

for (const one of document.querySelectorAll<HTMLElement>('.scripted')) one.hidden = false;

const chosenText = element('archive-chosen');
archive.addEventListener('change', () => {
  const [file] = archive.files ?? [];
  chosenText.textContent =
    file === undefined ? '' : filled(texts.chosen, { name: file.name, size: sizeText(file.size, language) });
});

// What a slip of the hand drops leaves the report there that there may be.
acceptDrops(archive, (isTaken) => {
  element('dropped').textContent = isTaken ? '' : inALine(texts.found.several);
});

// A file goes before the policies that are built in.
policy.addEventListener('change', () => {
  builtIn.disabled = policy.files?.length === 1;
});

// The browser's own words for a field that is empty would be in its language, not in that of the page.
form.noValidate = true;
form.addEventListener('submit', async (event) => {
  event.preventDefault();
  outcome.clear();
  const chosen = chosenFiles();
  const sending = sendings(chosen);
  setBusy(true);
  const found = await faultOf(chosen);
  if (found === null) await audit(sending);
  else {
    setBusy(false);
    showFound(found);
  }
});

/** The files by field; a browser has an empty one where nothing is chosen. */
function chosenFiles(): ReadonlyMap<string, File> {
  const all = [...new FormData(form)].filter((entry): entry is [string, File] => entry[1] instanceof File);
  return new Map(all.filter(([, { name }]) => name !== ''));
}

/** What of the chosen files can be told to be wrong before they are sent. */
async function faultOf(chosen: ReadonlyMap<string, File>): Promise<Found | null> {
  const file = chosen.get('archive');
  if (file === undefined) return 'nothing';
  const most = JSON.parse(form.dataset.most ?? '{}') as Record<string, number>;
  if ([...chosen].some(([field, { size }]) => size > (most[field] ?? Number.POSITIVE_INFINITY))) return 'tooLarge';
  try {
    for (const one of chosen.values()) await one.slice(0, 1).arrayBuffer();
  } catch {
    return 'unreadable';
  }
  return file.size === 0 ? 'empty' : null;
}

/** Sends what is chosen, and shows how far it is and how it ends. */
async function audit(sending: (format: string) => Sending): Promise<void> {
  const { outcome: ended, stop: end } = exchange(sending('html'), showProgress);
  stop.onclick = end;
  stop.focus();
  const result = await ended;
  setBusy(false);
  show(result, sending);
}

/** What is chosen now, as requests for one format or another. */
function sendings(chosen: ReadonlyMap<string, File>): (format: string) => Sending {
  const sent = new FormData();
  for (const [name, value] of chosen) sent.append(name, value);
  const file = chosen.get('archive');
  const asked = new URLSearchParams({ lang: language });
  if (!builtIn.disabled) asked.set('policy', builtIn.value);
  if (file !== undefined && isPlainName(file.name)) asked.set('archiveName', file.name);
  const given = token?.value.trim() ?? '';
  const headers: Record<string, string> = given === '' ? {} : { authorization: `Bearer ${given}` };
  return (format) => {
    const address = new URL(form.action);
    address.search = `${new URLSearchParams({ ...Object.fromEntries(asked), format })}`;
    return { address: address.href, form: sent, headers };
  };
}

/** Whether the service takes it as the name of the archive. */
function isPlainName(name: string): boolean {
  return name.length <= 500 && !/[\p{C}\p{Zl}\p{Zp}]/u.test(name);
}

function setBusy(isBusy: boolean): void {
  for (const fieldset of form.querySelectorAll('fieldset')) fieldset.disabled = isBusy;
  progress.hidden = !isBusy;
  if (isBusy) showProgress('uploading', 0);
}

/** A reader of the screen is told of the stage alone: the share would be told all the time. */
function showProgress(stage: string, share: number): void {
  const text = texts.stages[stage] ?? stage;
  const told = element('stage');
  if (told.textContent !== text) told.textContent = text;
  element<HTMLProgressElement>('share').value = share * 100;
  element('percent').textContent = `${Math.floor(share * 100)} %`;
}

function show(result: Outcome, sending: (format: string) => Sending): void {
  const more = () => fileButtons(files, texts, sending);
  outcome.show(result, 'bus-power.html', more);
}

function showFound(found: Found): void {
  outcome.show({ is: 'found', found }, '', () => document.createDocumentFragment());
}
