import { printable } from './layout.js';

/** Stands between two characters and is not seen; `printable` has taken any other out of the text before. */
const INVISIBLE = '\u200B';

/**
 * What forges make links of after the Markdown is read, so that no backslash prevents it: mentions, references to
 * issues, merge requests, labels and milestones, addresses of pages and of mail, names of pictures (from memory, not
 * confirmed). A reference by a commit's digits is left, as it would cost order numbers that can be copied.
 */
const REFERENCE = /@(?=\S)|[#!%~&$](?=[\p{L}\p{N}_"])|:(?=\/\/|[\w+-]+:)|\bGH-(?=\d)|www(?=\.)/giu;

/** The characters that mean something within a paragraph (CommonMark 0.31.2, 6; GitHub Flavored Markdown, 6). */
const MARKUP = /[\\`*_[\]<>~&$]/g;

/**
 * A text as Markdown that shows just that text: on one line, no markup, HTML or link, no break of a table. It is safe
 * within a paragraph or a cell, not at the start of a line.
 */
export function markdownText(text: string): string {
  return printable(text).replace(REFERENCE, `$&${INVISIBLE}`).replace(MARKUP, '\\$&').replaceAll('|', '&#124;'); // readers of tables differ in what a backslash before it means
}

/** A text cut to a length in characters, with a mark that it is. */
export function clipped(text: string, most: number): string {
  const characters = [...text];
  return characters.length <= most ? text : `${characters.slice(0, most - 1).join('')}…`;
}
