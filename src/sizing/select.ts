import type { Balance } from '../electrical/balance.js';
import { targetOf } from '../electrical/target.js';
import type { Segment } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { Site } from '../site/site.js';
import { sum, toMa } from '../units.js';
import { carries, carryingChoices, priceOf, suppliesWith } from './choices.js';
import { conditionsOf } from './conditions.js';
import { type Demand, demandOf } from './demand.js';
import { type Placed, placed } from './placing.js';
import type { Choice, FittingChoice, Proposal, ProposedAction } from './proposal.js';
import { unitsInStock } from './stock.js';
import { VoltageTrials } from './voltages.js';

/** So many choices are told beside the best. */
const MOST_OTHERS = 3;

/** Of so many choices, the best by the currents, the voltages are worked out. */
const MOST_TRIED = 60;

/**
 * What is to be done about the supplies of each segment: the best choice of those that are there and those in stock that
 * meets every condition, or why there is none. Segments that share all their supplies have one proposal.
 */
export function proposalsOf(
  balances: readonly Balance[],
  site: Site | null,
  policy: Policy,
): ReadonlyMap<Segment, Proposal> {
  const proposals = new Map<Segment, Proposal>();
  for (const balance of balances) {
    if (proposals.has(balance.segment)) continue;
    const proposal = proposalFor(balance, balances, site, policy);
    for (const segment of proposal.segments) proposals.set(segment, proposal);
  }
  return proposals;
}

/** The proposal for one segment. @param balances of all segments of the installation */
export function proposalFor(
  balance: Balance,
  balances: readonly Balance[],
  site: Site | null,
  policy: Policy,
): Proposal {
  const demand = demandOf(balance, balances, site);
  if ('because' in demand) {
    const { segment, judged } = balance;
    const { plannedUa, load } = judged;
    return { ...NOTHING, because: demand.because, segments: [segment], loadUa: load.totalUa, plannedUa };
  }
  return new Selection(demand, site, policy).proposal();
}

const NOTHING = { action: 'none', choice: null, others: [], conditions: [] } as const;

class Selection {
  readonly #trials: VoltageTrials | null;

  constructor(
    readonly demand: Demand,
    site: Site | null,
    readonly policy: Policy,
  ) {
    this.#trials = site === null ? null : new VoltageTrials(demand, site, policy);
  }

  proposal(): Proposal {
    const { demand, policy } = this;
    const asItIs: Choice = { kept: demand.keepable, removed: demand.unrated, added: [] };
    if (carries(asItIs, demand, policy)) {
      const { outlook, ...where } = placed(asItIs, demand, this.#trials);
      if (outlook?.isTooLow !== true) return this.#asItIs(this.#fitting(asItIs, { ...where, outlook }));
    }
    const carrying = carryingChoices(demand, policy);
    const [best, ...others] = this.#holding(carrying);
    if (best === undefined) return this.#split(carrying.length > 0);
    const action = actionOf(best, demand);
    return { ...this.#said(), action, choice: best, others, conditions: conditionsOf(best, demand, policy) };
  }

  /** What is there carries the load: with a supply that nobody knows the rating of, its label decides what becomes of it. */
  #asItIs(choice: FittingChoice): Proposal {
    const { demand, policy } = this;
    if (demand.unrated.length > 0) {
      const because = 'the rating of a supply is not declared, so its label decides; the others carry the load alone';
      return { ...NOTHING, ...this.#said(), because };
    }
    return { ...this.#said(), action: 'stays', choice, others: [], conditions: conditionsOf(choice, demand, policy) };
  }

  /** The first few choices that no voltage speaks against. */
  #holding(carrying: readonly Choice[]): FittingChoice[] {
    const found: FittingChoice[] = [];
    for (const choice of carrying.slice(0, MOST_TRIED)) {
      const where = placed(choice, this.demand, this.#trials);
      if (where.outlook?.isTooLow !== true) found.push(this.#fitting(choice, where));
      if (found.length > MOST_OTHERS) break;
    }
    return found;
  }

  #fitting(choice: Choice, { placings, outlook }: Placed): FittingChoice {
    const { loadUa, plannedUa } = this.demand;
    const ratedUa = sum(suppliesWith(choice, this.demand).map(({ ratingUa }) => ratingUa ?? 0));
    const targetUa = targetOf(ratedUa, this.policy);
    return {
      ...choice,
      ratedUa,
      targetUa,
      marginUa: targetUa - loadUa - plannedUa,
      priceHundredths: priceOf(choice),
      placings,
      lowest: outlook,
    };
  }

  #split(isByVoltage: boolean): Proposal {
    const { demand, policy } = this;
    if (demand.wantsReporting && unitsInStock(policy, ['reporting']).length === 0) {
      return { ...NOTHING, ...this.#said(), because: 'the supplies have to report, and the stock has none that does' };
    }
    const wholeMa = toMa(demand.loadUa + demand.plannedUa);
    const which = demand.wantsReporting ? 'reporting supplies' : 'supplies';
    const because = isByVoltage
      ? `with every choice from stock a device gets less than ${policy.leastDeviceV} V: the cable is too long or too thin for one segment`
      : `no two ${which} from stock, with or without those that are there, carry ${wholeMa} mA within the target${demand.isCritical ? ' so that the smaller alone carries it' : ''}`;
    return { ...NOTHING, ...this.#said(), action: 'split', because };
  }

  #said(): Pick<Proposal, 'because' | 'segments' | 'loadUa' | 'plannedUa'> {
    const { segments, loadUa, plannedUa } = this.demand;
    return { because: null, segments, loadUa, plannedUa };
  }
}

function actionOf({ removed, added }: Choice, { fixed, keepable, unrated }: Demand): ProposedAction {
  if (fixed.length + keepable.length + unrated.length === 0) return 'order';
  if (removed.length === 0) return 'add';
  return added.length === 0 ? 'remove' : 'replace';
}
