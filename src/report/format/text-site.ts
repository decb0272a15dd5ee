import type { Words } from '../../words/words.js';
import type { Report, ReportSegment } from '../report.js';
import type { ReportOnSite } from '../site-shape.js';
import { bullet, table, wrap } from './layout.js';

type Sited = ReportSegment & { readonly onSite: ReportOnSite };
type Diagnosis = NonNullable<ReportOnSite['diagnosis']>;

/** What the site sheet adds: cable and voltages of its segments, hold-up, and what fits the measured values. */
export function siteText({ segments, site }: Pick<Report, 'segments' | 'site'>, words: Words): string {
  if (site === null) return '';
  const sited = segments.filter((segment): segment is Sited => segment.onSite !== null);
  const blocks = [
    words.report.site.title({ sited: sited.length, segments: segments.length, sha256: site.sha256 }),
    sited.length === 0 ? '' : cableTable(sited, words),
    ...sited.flatMap(({ label, onSite }) => (onSite.holdUp === null ? [] : [holdUpText(label, onSite.holdUp, words)])),
    ...sited.flatMap(({ label, onSite }) =>
      onSite.diagnosis === null ? [] : [diagnosisText(label, onSite.diagnosis, MOST_CAUSES)],
    ),
  ];
  return blocks.filter((block) => block !== '').join('\n\n');
}

function cableTable(segments: readonly Sited[], words: Words): string {
  const { names, report } = words;
  const rows = segments.map(({ label, onSite: { cable, voltages } }) => [
    names.segment(label),
    lengthText(cable.totalM, words),
    lengthText(cable.supplyToDeviceM, words),
    lowestText(voltages?.typical, words),
    lowestText(voltages?.least, words),
    voltages === null
      ? report.site.unknown
      : `${names.voltageVerdicts[voltages.verdict]} (${names.voltageBases[voltages.basis]})`,
  ]);
  return table([report.site.columns, ...rows], ['left', 'right', 'right', 'right', 'right', 'left']);
}

/** `120 m`, `80 to 120 m`, `?`. */
function lengthText(bounds: ReportOnSite['cable']['totalM'], { figures, report }: Words): string {
  const { leastM, mostM } = bounds;
  if (leastM !== mostM) return report.site.length(bounds);
  return leastM === null ? '?' : `${figures.number(leastM)} m`;
}

/** `27.36 V`, `21.4 to 27.3 V`; the estimate between bounds is named as one. */
export function lowestText(
  of: NonNullable<ReportOnSite['voltages']>['typical'] | undefined,
  { figures, report }: Words,
): string {
  if (of === undefined) return '?';
  const { unfavourableV: low, favourableV: high, estimateV } = of;
  if (low !== null && low === high) return figures.volts(low);
  return high === null ? report.site.noVoltage : report.site.voltageRange({ lowV: low, highV: high, estimateV });
}

function holdUpText(label: string, holdUp: NonNullable<ReportOnSite['holdUp']>, { report }: Words): string {
  return bullet(report.site.holdUpOf(label), report.site.holdUp(holdUp));
}

/** So many causes are told of in a report; `linebudget diagnose` tells all. */
const MOST_CAUSES = 3;

/** What was measured on a segment, and the causes that fit, best first. */
export function diagnosisText(label: string, diagnosis: Diagnosis, most = Number.POSITIVE_INFINITY): string {
  const { observations, missing } = diagnosis;
  const causes = diagnosis.causes.slice(0, most);
  const further = diagnosis.further + diagnosis.causes.length - causes.length;
  const seen = observations.map(({ what, value, unit }) => (value === null ? what : `${what} ${value} ${unit}`));
  const lines = [
    wrap(`Measured on ${label}: ${seen.join('; ')}. What fits, best first:`),
    ...causes.flatMap((cause, at) => causeLines(cause, at + 1, causes.length)),
    ...(causes.length === 0 ? ['  Nothing that is looked for fits.'] : []),
    ...(further === 0 ? [] : [`  ${further} more fit less, and are not listed.`]),
    ...missing.map((one) => bullet('  To tell more:', one)),
  ];
  return lines.join('\n');
}

type Cause = Diagnosis['causes'][number];

/** @param told how many causes are told of */
function causeLines({ kind, text, fit, misfits, next }: Cause, rank: number, told: number): string[] {
  const off = misfits.map(({ what, measured, computed, unit }) => `${what} ${measured} ${unit}, computed ${computed}`);
  const figures = off.length === 0 ? '' : ` Does not fit: ${off.join('; ')}.`;
  return [
    bullet(`${String(rank).padStart(3)}.`, `${kind} (fit ${fit.toFixed(2)}): ${text}${figures}`),
    ...(next === null ? [] : [bullet('     Next:', nextText(next, told))]),
  ];
}

function nextText({ measure, here, otherwise, unit, ...other }: NonNullable<Cause['next']>, told: number): string {
  const name = other.againstRank <= told ? `cause ${other.againstRank}` : `"${other.against}"`;
  return `measure the ${measure}: ${figureText(here, unit)} if this is it, ${figureText(otherwise, unit)} if it is ${name}.`;
}

function figureText({ low, high }: NonNullable<Cause['next']>['here'], unit: string): string {
  if (low === null) return 'an open circuit';
  if (high === null) return `${low} ${unit} or more`;
  return low === high ? `${low} ${unit}` : `${low} to ${high} ${unit}`;
}
