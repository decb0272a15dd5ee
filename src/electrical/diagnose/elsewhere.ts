import { type Segment, segmentLabel } from '../../plant/plant.js';
import { sum, toMa } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { GREATEST_SUPPLY_V } from '../standard.js';
import { type Hypothesis, supposed } from './hypothesis.js';
import { exactly } from './range.js';
import { milliamps } from './words.js';

/** The load of another segment hangs on the supplies of this one, taken from them where they stand. */
export function carriesAnother(input: ExpectedInput, others: readonly Segment[]): Hypothesis[] {
  return outside(input, others).flatMap((other) => {
    const strangeUa = sum(other.loads.map(({ current }) => current.ua));
    if (strangeUa === 0) return [];
    const text = `The load of ${segmentLabel(other)}, ${milliamps(toMa(strangeUa))}, hangs on the supply of this segment as well.`;
    return [supposed('another segment on this supply', input, { strangeUa }, text)];
  });
}

/**
 * Something else feeds the segment, so that its own supplies give nothing and there is voltage all the same: how much,
 * nobody knows, as it is not known where it comes in.
 */
export function fedFromElsewhere(input: ExpectedInput, others: readonly Segment[]): Hypothesis[] {
  const feeders = outside(input, others).filter(({ supplies }) => supplies.length > 0);
  if (feeders.length === 0) return [];
  const { hardDeviceV } = input.policy;
  const text = `A supply of another segment feeds this one; its own ${input.segment.supplies.length === 1 ? 'gives' : 'give'} nothing.`;
  const plain = supposed('fed from elsewhere', input, {}, text);
  return [
    {
      ...plain,
      work: () => (target) => {
        if (target.kind === 'beyond limit') return null;
        return target.kind === 'current' ? exactly(0) : { low: hardDeviceV, high: GREATEST_SUPPLY_V };
      },
    },
  ];
}

function outside({ group }: ExpectedInput, others: readonly Segment[]): Segment[] {
  const own = new Set(group.segments.map(({ id }) => id));
  return others.filter(({ id }) => !own.has(id));
}
