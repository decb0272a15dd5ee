/**
 * Lets a file be dropped anywhere on the page, into the field of the archive.
 * @param onChosen told of the file, be it dropped or chosen
 * @param onSeveral told when it was not one file
 */
export function acceptDrops(field: HTMLInputElement, onChosen: (file: File) => void, onSeveral: () => void): void {
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
    if (event.dataTransfer === null || field.matches(':disabled')) return;
    if (!isOneFile(event.dataTransfer)) {
      onSeveral();
      return;
    }
    field.files = event.dataTransfer.files;
    field.dispatchEvent(new Event('change', { bubbles: true }));
  });
  field.addEventListener('change', () => {
    const [file] = field.files ?? [];
    if (file !== undefined) onChosen(file);
  });
}

function isOneFile({ files, items }: DataTransfer): boolean {
  const [item] = items;
  return files.length === 1 && item?.webkitGetAsEntry()?.isDirectory !== true;
}
