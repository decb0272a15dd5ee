import { count, list } from '../../rules/words.js';
import { percent } from '../../units.js';
import { bullet, printable, table, wrap } from '../format/layout.js';
import { CAUTION } from '../report.js';
import type {
  Comparison,
  DeviceSide,
  FindingChange,
  FindingSide,
  SegmentChange,
  SegmentSide,
  Understood,
} from './comparison.js';

const MOST_SHOWN = 20;

/** The comparison as a person reads it on a terminal: what got worse first, then segments and their devices. */
export function formatComparisonText(comparison: Comparison): string {
  const { tool, findings } = comparison;
  const isWhatIf = comparison.changes !== null;
  const blocks = [
    `${tool.name} ${tool.version}: ${isWhatIf ? 'what if: a bus power audit before and after changes' : 'comparison of two bus power audits'}`,
    comparisonSentence(comparison),
    isWhatIf ? understood(comparison.changes ?? []) : inputs(comparison),
    section('New', findings.new, true),
    section('Worsened', findings.worsened, true),
    section('Improved', findings.improved, false),
    section('Fixed', findings.fixed, false),
    segments(comparison),
    isWhatIf ? '' : devices(comparison.segments),
    sides(comparison),
    wrap(`Caution: ${CAUTION}`),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

/** One line for one comparison. */
export function comparisonSentence({ findings, old, new: fresh }: Comparison): string {
  const { new: added, fixed, worsened, improved, unchanged } = findings;
  const counts = [
    count(added.length, 'new finding'),
    `${worsened.length} worsened`,
    `${improved.length} improved`,
    `${fixed.length} fixed`,
    `${unchanged} unchanged`,
  ];
  const isWhole = [old, fresh].every(({ complete, checks }) => complete && checks > 0);
  return `${counts.join(', ')}.${isWhole ? '' : ' INCOMPLETE: one of the audits did not check everything.'}`;
}

const INPUTS = {
  archive: 'the archive',
  policy: 'the policy',
  site: 'the site sheet',
  tool: 'the tool',
  asOf: 'the day of the waivers',
};

function inputs({ inputs: held }: Comparison): string {
  const names = Object.keys(INPUTS) as (keyof typeof INPUTS)[];
  const differing = names.filter((name) => held[name] === 'differs').map((name) => INPUTS[name]);
  return differing.length === 0
    ? 'Both audits are of the same archive, by the same policy and version.'
    : wrap(`What differs: ${list(differing)}.`);
}

function understood(changes: readonly Understood[]): string {
  return ['Changes:', ...shown(changes, ({ text }) => [bullet('  -', text)])].join('\n');
}

function section(title: string, changes: readonly FindingChange[], withRemedy: boolean): string {
  if (changes.length === 0) return '';
  return [
    `${title}: ${count(changes.length, 'finding')}`,
    ...shown(changes, (change) => findingLines(change, withRemedy)),
  ].join('\n');
}

function findingLines({ rule, message, remedy, cause, matchedBy, old, new: now }: FindingChange, withRemedy: boolean) {
  const notes = [
    ...movesOf(old, now),
    ...(cause === null || cause === 'changes'
      ? []
      : [`by ${cause === 'both' ? 'archive and policy together' : `the ${cause}`}`]),
    ...(matchedBy === 'line number' ? ['matched by line number'] : []),
  ];
  const severity = (now ?? old)?.severity.toUpperCase() ?? '';
  return [
    bullet('  -', `${severity} ${message} [${rule}]`),
    ...(notes.length === 0 ? [] : [bullet('    Change:', notes.join('; '))]),
    ...(withRemedy ? [bullet('    Do:', remedy)] : []),
  ];
}

/** What moved between two findings that are one; of one that stands alone, whether it is waived. */
function movesOf(old: FindingSide | null, now: FindingSide | null): string[] {
  if (old === null || now === null) return (old ?? now)?.waived ? ['waived'] : [];
  const { quantity, unit } = now.measure;
  const isOneMeasure = quantity === old.measure.quantity && unit === old.measure.unit;
  return [
    ...moved('severity', old.severity, now.severity),
    ...moved('', waivedText(old), waivedText(now)),
    ...(isOneMeasure ? moved(quantity, figure(old.measure.value, unit), figure(now.measure.value, unit)) : []),
    ...(isOneMeasure ? moved('limit', figure(old.measure.limit, unit), figure(now.measure.limit, unit)) : []),
  ];
}

function waivedText({ waived }: FindingSide): string {
  return waived ? 'waived' : 'not waived';
}

function moved(what: string, old: string, now: string): string[] {
  return old === now ? [] : [`${what} ${old} → ${now}`.trim()];
}

function figure(value: number | null, unit: string): string {
  return value === null ? 'not known' : `${value} ${unit}`;
}

function segments({ segments: changed, segmentsAdded, segmentsRemoved, segmentsUnchanged }: Comparison): string {
  const title = `Segments: ${changed.length} changed, ${segmentsAdded.length} added, ${segmentsRemoved.length} removed, ${segmentsUnchanged} unchanged`;
  const rows = [
    ...changed.map(({ old, new: now, matchedBy }) => row(old, now, matchedBy === 'line number' ? matchedBy : '')),
    ...segmentsAdded.map((segment) => row(null, segment, 'added')),
    ...segmentsRemoved.map((segment) => row(segment, null, 'removed')),
  ];
  if (rows.length === 0) return title;
  const header = ['Line', 'Load', 'Capacity', 'Share', 'Headroom', 'Verdict', ''];
  return [title, table([header, ...rows], ['left', 'right', 'right', 'right', 'right', 'left', 'left'])].join('\n');
}

function row(old: SegmentSide | null, now: SegmentSide | null, note: string): string[] {
  const cell = (text: (side: SegmentSide) => string) =>
    [...new Set([old, now].flatMap((side) => (side === null ? [] : [text(side)])))].join(' → ');
  return [
    cell(({ label }) => label),
    cell(({ loadMa }) => `${loadMa} mA`),
    cell(({ capacityMa }) => (capacityMa === null ? '–' : `${capacityMa} mA`)),
    cell(({ utilisation }) => (utilisation === null ? '–' : percent(utilisation))),
    cell(({ headroomMa }) => (headroomMa === null ? '–' : `${headroomMa} mA`)),
    cell(({ verdict }) => verdict),
    note,
  ];
}

function devices(changed: readonly SegmentChange[]): string {
  const lines = changed.flatMap(({ new: { label }, devicesAdded, devicesRemoved, devicesChanged }) => [
    ...devicesAdded.map((device) => `Line ${label}: + ${deviceText(device)}`),
    ...devicesRemoved.map((device) => `Line ${label}: - ${deviceText(device)}`),
    ...devicesChanged.map(({ old, new: now }) => `Line ${label}: ${changedText(old, now)}`),
  ]);
  if (lines.length === 0) return '';
  const title = `Devices: ${count(lines.length, 'change')}`;
  return [title, ...shown(lines, (line) => [bullet('  -', line)])].join('\n');
}

function changedText(old: DeviceSide, now: DeviceSide): string {
  const products = fromTo(old.productId === now.productId ? '' : productText(old), productText(now));
  return `${now.label} (${products}, ${fromTo(currentText(old), currentText(now))})`;
}

function deviceText(device: DeviceSide): string {
  return `${device.label} (${productText(device)}, ${currentText(device)})`;
}

function productText({ product, productId }: DeviceSide): string {
  return product ?? productId ?? 'no product named';
}

function currentText({ currentMa }: DeviceSide): string {
  return currentMa === null ? 'no load' : `${currentMa} mA`;
}

function fromTo(old: string, now: string): string {
  return old === now || old === '' ? now : `${old} → ${now}`;
}

function shown<T>(items: readonly T[], lines: (item: T) => string[]): string[] {
  const rest = items.length - MOST_SHOWN;
  return [
    ...items.slice(0, MOST_SHOWN).flatMap(lines),
    ...(rest > 0 ? [`  - ${MOST_SHOWN} shown of ${items.length}; the JSON comparison has all of them`] : []),
  ];
}

function sides({ old, new: fresh }: Comparison): string {
  const line = (title: string, { archiveSha256, policySha256, toolVersion }: Comparison['old']) =>
    printable(`${title}: archive ${archiveSha256}, policy ${policySha256}, by ${toolVersion}`);
  return [line('Old', old), line('New', fresh)].join('\n');
}
