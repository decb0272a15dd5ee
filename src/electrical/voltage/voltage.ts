import type { Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import type { SegmentSite, Site } from '../../site/site.js';
import { ROUNDING_V } from '../../units.js';
import type { FeedGroup } from '../feed-group.js';
import { type AlongRuns, alongRuns } from './along-runs.js';
import { type ByLength, byLength, PARTS } from './by-length.js';
import { frameOf } from './frame.js';
import { knownLengthOf, lacksRuns } from './known-length.js';
import type { Lowest } from './lowest.js';
import { type Profile, profileAlongRuns, profileByLength } from './profile.js';
import { terminalsOf, VOLTAGE_CASES, type VoltageCase } from './sources.js';

export const VOLTAGE_VERDICTS = ['holds', 'too low', 'undecidable', 'overloaded'] as const;

/** What is said of the voltages of a segment; `overloaded`: its supplies cannot deliver the load at all. */
export type VoltageVerdict = (typeof VOLTAGE_VERDICTS)[number];

export interface CaseFigures {
  /** Lowest terminal voltage of the supplies without load, V. */
  readonly supplyV: number;
  /** Lowest voltage at the worst that the known facts admit; null where no bound can be given. */
  readonly unfavourable: Lowest | null;
  readonly favourable: Lowest;
  /** With what is not placed spread evenly; null where all is placed. */
  readonly estimateV: number | null;
}

/** The voltages of a segment, as well as they are known. */
export interface Voltages {
  /** What they rest on: every place known, some, or a length alone. */
  readonly basis: 'all placed' | 'runs, not all placed' | 'length only';
  readonly verdict: VoltageVerdict;
  readonly cases: { readonly [of in VoltageCase]: CaseFigures };
  readonly profile: Profile;
}

export interface VoltageInput {
  readonly segment: Segment;
  readonly group: FeedGroup;
  readonly site: Site;
  readonly entry: SegmentSite;
  readonly policy: Policy;
}

/**
 * The voltages of a segment in the typical and the least case.
 * @returns null where nothing is known of the cable, or of what feeds it
 */
export function voltagesOf(input: VoltageInput): Voltages | null {
  const { segment, group, site, entry, policy } = input;
  if (segment.supplies.length === 0 || segment.loads.length === 0) return null;
  const frame = frameOf(group, site, policy);
  if (frame.laid.has(segment) && !lacksRuns(segment, entry)) {
    const typical = alongRuns(frame, segment, 'typical');
    const least = alongRuns(frame, segment, 'least');
    const isExact = typical.estimate === null;
    return figures(input, isExact ? 'all placed' : 'runs, not all placed', { typical, least }, () =>
      profileAlongRuns(segment, entry, { typical: typical.bands, least: least.bands }),
    );
  }
  const known = knownLengthOf(entry, policy);
  if (known === null) return null;
  const typical = byLength(segment, { group, site, policy, of: 'typical', known });
  const least = byLength(segment, { group, site, policy, of: 'least', known });
  return figures(input, 'length only', { typical, least }, () => profileByLength(known.mostM, { typical, least }));
}

function figures(
  { segment, site, policy }: VoltageInput,
  basis: Voltages['basis'],
  worked: { readonly [of in VoltageCase]: AlongRuns | ByLength },
  profile: () => Profile,
): Voltages {
  const caseOf = (of: VoltageCase): CaseFigures => {
    const { unfavourable, favourable, estimate } = worked[of];
    const supplyV = Math.min(...segment.supplies.map((supply) => terminalsOf(supply, of, site, policy).emfV));
    return { supplyV, unfavourable, favourable, estimateV: estimateOf(estimate) };
  };
  const cases = { typical: caseOf('typical'), least: caseOf('least') };
  return { basis, verdict: verdictOf(cases, policy), cases, profile: profile() };
}

function estimateOf(estimate: AlongRuns['estimate'] | ByLength['estimate']): number | null {
  if (estimate === null) return null;
  if ('v' in estimate) return estimate.v;
  return 'because' in estimate ? null : (estimate[PARTS] ?? null);
}

/** Only what both bounds agree on is said; the least case decides, and the typical one where it already fails. */
function verdictOf(cases: Voltages['cases'], policy: Policy): VoltageVerdict {
  const both = VOLTAGE_CASES.map((of) => cases[of]);
  if (
    both.some(({ favourable }) => 'because' in favourable && favourable.because === 'beyond the limit of the supplies')
  ) {
    return 'overloaded';
  }
  if (both.some(({ favourable }) => isTooLow(favourable, policy))) return 'too low';
  const isSure = both.every(({ unfavourable }) => unfavourable !== null && holds(unfavourable, policy));
  return isSure ? 'holds' : 'undecidable';
}

function holds(lowest: Lowest, { leastDeviceV }: Policy): boolean {
  return 'v' in lowest && lowest.v >= leastDeviceV - ROUNDING_V;
}

function isTooLow(lowest: Lowest, policy: Policy): boolean {
  return 'v' in lowest ? !holds(lowest, policy) : lowest.because === 'more power than the cable carries';
}
