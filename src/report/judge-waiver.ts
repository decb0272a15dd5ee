import { type Figure, figureOf, isSameUnit, type Waiver } from '../policy/waivers.js';
import type { JudgedWaiver, WaiverOutcome } from '../rules/judged-waiver.js';
import type { Report, ReportFinding, ReportMeasure } from './report.js';

/** What came of a waiver, and for which findings. */
export interface Judgement {
  readonly judged: JudgedWaiver;
  /** The finding that the outcome is about, null where there is none. */
  readonly concerned: ReportFinding | null;
  /** The findings that are waived. */
  readonly covered: readonly ReportFinding[];
}

/** Holds waivers against the findings of a report. @param asOf the day on which it is, UTC */
export function judgeWaivers(report: Report, waivers: readonly Waiver[], asOf: string): Judgement[] {
  const byFingerprint = findingsByFingerprint(report);
  const silence = silenceOf(report);
  return waivers.map((waiver) => {
    const withFingerprint = byFingerprint.get(waiver.fingerprint) ?? [];
    const found = withFingerprint.filter(({ rule }) => rule === waiver.rule);
    const judged = (outcome: WaiverOutcome) => ({ waiver, asOf, outcome });
    const [first] = found;
    if (first === undefined) {
      const outcome = withoutFinding(waiver, silence, withFingerprint[0]);
      return { judged: judged(outcome), concerned: withFingerprint[0] ?? null, covered: [] };
    }
    if (asOf > waiver.expires) {
      return {
        judged: judged({ is: 'expired', days: daysBetween(waiver.expires, asOf) }),
        concerned: first,
        covered: [],
      };
    }
    const outcomes = found.map((finding) => ({ finding, outcome: outcomeOf(waiver, finding.measure) }));
    const beyond = outcomes.find(({ outcome }) => outcome.is !== 'in force');
    return {
      judged: judged(beyond?.outcome ?? { is: 'in force' }),
      concerned: beyond?.finding ?? first,
      covered: outcomes.filter(({ outcome }) => outcome.is === 'in force').map(({ finding }) => finding),
    };
  });
}

function findingsByFingerprint({ findings }: Report): ReadonlyMap<string, readonly ReportFinding[]> {
  const found = new Map<string, ReportFinding[]>();
  for (const finding of findings) {
    const others = found.get(finding.fingerprint);
    if (others === undefined) found.set(finding.fingerprint, [finding]);
    else others.push(finding);
  }
  return found;
}

/** The rules that found nothing for another reason than that nothing is there. */
interface Silence {
  readonly off: ReadonlySet<string>;
  readonly failed: ReadonlySet<string>;
}

function silenceOf({ rules, coverage }: Report): Silence {
  return {
    off: new Set(rules.filter(({ inForce }) => inForce === 'off').map(({ id }) => id)),
    failed: new Set(coverage.filter(({ status }) => status === 'failed').map(({ rule }) => rule)),
  };
}

/** Why there is no finding that a waiver is for. */
function withoutFinding({ rule }: Waiver, { off, failed }: Silence, other: ReportFinding | undefined): WaiverOutcome {
  if (failed.has(rule)) return { is: 'not judged' };
  if (other !== undefined) return { is: 'unused', because: { is: 'other rule', rule: other.rule } };
  return { is: 'unused', because: { is: off.has(rule) ? 'rule off' : 'nothing found' } };
}

/** Whether a finding's figure is still what was accepted; without an accepted figure any is. */
function outcomeOf({ accepted, raiseAbove = accepted }: Waiver, measure: ReportMeasure): WaiverOutcome {
  if (raiseAbove === undefined) return { is: 'in force' };
  const limit = figureOf(raiseAbove);
  const heldAgainst = { quantity: measure.quantity, limit, isFloor: measure.holds === 'at least' };
  const figure = comparable(limit, measure);
  if (typeof figure !== 'number') return { is: 'incomparable', because: figure, ...heldAgainst };
  const excessMillionths = millionths(figure) - millionths(limit.value);
  const isWorse = heldAgainst.isFloor ? excessMillionths < 0 : excessMillionths > 0;
  return isWorse ? { is: 'outgrown', value: millionths(figure) / 1e6, ...heldAgainst } : { is: 'in force' };
}

type Incomparable = Extract<WaiverOutcome, { is: 'incomparable' }>['because'];

/** The finding's figure in the unit of the accepted one. */
function comparable({ unit }: Figure, measure: ReportMeasure): number | Incomparable {
  if (measure.value === null) return { is: 'no figure' };
  if (unit === '%') return measure.share === null ? { is: 'no share' } : measure.share * 100;
  return isSameUnit(unit, measure.unit) ? measure.value : { is: 'other unit', unit: measure.unit };
}

/** Figures are equal to the millionth, as a share is no exact number: 84 % of 320 mA is. */
function millionths(value: number): number {
  return Math.round(value * 1e6);
}

const DAY_MS = 86_400_000;

function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / DAY_MS;
}
