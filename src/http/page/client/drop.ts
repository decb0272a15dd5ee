/** What a drop was: a file that its field has taken, or something that no field takes. */
export type OnDrop = (isTaken: boolean) => void;

/**
 * Lets a file be dropped anywhere on the page: on a field of a file into that, else into the field of the archive.
 * @param onDrop told of every drop while the form can be filled in
 */
export function acceptDrops(archive: HTMLInputElement, onDrop: OnDrop): void {
  let inside = 0;
  const mark = (steps: number) => {
    inside = Math.max(0, inside + steps);
    document.body.classList.toggle('dropping', inside > 0);
  };
  addEventListener('dragenter', () => mark(1));
  addEventListener('dragleave', () => mark(-1));
  // Without it the browser would leave the page for the file.
  addEventListener('dragover', (event) => event.preventDefault());
  addEventListener('drop', (event) => {
    event.preventDefault();
    mark(-inside);
    const field = fieldAt(event.target) ?? archive;
    if (event.dataTransfer === null || field.matches(':disabled')) return;
    const isTaken = isOneFile(event.dataTransfer);
    if (isTaken) {
      field.files = event.dataTransfer.files;
      field.dispatchEvent(new Event('change', { bubbles: true }));
    }
    onDrop(isTaken);
  });
}

/** The field of a file that something was dropped on, or beside which in its paragraph. */
function fieldAt(target: EventTarget | null): HTMLInputElement | null {
  const place = target instanceof Element ? target.closest('.field') : null;
  return place?.querySelector<HTMLInputElement>('input[type="file"]') ?? null;
}

function isOneFile({ files, items }: DataTransfer): boolean {
  const [item] = items;
  return files.length === 1 && item?.webkitGetAsEntry()?.isDirectory !== true;
}
