import { sum, toMa } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { fitted, type Hypothesis, supposed } from './hypothesis.js';
import type { Place } from './places.js';
import { limitsMa } from './shares.js';
import { toTenth } from './tenth.js';

/** Looked for up to here where no limit of the supplies is known, mA (the greatest short-circuit current, volume 9/2). */
const MOST_MA = 3000;

/** Something draws more than planned, at each of the places. */
export function drawsMore(input: ExpectedInput, places: readonly Place[]): Hypothesis[] {
  const limit = sum(limitsMa(input));
  const most = Number.isFinite(limit) ? limit : MOST_MA;
  return places.map(({ point, name, ua }) =>
    fitted('device draws more', input, {
      span: { from: 0, to: most, by: 'steps' },
      change: (ma) => ({ extra: { point, ua: ma * 1000 } }),
      text: (more) => {
        const facts = { ma: toTenth(toMa(ua) + more), moreMa: toTenth(more), plannedMa: toTenth(toMa(ua)) };
        return ({ diagnosis }) => diagnosis.causes.drawsMore({ place: name, ...facts });
      },
    }),
  );
}

/** Something that is planned is not connected: all at one of the places, or a share of everything. */
export function notConnected(input: ExpectedInput, places: readonly Place[]): Hypothesis[] {
  const whole = toMa(sum(input.segment.loads.map(({ current }) => current.ua)));
  if (whole === 0) return [];
  const atPoint = places.flatMap(({ point, name, ua }) => {
    if (point === null || ua === 0) return [];
    const facts = { place: name, ma: toTenth(toMa(ua)) };
    return [
      supposed('devices not connected', input, { offPoint: point }, ({ diagnosis }) =>
        diagnosis.causes.notConnected(facts),
      ),
    ];
  });
  const share = fitted('devices not connected', input, {
    span: { from: 0, to: 1, by: 'steps' },
    change: (missing) => ({ share: 1 - missing }),
    text: (missing) => {
      const facts = { missingMa: toTenth(whole * missing), wholeMa: toTenth(whole) };
      return ({ diagnosis }) => diagnosis.causes.notConnectedAllOver(facts);
    },
  });
  return [...atPoint, share];
}
