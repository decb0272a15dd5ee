import { type Segment, segmentLabel } from '../../plant/plant.js';
import { sum, toMa } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { GREATEST_SUPPLY_V } from '../standard.js';
import { type Hypothesis, supposed } from './hypothesis.js';
import { exactly } from './range.js';
import { toTenth } from './tenth.js';

/** The load of another segment hangs on the supplies of this one, taken from them where they stand. */
export function carriesAnother(input: ExpectedInput, others: readonly Segment[]): Hypothesis[] {
  return outside(input, others).flatMap((other) => {
    const strangeUa = sum(other.loads.map(({ current }) => current.ua));
    if (strangeUa === 0) return [];
    const facts = { segment: segmentLabel(other), ma: toTenth(toMa(strangeUa)) };
    return [
      supposed('another segment on this supply', input, { strangeUa }, ({ diagnosis }) =>
        diagnosis.causes.carriesAnother(facts),
      ),
    ];
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
  const own = input.segment.supplies.length;
  const plain = supposed('fed from elsewhere', input, {}, ({ diagnosis }) => diagnosis.causes.fedFromElsewhere(own));
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
