import { greatest, sum } from '../units.js';
import { upperUaOf } from './new-coupler.js';
import { select } from './select.js';
import type { Sized } from './sized.js';
import type { NewMainLine, SplitPlan } from './split-plan.js';
import { plannedOn } from './split-rooms.js';

/**
 * The main lines that plans need and the export does not have, one for each area, with the supplies for all couplers
 * that hang on them: those of the plans, and those of the lines that are there.
 */
export function newMainLines(
  plans: readonly SplitPlan[],
  { installation, policy, words }: Pick<Sized, 'installation' | 'policy' | 'words'>,
): NewMainLine[] {
  const above = plans.map((plan) => plan.above).filter(({ kind }) => kind === 'new');
  return [...new Set(above.map(({ line }) => line))].map((line): NewMainLine => {
    const own = above.filter((one) => one.line === line);
    const present = installation.unchargedCouplers.filter(({ lineAbove }) => lineAbove === line);
    const couplersUa = sum(own.map((one) => one.couplersUa));
    const loadUa = couplersUa + sum(present.map(({ device }) => upperUaOf(device, policy)));
    const couplers = sum(own.map((one) => one.couplers)) + present.length;
    const plannedUa = greatest(
      plans.filter((plan) => plan.above.line === line).map(({ segment }) => plannedOn(segment, 0, policy)),
    );
    const { choice } = select({ ...NOTHING_THERE, loadUa, plannedUa }, null, policy, words);
    return { line, couplers, loadUa, plannedUa, choice };
  });
}

const NOTHING_THERE = {
  segments: [],
  isCritical: false,
  wantsReporting: false,
  fixed: [],
  keepable: [],
  unrated: [],
} as const;
