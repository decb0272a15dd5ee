import type { Markup } from './markup.js';
import { type Anchor, type Box, label } from './svg.js';

/** A text in a drawing, where it is to stand: its anchor on the base line. */
export interface Label {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly anchor: Anchor;
}

/**
 * About the widest that a sans-serif type of 12 px draws a letter, in px, as no program here measures type; from memory,
 * not confirmed: small letters and digits, capitals and signs, and what fills a whole square.
 */
const LETTER_WIDTH = { small: 7, large: 10, square: 13 };
const LARGE = /[\p{Lu}mw%@&…]/u;
const FIRST_SQUARE = 0x1100;

const ASCENT = 11;
const HEIGHT = 14;
/** Left between two texts of a row, px. */
const GAP = 2;

export function drawn({ x, y, text, anchor }: Label): Markup {
  return label(x, y, text, anchor);
}

/** How wide a text is at most, px. */
export function textWidth(text: string): number {
  return [...text].reduce((width, letter) => width + letterWidth(letter), 0);
}

function letterWidth(letter: string): number {
  if (LARGE.test(letter)) return LETTER_WIDTH.large;
  return (letter.codePointAt(0) ?? 0) < FIRST_SQUARE ? LETTER_WIDTH.small : LETTER_WIDTH.square;
}

/**
 * The labels that can be read: each that lies over none before it.
 * @param labels the weightiest first
 * @param taken what is drawn in any case
 */
export function readable(labels: readonly Label[], taken: readonly Label[] = []): Label[] {
  const boxes = taken.map(boxOf);
  return labels.filter((one) => {
    const own = boxOf(one);
    if (boxes.some((other) => overlap(own, other))) return false;
    boxes.push(own);
    return true;
  });
}

function boxOf({ x, y, text, anchor }: Label): Box {
  const width = textWidth(text) + GAP;
  const before = { start: 0, middle: width / 2, end: width }[anchor];
  return { x: x - before, y: y - ASCENT, width, height: HEIGHT };
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}
