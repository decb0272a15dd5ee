import { deviceLabel } from '../../plant/plant.js';
import type { ExpectedInput } from '../expected.js';

/** What a meter, or a look at the devices, tells of a segment. Currents in mA, voltages in V. */
export type Target =
  | { readonly kind: 'current'; readonly supply: string }
  | { readonly kind: 'voltage'; readonly point: number }
  /** Lowest voltage on the segment, which is at its far end. */
  | { readonly kind: 'lowest' }
  /** Highest voltage on the segment. */
  | { readonly kind: 'highest' }
  /** How far above its limit the supply is that is nearest to it, mA; below 0 under it. */
  | { readonly kind: 'beyond limit' };

export function unitOf({ kind }: Target): 'mA' | 'V' {
  return kind === 'current' || kind === 'beyond limit' ? 'mA' : 'V';
}

/** `current at 1.1.0 Supply`, `voltage at hall`. */
export function nameOf(target: Target, { group: { supplies }, entry: { layout } }: ExpectedInput): string {
  switch (target.kind) {
    case 'current': {
      const supply = supplies.find(({ device }) => device.id === target.supply);
      return `current at ${supply ? deviceLabel(supply.device) : target.supply}`;
    }
    case 'voltage':
      return `voltage at ${layout?.points[target.point] ?? target.point}`;
    case 'lowest':
      return 'voltage at the far end';
    case 'highest':
      return 'greatest voltage';
    case 'beyond limit':
      return 'current beyond the limit';
  }
}
