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
      onSite.diagnosis === null ? [] : [diagnosisText(label, onSite.diagnosis, words, MOST_CAUSES)],
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
export function diagnosisText(
  label: string,
  diagnosis: Diagnosis,
  words: Words,
  most = Number.POSITIVE_INFINITY,
): string {
  const { told } = words.diagnosis;
  const { observations, missing } = diagnosis;
  const causes = diagnosis.causes.slice(0, most);
  const further = diagnosis.further + diagnosis.causes.length - causes.length;
  const seen = observations.map(({ what, value, unit }) =>
    value === null ? what : `${what} ${words.figures.number(value)} ${unit}`,
  );
  const lines = [
    wrap(told.title({ segment: label, seen })),
    ...causes.flatMap((cause, at) => causeLines(cause, at + 1, causes.length, words)),
    ...(causes.length === 0 ? [`  ${told.noCause}`] : []),
    ...(further === 0 ? [] : [`  ${told.further(further)}`]),
    ...missing.map((one) => bullet(`  ${told.missing}`, one)),
  ];
  return lines.join('\n');
}

type Cause = Diagnosis['causes'][number];

/** @param shown how many causes are told of */
function causeLines({ kind, text, fit, misfits, next }: Cause, rank: number, shown: number, words: Words): string[] {
  const { figures, diagnosis } = words;
  const { told, kinds } = diagnosis;
  const off = misfits.map(({ what, measured, computed, unit }) =>
    told.misfit({ what, measured: `${figures.number(measured)} ${unit}`, computed: figures.number(computed) }),
  );
  const rest = off.length === 0 ? '' : ` ${told.misfits} ${off.join('; ')}.`;
  return [
    bullet(`${String(rank).padStart(3)}.`, `${kinds[kind]} (${told.fit(figures.fixed(fit, 2))}): ${text}${rest}`),
    ...(next === null ? [] : [bullet(`     ${told.next}`, nextText(next, shown, words))]),
  ];
}

function nextText(
  { measure, here, otherwise, unit, against, againstRank }: NonNullable<Cause['next']>,
  shown: number,
  words: Words,
): string {
  const { told, kinds } = words.diagnosis;
  const other = againstRank <= shown ? told.rank(againstRank) : `"${kinds[against]}"`;
  return told.nextText({
    measure,
    here: figureText(here, unit, words),
    otherwise: figureText(otherwise, unit, words),
    other,
  });
}

function figureText({ low, high }: NonNullable<Cause['next']>['here'], unit: string, words: Words): string {
  const { told } = words.diagnosis;
  if (low === null) return told.openCircuit;
  if (high === null) return told.orMore({ low, unit });
  return low === high ? `${words.figures.number(low)} ${unit}` : told.range({ low, high, unit });
}
