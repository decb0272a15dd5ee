import type { Balance } from '../electrical/balance.js';
import type { Segment } from '../plant/plant.js';
import { severitySet } from '../policy/policy.js';
import { NOBODY, type Tell } from '../progress.js';
import { type PlantRule, type RawFinding, type Rule, type RuleContext, withWords } from './rule.js';

/** `off`: the policy wants none of the rule. */
export type CoverageStatus = 'passed' | 'found' | 'skipped' | 'failed' | 'off';

/** How a rule ended on a segment, or (segment null) on the installation as a whole. */
export interface Coverage {
  readonly rule: string;
  readonly segment: Segment | null;
  readonly status: CoverageStatus;
  /** What was missing, where skipped. */
  readonly missing: string | null;
}

export interface RuleRun {
  readonly findings: readonly { readonly rule: Rule; readonly finding: RawFinding }[];
  readonly coverage: readonly Coverage[];
  /** Faults of our own rules, for the log. */
  readonly failures: readonly { readonly rule: string; readonly cause: unknown }[];
}

/**
 * Runs the rules on an installation. A rule that throws makes the audit incomplete, and harms no other. Rules about
 * waivers are passed over: they look at the findings of all installations together.
 */
export function runRules(rules: readonly Rule[], context: RuleContext, tell: Tell = NOBODY): RuleRun {
  const run: OpenRun = { findings: [], coverage: [], failures: [] };
  for (const [index, rule] of rules.entries()) {
    tell(index / rules.length);
    if (rule.scope === 'waivers') continue;
    if (severitySet(rule.id, context.policy) === 'off') passOver(rule, context, run);
    else if (rule.scope === 'segment') runOnSegments(rule, context, run);
    else runOnInstallation(rule, context, run);
  }
  return run;
}

/** That a rule is off is told like everything else that was not checked. */
function passOver(rule: PlantRule, { balances }: RuleContext, run: OpenRun): void {
  const segments = balances.map(({ segment }) => segment);
  for (const segment of rule.scope === 'segment' ? segments : [...segments, null]) {
    run.coverage.push({ rule: rule.id, segment, status: 'off', missing: null });
  }
}

type OpenRun = { readonly [part in keyof RuleRun]: RuleRun[part][number][] };

type SegmentRule = Extract<Rule, { scope: 'segment' }>;
type InstallationRule = Extract<Rule, { scope: 'installation' }>;

function runOnSegments(rule: SegmentRule, context: RuleContext, run: OpenRun): void {
  for (const balance of context.balances) {
    const outcome = attempt(rule, context, () => {
      const missing = rule.missing?.(balance, context) ?? null;
      return { missing, found: missing === null ? [...rule.check(balance, context)] : [] };
    });
    for (const one of outcome.findings) run.findings.push(one);
    run.failures.push(...outcome.failures);
    run.coverage.push(coverageOf(rule, balance, outcome, outcome.findings.length > 0));
  }
}

function runOnInstallation(rule: InstallationRule, context: RuleContext, run: OpenRun): void {
  const missing = new Map<Balance, string | null>();
  const outcome = attempt(rule, context, () => {
    for (const balance of context.balances) missing.set(balance, rule.missing?.(balance, context) ?? null);
    return { missing: null, found: [...rule.check(context)] };
  });
  const { findings, failures } = outcome;
  const concerned = new Set(findings.flatMap(({ finding }) => finding.segments));
  for (const one of findings) run.findings.push(one);
  run.failures.push(...failures);
  for (const balance of context.balances) {
    const own = { ...outcome, missing: failures.length > 0 ? null : (missing.get(balance) ?? null) };
    run.coverage.push(coverageOf(rule, balance, own, concerned.has(balance.segment)));
  }
  const isFoundAtLarge = findings.some(({ finding }) => finding.segments.length === 0);
  const whole = { rule: rule.id, segment: null, missing: null };
  const status = failures.length > 0 ? 'failed' : isFoundAtLarge ? 'found' : 'passed';
  run.coverage.push({ ...whole, status });
}

interface Outcome extends Omit<RuleRun, 'coverage'> {
  readonly missing: string | null;
}

function attempt(
  rule: PlantRule,
  context: RuleContext,
  run: () => { missing: string | null; found: Parameters<typeof withWords>[1][] },
): Outcome {
  try {
    const { missing, found } = run();
    return { missing, findings: found.map((one) => ({ rule, finding: withWords(rule, one, context) })), failures: [] };
  } catch (cause) {
    return { missing: null, findings: [], failures: [{ rule: rule.id, cause }] };
  }
}

function coverageOf(rule: PlantRule, { segment }: Balance, outcome: Outcome, isFound: boolean): Coverage {
  const { missing, failures } = outcome;
  const judged = isFound ? 'found' : 'passed';
  const status = failures.length > 0 ? 'failed' : missing !== null ? 'skipped' : judged;
  return { rule: rule.id, segment, status, missing };
}
