import { UNPRINTABLE } from '../../errors.js';
import { greatest } from '../../units.js';

/** Plain text: columns and wrapped paragraphs. */

const WIDTH = 110;

/** A text from outside on one line, with nothing in it that moves the cursor or turns the direction. */
export function printable(text: string): string {
  return text.replace(UNPRINTABLE, ' ');
}

export type Alignment = 'left' | 'right';

/** Rows in columns two blanks apart; the last column is not padded. */
export function table(cells: readonly (readonly string[])[], alignments: readonly Alignment[]): string {
  const rows = cells.map((row) => row.map(printable));
  const widths = alignments.map((_, column) => greatest(rows.map((row) => [...(row[column] ?? '')].length)));
  return rows
    .map((row) =>
      row
        .map((cell, column) => pad(cell, widths[column] ?? 0, alignments[column]))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

function pad(cell: string, width: number, alignment: Alignment = 'left'): string {
  const blanks = ' '.repeat(Math.max(0, width - [...cell].length));
  return alignment === 'left' ? cell + blanks : blanks + cell;
}

/** A paragraph, wrapped; further lines are indented. */
export function wrap(text: string, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of printable(text).split(/\s+/)) {
    if (line !== '' && indent.length + line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].map((one, index) => (index === 0 ? one : indent + one)).join('\n');
}

/** A paragraph behind a mark, its further lines indented under its first word. */
export function bullet(mark: string, text: string): string {
  return `${mark} ${wrap(text, ' '.repeat(mark.length + 1))}`;
}
