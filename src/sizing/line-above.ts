import { firstSegment } from '../plant/couplers.js';
import { IP } from '../plant/medium.js';
import type { Installation, Segment } from '../plant/plant.js';
import type { SizingWords } from './sized.js';

/** The line that a new line of an area hangs on: a segment of twisted pair, a network, or one that is yet to be made. */
export type Above =
  | { readonly kind: 'present'; readonly line: string; readonly segment: Segment }
  | { readonly kind: 'IP'; readonly line: string }
  | { readonly kind: 'new'; readonly line: string };

/** What new lines of an area would hang on, or why there can be none. */
export function aboveNewLines(
  area: number,
  { lines }: Installation,
  { sizing }: SizingWords,
): Above | { readonly because: string } {
  const address = `${area}.0`;
  const line = lines.find((one) => one.address === address && one.segments.length > 0);
  const segment = line && firstSegment(line);
  if (segment !== undefined) {
    if (segment.medium.id === IP) return { kind: 'IP', line: address };
    if (!segment.medium.needsPower) {
      return { because: sizing.unsplit.aboveOfOtherMedium({ line: address, medium: segment.medium.name }) };
    }
    return { kind: 'present', line: address, segment };
  }
  const areas = new Set(lines.filter(({ segments }) => segments.length > 0).map(({ areaAddress }) => areaAddress));
  if (areas.size <= 1) return { kind: 'new', line: address };
  return { because: sizing.unsplit.noLineAbove(address) };
}
