import type { Medium } from './plant.js';

const TWISTED_PAIR = 'MT-0';

/** The network as a medium, by the id of the standard's master data. */
export const IP = 'MT-5';

/** The media of the standard: whether the bus carries the power of its devices. */
const MEDIA: ReadonlyMap<string, { readonly name: string; readonly needsPower: boolean }> = new Map([
  [TWISTED_PAIR, { name: 'twisted pair', needsPower: true }],
  ['MT-1', { name: 'powerline', needsPower: false }],
  ['MT-2', { name: 'radio', needsPower: false }],
  [IP, { name: 'IP', needsPower: false }],
]);

/** The medium of a segment: its own, else its line's, else twisted pair. One that nobody knows is judged as that too. */
export function mediumOf(
  segment: string | undefined,
  line: string | undefined,
  names: ReadonlyMap<string, string>,
): Medium {
  const id = segment ?? line ?? TWISTED_PAIR;
  const from = segment !== undefined ? 'segment' : line !== undefined ? 'line' : 'nobody';
  const known = MEDIA.get(id);
  return {
    id,
    name: known?.name ?? names.get(id) ?? id,
    from,
    needsPower: known?.needsPower ?? true,
    isKnown: known !== undefined,
  };
}
