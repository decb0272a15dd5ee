import type { Balance } from '../electrical/balance.js';
import { firstSegment } from '../plant/couplers.js';
import type { Line, Segment } from '../plant/plant.js';
import { remembered } from '../plant/remembered.js';
import type { Policy } from '../policy/policy.js';
import { divided, NOBODY, type Tell } from '../progress.js';
import { greatest } from '../units.js';
import { type Demand, demandOf, type NewCouplers, NO_COUPLERS } from './demand.js';
import { FreeLines } from './free-lines.js';
import { movesOf } from './moves/search.js';
import { newMainLines } from './new-main-lines.js';
import { planSplit } from './plan-split.js';
import type { Proposal } from './proposal.js';
import { nothingSelected, type Selected, select } from './select.js';
import type { Sized, SizingWords } from './sized.js';
import { splitConditions } from './split-conditions.js';
import type { NewMainLine, SplitPlan } from './split-plan.js';

export interface Proposals {
  readonly bySegment: ReadonlyMap<Segment, Proposal>;
  /** Lines that plans need above them and the export does not have. */
  readonly newMainLines: readonly NewMainLine[];
}

/** For the search of one split, and of all splits of an installation together, s. */
const SECONDS_OF_ONE = 1;
const SECONDS_OF_ALL = 4;

/** Supplies and moves, by the campus of `test/bench`, where moves take 50 to 60 % of both. */
const ALIKE = [1, 1];

/** Twice what a segment may have (volume 3/2/2: 256): with more the export, and no supply, is what is wrong. */
const MOST_ON_SEGMENT = 512;

/** Of the devices of all segments that are split; beyond, no plan is worked out. */
const MOST_SPLIT = 10_000;

/**
 * What is to be done about the supplies of each segment. Segments that share all their supplies have one proposal. Those
 * of the lowest lines are made first, as the couplers of new lines hang on the lines above.
 */
export async function proposalsOf(sized: Sized, tell: Tell = NOBODY): Promise<Proposals> {
  return new Proposer(sized).all(tell);
}

class Proposer {
  readonly #found = new Map<Segment, Proposal>();
  readonly #plans: SplitPlan[] = [];
  readonly #free: FreeLines;
  readonly #ofNothing = new Map<string, Selected>();
  #secondsLeft = SECONDS_OF_ALL;
  #devicesLeft = MOST_SPLIT;

  constructor(readonly sized: Sized) {
    this.#free = new FreeLines(sized.installation);
  }

