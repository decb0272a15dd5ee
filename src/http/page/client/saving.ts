import { problemIn, type Sending } from './exchange.js';
import { filled, inALine, type Texts } from './words.js';

/** A file that the service makes of the same archive. */
export interface SavedFile {
  readonly format: string;
  readonly name: string;
}

/**
 * Buttons that have the same files audited again for another form of the answer: the service keeps nothing that it could
 * be made from.
 * @param sending what the format is asked for with
 */
export function fileButtons(files: readonly SavedFile[], texts: Texts, sending: (format: string) => Sending): Node {
  const heading = document.createElement('h3');
  heading.append(texts.others);
  const status = document.createElement('p');
  status.setAttribute('role', 'status');
  const list = document.createElement('ul');
  list.className = 'files';
  for (const file of files) {
    const label = texts.files[file.format] ?? file.name;
    const button = document.createElement('button');
    button.type = 'button';
    button.append(label);
    button.addEventListener('click', async () => {
      button.disabled = true;
      status.textContent = filled(texts.making, { file: label });
      const wrong = await saved(sending(file.format), file.name, texts);
      status.textContent = wrong ?? filled(texts.made, { file: file.name });
      button.disabled = false;
      button.focus();
    });
    const item = document.createElement('li');
    item.append(button);
    list.append(item);
  }
  const all = document.createDocumentFragment();
  all.append(heading, list, status);
  return all;
}

/** What is wrong and what to do; null where the file was made. */
async function saved({ address, form, headers }: Sending, name: string, texts: Texts): Promise<string | null> {
  try {
    const response = await fetch(address, { method: 'POST', body: form, headers });
    if (!response.ok) return inALine(problemIn(await response.text()) ?? texts.found.unreachable);
    download(await response.blob(), name);
    return null;
  } catch {
    return inALine(texts.found.unreachable);
  }
}

function download(blob: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // a browser may take its time to read it
}
