import type { Segment } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { SegmentSite, Site } from '../site/site.js';
import type { Words } from '../words/words.js';
import { type CableFigures, cableFiguresOf } from './cable.js';
import { isDecentral } from './capacity.js';
import { type Diagnosis, diagnose } from './diagnose/diagnose.js';
import { type Expected, expectedOn } from './expected.js';
import type { FeedGroup } from './feed-group.js';
import { type HoldUpFigures, holdUpOf } from './hold-up.js';
import { withPlanned } from './voltage/planned.js';
import { type Voltages, voltagesOf } from './voltage/voltage.js';

/** What the site sheet allows to say of a segment beyond its balance. */
export interface OnSite {
  readonly entry: SegmentSite;
  readonly cable: CableFigures;
  /** Null where nothing is known of the cable or of the feed. */
  readonly voltages: Voltages | null;
  /** The same with what the sheet plans; null where it plans nothing. */
  readonly plannedVoltages: Voltages | null;
  /** Null where no hold-up is wanted. */
  readonly holdUp: HoldUpFigures | null;
  /** What a meter should show; null where nothing feeds the segment or hangs on it. */
  readonly expected: Expected | null;
  /** What fits the measured values; null where nothing was measured or seen. */
  readonly diagnosis: Diagnosis | null;
}

/** What is around a segment. */
export interface Surroundings {
  readonly group: FeedGroup;
  readonly site: Site;
  readonly policy: Policy;
  /** Load of all that the supplies of the segment carry, µA: a battery carries all of it. */
  readonly judgedUa: number;
  /** The segments of the installation, one of which may hang on the wrong supply. */
  readonly others: readonly Segment[];
  /** For what is told in words. */
  readonly words: Words;
}

/** @param entry what the sheet says of the segment */
export function onSiteOf(
  segment: Segment,
  entry: SegmentSite,
  { judgedUa, others, words, ...around }: Surroundings,
): OnSite {
  const voltages = voltagesOf({ segment, entry, ...around });
  return {
    entry,
    cable: cableFiguresOf({
      words,
      site: entry,
      deviceIds: [...new Set(segment.loads.map(({ device }) => device.id))],
      supplyIds: segment.supplies.map(({ device }) => device.id),
      chokedSupplyIds: centralSupplies(segment).filter((id) => around.site.supplies.get(id)?.choke !== 'shared'),
    }),
    voltages,
    plannedVoltages: plannedVoltagesOf(segment, entry, around),
    expected: expectedOn({ segment, entry, ...around }, voltages),
    diagnosis: diagnose({ segment, entry, others, words, ...around }),
    holdUp: entry.holdUp && holdUpOf(entry.holdUp, judgedUa, around.policy.typicalSupplyV, words),
  };
}

function plannedVoltagesOf(
  segment: Segment,
  entry: SegmentSite,
  { group, site, policy }: Pick<Surroundings, 'group' | 'site' | 'policy'>,
): Voltages | null {
  const extended = withPlanned(segment, entry, policy);
  if (extended === null) return null;
  const segments = group.segments.map((one) => (one === segment ? extended.segment : one));
  const entries = new Map([...site.segments, [segment.id, extended.entry]]);
  return voltagesOf({ ...extended, group: { ...group, segments }, site: { ...site, segments: entries }, policy });
}

/** Ids of the supplies that the distance between chokes is for. */
export function centralSupplies({ supplies }: Segment): string[] {
  const central = supplies.filter(({ ratingUa }) => ratingUa === null || !isDecentral(ratingUa));
  return central.map(({ device }) => device.id);
}
