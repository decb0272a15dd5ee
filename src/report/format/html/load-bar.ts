import type { Markup } from './markup.js';
import { PART_HATCH, PARTS, type Part } from './palette.js';
import { type Box, filled } from './svg.js';

/**
 * A load as one bar, what it is made up of one after the other.
 * @param parts mA
 * @param x from mA to px
 */
export function loadBar(
  parts: Readonly<Partial<Record<Part, number>>>,
  x: (ma: number) => number,
  across: Pick<Box, 'y' | 'height'>,
): Markup[] {
  const boxes: Markup[] = [];
  let from = 0;
  for (const part of PARTS) {
    const to = from + (parts[part] ?? 0);
    if (to > from) boxes.push(filled({ x: x(from), width: x(to) - x(from), ...across }, `p-${part}`, PART_HATCH[part]));
    from = to;
  }
  return boxes;
}