  async all(tell: Tell): Promise<Proposals> {
    const { balances } = this.sized;
    const [tellSupplies = NOBODY, tellMoves = NOBODY] = divided(tell, ALIKE);
    for (const balance of lowestFirst(balances)) {
      if (this.#found.has(balance.segment)) continue;
      const proposal = await this.#proposalFor(balance);
      for (const segment of proposal.segments) this.#found.set(segment, proposal);
      if (proposal.plan !== null) this.#plans.push(proposal.plan);
      tellSupplies(this.#found.size / balances.length);
    }
    return { bySegment: this.#withMoves(tellMoves), newMainLines: newMainLines(this.#plans, this.sized) };
  }

  /** Found last, as couplers of new lines take of the room that there is. */
  #withMoves(tell: Tell): ReadonlyMap<Segment, Proposal> {
    const moves = movesOf(this.sized, (segment) => this.#couplersOn([segment]), tell);
    for (const [segment, found] of moves) {
      const proposal = this.#found.get(segment);
      if (proposal !== undefined) this.#found.set(segment, { ...proposal, moves: found });
    }
    return this.#found;
  }

  async #proposalFor(balance: Balance): Promise<Proposal> {
    const { policy, words } = this.sized;
    const newCouplers = this.#couplersOn([balance.segment, ...balance.sharesWith]);
    const demand = demandOf(balance, this.sized, newCouplers);
    if ('because' in demand) {
      const { segment, judged } = balance;
      const { load, plannedUa } = judged;
      return {
        ...proposed(nothingSelected(demand.because)),
        segments: [segment],
        loadUa: load.totalUa + newCouplers.ua,
        plannedUa,
        newCouplers,
      };
    }
    const { segments, loadUa, plannedUa } = demand;
    const said = { segments, loadUa, plannedUa, newCouplers };
    const selected = tooManyDevices(balance, newCouplers, policy, words) ?? this.#selected(demand);
    if (selected.splitBy !== 'load') return { ...proposed(selected), ...said };
    return { ...proposed(selected), ...said, ...(await this.#split(selected, demand, newCouplers)) };
  }

  /** Segments that have nothing yet and want the same get the same: an export of thousands of them is no work. */
  #selected(demand: Demand): Selected {
    const { site, policy, words } = this.sized;
    const { segments, fixed, keepable, unrated, loadUa, plannedUa, isCritical, wantsReporting } = demand;
    const isAlone = segments.length === 1 && fixed.length + keepable.length + unrated.length === 0;
    if (site !== null || !isAlone) return select(demand, site, policy, words);
    const key = JSON.stringify([loadUa, plannedUa, isCritical, wantsReporting]);
    const known = this.#ofNothing.get(key) ?? select(demand, site, policy, words);
    this.#ofNothing.set(key, known);
    return known;
  }

  async #split({ because }: Selected, demand: Demand, added: NewCouplers): Promise<Partial<Proposal>> {
    const { installation, policy, site, words } = this.sized;
    const { split, unsplit } = words.sizing;
    const [segment, ...others] = demand.segments;
    const cannot = (why: string) => ({ because: split.notWorkedOut({ because, why }) });
    if (segment === undefined || others.length > 0) return cannot(unsplit.shared);
    const { areaAddress } = segment.line;
    if (this.#free.of(areaAddress).length === 0) return cannot(unsplit.noAddress(areaAddress));
    const devices = segment.loads.length;
    if (devices > MOST_ON_SEGMENT) return cannot(unsplit.largeSegment(MOST_ON_SEGMENT));
    this.#devicesLeft -= devices;
    if (this.#devicesLeft < 0) return cannot(unsplit.largeTogether(MOST_SPLIT));
    const seconds = Math.max(0, Math.min(SECONDS_OF_ONE, this.#secondsLeft));
    const begun = performance.now();
    const isCouplerPlanned = this.#plans.some((plan) => plan.beside?.segment.line === segment.line);
    const plan = await planSplit({
      segment,
      demand,
      added,
      installation,
      policy,
      free: this.#free,
      seconds,
      isCouplerPlanned,
      words,
    });
    this.#secondsLeft -= (performance.now() - begun) / 1000;
    return 'because' in plan ? cannot(plan.because) : { plan, conditions: splitConditions(plan, site, words) };
  }

  /** Couplers of new lines that hang on any of these segments. */
  #couplersOn(segments: readonly Segment[]): NewCouplers {
    return this.#plans
      .flatMap(couplersBy)
      .reduce(
        (all, { segment, count, ua }) =>
          segments.includes(segment) ? { count: all.count + count, ua: all.ua + ua } : all,
        NO_COUPLERS,
      );
  }
}

/** What a plan puts on other segments: couplers of its lines on the one above, that of the segment's line on the first. */
function couplersBy({ above, beside }: SplitPlan): (NewCouplers & { readonly segment: Segment })[] {
  const { segment, couplers, couplersUa } = above;
  return [
    ...(segment === null ? [] : [{ segment, count: couplers, ua: couplersUa }]),
    ...(beside === null ? [] : [{ segment: beside.segment, count: 1, ua: beside.coupler.lowerUa }]),
  ];
}

/** No supply helps a segment with more devices than any may have. */
function tooManyDevices(
  { placesUsed }: Balance,
  { count }: NewCouplers,
  { devicesGreatest: most }: Policy,
  { sizing }: SizingWords,
): Selected | null {
  const devices = placesUsed + count;
  if (devices <= most) return null;
  return { ...nothingSelected(sizing.split.byDevices({ devices, most })), action: 'split', splitBy: 'load' };
}

function proposed({ action, because, choice, others, conditions }: Selected) {
  return { action, because, choice, others, conditions, plan: null, moves: null };
}

/** Segments that couplers of others hang on after those: what shares supplies with one of them waits for it. */
function lowestFirst(balances: readonly Balance[]): Balance[] {
  const firstOf = remembered((line: Line) => firstSegment(line));
  const heights = balances.map((balance) => ({
    balance,
    height: greatest(
      [balance.segment, ...balance.sharesWith].map((segment) => heightOf(segment, firstOf(segment.line))),
    ),
  }));
  return heights.sort((a, b) => a.height - b.height).map(({ balance }) => balance);
}

/** Segments that no coupler stands on or reaches; lines; main lines; the backbone. */
function heightOf(segment: Segment, first: Segment | undefined): number {
  const { lineAddress, areaAddress } = segment.line;
  if (segment !== first) return 0;
  if (lineAddress > 0) return 1;
  return areaAddress > 0 ? 2 : 3;
}
