import { type Lowest, voltageOf } from '../electrical/voltage/lowest.js';
import { withPlanned } from '../electrical/voltage/planned.js';
import { VOLTAGE_CASES } from '../electrical/voltage/sources.js';
import { type CaseFigures, type VoltageInput, type Voltages, voltagesOf } from '../electrical/voltage/voltage.js';
import type { Segment, Supply } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { Layout, SegmentSite, Site } from '../site/site.js';
import type { Choice, LowestVoltages } from './choice.js';
import { proposedUnits, suppliesWith } from './choices.js';
import type { Demand } from './demand.js';
import { homeOf } from './places.js';

/** The voltages that a choice would give, as far as the site sheet tells. */
export interface Outlook extends LowestVoltages {
  readonly isTooLow: boolean;
}

/** What all solving for one demand may take, in points of networks; beyond, voltages count as not decided. */
const MOST_POINTS_SOLVED = 2_000_000;

/** Works out the voltages of a demand's choices. */
export class VoltageTrials {
  #pointsLeft = MOST_POINTS_SOLVED;

  constructor(
    readonly demand: Demand,
    readonly site: Site,
    readonly policy: Policy,
  ) {}

  /**
   * The worst of all segments of the demand, as they are and with what is planned.
   * @param points of what is bought, by position; null: where the first present supply sits
   * @returns null where the sheet tells nothing of their cable
   */
  outlookOf(choice: Choice, points: readonly (number | null)[]): Outlook | null {
    const { segments } = this.demand;
    const entries = segments.flatMap((segment) => {
      const entry = this.site.segments.get(segment.id);
      return entry === undefined ? [] : [{ segment, entry: withUnits(segment, entry, choice, points) }];
    });
    const supplies = suppliesWith(choice, this.demand);
    const outlooks = entries.flatMap(({ segment, entry }) =>
      this.#bothOf(segment, entry, supplies, new Map(entries.map((one) => [one.segment.id, one.entry]))),
    );
    return outlooks.reduce<Outlook | null>((a, b) => (a === null ? b : worse(a, b)), null);
  }

  #bothOf(
    { id }: Segment,
    entry: SegmentSite,
    supplies: readonly Supply[],
    changed: ReadonlyMap<string, SegmentSite>,
  ): Outlook[] {
    const fed = this.demand.segments.map((one) => ({ ...one, supplies }));
    const segment = fed.find((one) => one.id === id);
    if (segment === undefined) return [];
    const group = { segments: fed, supplies };
    const site = { ...this.site, segments: new Map([...this.site.segments, ...changed]) };
    const now = this.#solved({ segment, group, site, entry, policy: this.policy });
    const extended = withPlanned(segment, entry, this.policy);
    if (now === null) return [];
    if (extended === null) return [now];
    const planned = { ...group, segments: fed.map((one) => (one === segment ? extended.segment : one)) };
    const plannedSite = { ...site, segments: new Map([...site.segments, [id, extended.entry]]) };
    const later = this.#solved({ ...extended, group: planned, site: plannedSite, policy: this.policy });
    return later === null ? [now] : [now, later];
  }

  /** Where not all is placed, the network is solved for each point. */
  #solved(input: VoltageInput): Outlook | null {
    const { layout } = input.entry;
    const points = layout?.points.length ?? 1;
    const isAllPlaced = input.segment.loads.every(({ device }) => layout?.pointOf.has(device.id));
    this.#pointsLeft -= isAllPlaced ? points : points * points;
    if (this.#pointsLeft < 0) return NOT_DECIDED;
    const voltages = voltagesOf(input);
    return voltages && outlookIn(voltages);
  }
}

const NOT_DECIDED: Outlook = { isTooLow: false, isDecided: false, typicalV: null, leastV: null };

function withUnits(
  segment: Segment,
  entry: SegmentSite,
  choice: Choice,
  points: readonly (number | null)[],
): SegmentSite {
  const { layout } = entry;
  if (layout === null) return entry;
  const home = homeOf(segment, layout);
  const places = proposedUnits(choice).flatMap(({ supply }, at): [string, number][] => {
    const point = points[at] ?? home;
    return point === null ? [] : [[supply.device.id, point]];
  });
  return { ...entry, layout: { ...layout, pointOf: new Map([...layout.pointOf, ...places]) } satisfies Layout };
}

function outlookIn(voltages: Voltages): Outlook {
  const { verdict, cases } = voltages;
  const [typicalV, leastV] = VOLTAGE_CASES.map((of) => lowestOf(cases[of]));
  return {
    isTooLow: verdict === 'too low' || verdict === 'overloaded',
    isDecided: verdict !== 'undecidable',
    typicalV: typicalV ?? null,
    leastV: leastV ?? null,
  };
}

/** What is sure to be there. */
function lowestOf({ unfavourable }: CaseFigures): number | null {
  const lowest: Lowest | null = unfavourable;
  return lowest && voltageOf(lowest);
}

/** Too low before not decided before what holds; of two alike the one with the lower voltage in the least case. */
function worse(a: Outlook, b: Outlook): Outlook {
  return compareOutlooks(a, b) <= 0 ? a : b;
}

/** Worst first. */
export function compareOutlooks(a: Outlook, b: Outlook): number {
  return rankOf(a) - rankOf(b) || (a.leastV ?? 0) - (b.leastV ?? 0);
}

function rankOf({ isTooLow, isDecided }: Outlook): number {
  if (isTooLow) return 0;
  return isDecided ? 2 : 1;
}
