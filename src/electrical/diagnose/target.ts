import { deviceLabel } from '../../plant/plant.js';
import type { Words } from '../../words/words.js';
import type { ExpectedInput } from '../expected.js';

/** What is held against what was measured, and the texts to tell it with. */
export interface ToldInput extends ExpectedInput {
  readonly words: Words;
}

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
export function nameOf(target: Target, { group: { supplies }, entry: { layout }, words }: ToldInput): string {
  const { facts, diagnosis } = words;
  switch (target.kind) {
    case 'current': {
      const supply = supplies.find(({ device }) => device.id === target.supply);
      return diagnosis.measurements.current(supply ? deviceLabel(supply.device) : target.supply);
    }
    case 'voltage':
      return facts.voltageAt(layout?.points[target.point] ?? String(target.point));
    case 'lowest':
      return facts.voltageAt(facts.farEnd);
    case 'highest':
      return diagnosis.measurements.greatestVoltage;
    case 'beyond limit':
      return diagnosis.measurements.beyondLimit;
  }
}
