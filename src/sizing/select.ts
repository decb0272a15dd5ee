import { targetOf } from '../electrical/target.js';
import type { Policy } from '../policy/policy.js';
import type { Site } from '../site/site.js';
import { sum, toMa } from '../units.js';
import type { Choice, FittingChoice, ProposedAction } from './choice.js';
import { carries, carryingChoices, priceOf, suppliesWith } from './choices.js';
import { conditionsOf } from './conditions.js';
import type { Demand } from './demand.js';
import { type Placed, placed } from './placing.js';
import type { SizingWords } from './sized.js';
import { unitsInStock } from './stock.js';
import { VoltageTrials } from './voltages.js';

/** So many choices are told beside the best. */
const MOST_OTHERS = 3;

/** Of so many choices, the best by the currents, the voltages are worked out. */
const MOST_TRIED = 60;

/** Which supplies are chosen, or why none can be. */
export interface Selected {
  readonly action: ProposedAction;
  readonly because: string | null;
  readonly choice: FittingChoice | null;
  readonly others: readonly FittingChoice[];
  readonly conditions: readonly string[];
  /** What makes a split necessary; null where none is. */
  readonly splitBy: 'load' | 'voltage' | null;
}

/** No choice is made. */
export function nothingSelected(because: string): Selected {
  return { action: 'none', because, choice: null, others: [], conditions: [], splitBy: null };
}

/**
 * The best choice of the supplies that are there and those in stock that meets every condition, or why there is none.
 * @param site null where no voltage is to be worked out
 */
export function select(demand: Demand, site: Site | null, policy: Policy, words: SizingWords): Selected {
  return new Selection(demand, site, policy, words).selected();
}

class Selection {
  readonly #trials: VoltageTrials | null;

  constructor(
    readonly demand: Demand,
    site: Site | null,
    readonly policy: Policy,
    readonly words: SizingWords,
  ) {
    this.#trials = site === null ? null : new VoltageTrials(demand, site, policy);
  }

  selected(): Selected {
    const { demand, policy, words } = this;
    const asItIs: Choice = { kept: demand.keepable, removed: demand.unrated, added: [] };
    if (carries(asItIs, demand, policy)) {
      const { outlook, ...where } = placed(asItIs, demand, this.#trials);
      if (outlook?.isTooLow !== true) return this.#asItIs(this.#fitting(asItIs, { ...where, outlook }));
    }
    const carrying = carryingChoices(demand, policy);
    const [best, ...others] = this.#holding(carrying);
    if (best === undefined) return this.#split(carrying.length > 0);
    const action = actionOf(best, demand);
    return { ...CHOSEN, action, choice: best, others, conditions: conditionsOf(best, demand, policy, words) };
  }

  /** What is there carries the load: with a supply that nobody knows the rating of, its label decides what becomes of it. */
  #asItIs(choice: FittingChoice): Selected {
    const { demand, policy, words } = this;
    if (demand.unrated.length > 0) return nothingSelected(words.sizing.nothing.labelDecides);
    return { ...CHOSEN, action: 'stays', choice, others: [], conditions: conditionsOf(choice, demand, policy, words) };
  }

  /** The first few choices that no voltage speaks against. */
  #holding(carrying: readonly Choice[]): FittingChoice[] {
    const found: FittingChoice[] = [];
    for (const choice of carrying.slice(0, MOST_TRIED)) {
      if (this.#isPointless(choice)) continue;
      const where = placed(choice, this.demand, this.#trials);
      if (where.outlook?.isTooLow !== true) found.push(this.#fitting(choice, where));
      if (found.length > MOST_OTHERS) break;
    }
    return found;
  }

  /** Whether something is taken out and no more bought for it, though with it the rest would do as well. */
  #isPointless({ kept, removed, added }: Choice): boolean {
    return removed.some((supply) =>
      added.some((unit, at) => {
        if (supply.ratingUa === null || unit.ratingUa > supply.ratingUa) return false;
        const others = added.filter((_, position) => position !== at);
        const instead = { kept: [...kept, supply], removed: removed.filter((one) => one !== supply), added: others };
        return carries(instead, this.demand, this.policy);
      }),
    );
  }

  #fitting(choice: Choice, { placings, outlook }: Placed): FittingChoice {
    const { loadUa, plannedUa } = this.demand;
    const ratedUa = sum(suppliesWith(choice, this.demand).map(({ ratingUa }) => ratingUa ?? 0));
    const targetUa = targetOf(ratedUa, this.policy);
    return {
      ...choice,
      fixed: this.demand.fixed,
      ratedUa,
      targetUa,
      marginUa: targetUa - loadUa - plannedUa,
      priceHundredths: priceOf(choice),
      placings,
      lowest: outlook,
    };
  }

  #split(isByVoltage: boolean): Selected {
    const { policy } = this;
    const { loadUa, plannedUa, wantsReporting, isCritical } = this.demand;
    const { nothing, split } = this.words.sizing;
    if (wantsReporting && unitsInStock(policy, ['reporting']).length === 0) return nothingSelected(nothing.noneReports);
    const because = isByVoltage
      ? split.byVoltage(policy.leastDeviceV)
      : split.byLoad({ loadMa: toMa(loadUa + plannedUa), wantsReporting, isCritical });
    return { ...nothingSelected(because), action: 'split', splitBy: isByVoltage ? 'voltage' : 'load' };
  }
}

const CHOSEN = { because: null, splitBy: null } as const;

function actionOf({ removed, added }: Choice, { fixed, keepable, unrated }: Demand): ProposedAction {
  if (fixed.length + keepable.length + unrated.length === 0) return 'order';
  if (removed.length === 0) return 'add';
  return added.length === 0 ? 'remove' : 'replace';
}
