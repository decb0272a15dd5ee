import { sum, toMa } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { fitted, type Hypothesis, supposed } from './hypothesis.js';
import type { Place } from './places.js';
import { limitsMa } from './shares.js';
import { milliamps } from './words.js';

/** Looked for up to here where no limit of the supplies is known, mA (the greatest short-circuit current, volume 9/2). */
const MOST_MA = 3000;

/** Something draws more than planned, at each of the places. */
export function drawsMore(input: ExpectedInput, places: readonly Place[]): Hypothesis[] {
  const limit = sum(limitsMa(input));
  const most = Number.isFinite(limit) ? limit : MOST_MA;
  return places.map(({ point, where, ua }) =>
    fitted('device draws more', input, {
      span: { from: 0, to: most, by: 'steps' },
      change: (ma) => ({ extra: { point, ua: ma * 1000 } }),
      text: (ma) =>
        `What hangs ${where} draws ${milliamps(toMa(ua) + ma)}, ${milliamps(ma)} more than the planned ${milliamps(toMa(ua))}.`,
    }),
  );
}

/** Something that is planned is not connected: all at one of the places, or a share of everything. */
export function notConnected(input: ExpectedInput, places: readonly Place[]): Hypothesis[] {
  const whole = toMa(sum(input.segment.loads.map(({ current }) => current.ua)));
  if (whole === 0) return [];
  const atPoint = places.flatMap(({ point, where, ua }) => {
    const text = `What hangs ${where} is not connected: ${milliamps(toMa(ua))} less than planned.`;
    return point === null || ua === 0 ? [] : [supposed('devices not connected', input, { offPoint: point }, text)];
  });
  const share = fitted('devices not connected', input, {
    span: { from: 0, to: 1, by: 'steps' },
    change: (missing) => ({ share: 1 - missing }),
    text: (missing) =>
      `Devices all over the segment are not connected: ${milliamps(whole * missing)} of ${milliamps(whole)} are missing.`,
  });
  return [...atPoint, share];
}
