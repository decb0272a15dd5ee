import { milliamps } from '../../rules/words.js';
import type { Report, ReportSegment } from '../report.js';
import { type Column, csv, listed } from './csv.js';

/** The segments as a table: a row each, in the order of the plant. */
export function formatCsvSegments(report: Report): string {
  const names = new Map(report.projects.map(({ id, name }) => [id, name]));
  return csv([['projectName', ({ project }) => names.get(project) ?? null], ...COLUMNS], report.segments);
}

const COLUMNS: readonly Column<ReportSegment>[] = [
  ['project', ({ project }) => project],
  ['installation', ({ installation }) => installation],
  ['segment', ({ label }) => label],
  ['line', ({ line }) => line],
  ['number', ({ number }) => number],
  ['lineName', ({ lineName }) => lineName],
  ['name', ({ name }) => name],
  ['medium', ({ medium }) => medium.name],
  ['verdict', ({ verdict }) => verdict],
  ['loadMa', ({ load }) => load.totalMa],
  ['declaredMa', ({ load }) => load.declaredMa],
  ['overriddenMa', ({ load }) => load.overriddenMa],
  ['assumedMa', ({ load }) => load.assumedMa],
  ['auxiliaryMa', ({ load }) => load.auxiliaryMa],
  ['couplersBelowMa', ({ load }) => load.couplersBelowMa],
  ['plannedMa', ({ load }) => load.plannedMa],
  ['items', ({ load }) => load.items],
  ['assumedItems', ({ load }) => load.assumedItems],
  ['capacityMa', ({ supply }) => supply.capacityMa],
  ['targetMa', ({ supply }) => supply.targetMa],
  ['utilisation', ({ utilisation }) => utilisation],
  ['headroomMa', ({ headroomMa }) => headroomMa],
  ['roomForDevices', ({ roomForDevices }) => roomForDevices],
  ['toTightMa', ({ breakEven }) => breakEven.toTightMa],
  ['toInsufficientMa', ({ breakEven }) => breakEven.toInsufficientMa],
  ['lowMa', ({ sensitivity }) => sensitivity?.lowMa ?? null],
  ['verdictAtLow', ({ sensitivity }) => sensitivity?.atLow ?? null],
  ['highMa', ({ sensitivity }) => sensitivity?.highMa ?? null],
  ['verdictAtHigh', ({ sensitivity }) => sensitivity?.atHigh ?? null],
  ['suggestedRatingMa', ({ suggestedRatingMa }) => suggestedRatingMa],
  ['ratedMa', ({ supply }) => supply.ratedMa],
  ['unratedSupplies', ({ supply }) => supply.unrated],
  ['capacityWithoutLargestMa', ({ supply }) => supply.capacityWithoutLargestMa],
  ['shortCircuitMa', ({ supply }) => supply.shortCircuitMa],
  ['supplies', ({ supply }) => listed(supply.units.map(supplyText))],
  ['chokes', ({ supply }) => supply.chokes.length],
  ['sharedWith', ({ supply }) => listed(supply.shared?.with ?? [])],
  ['cableLeastM', ({ onSite }) => onSite?.cable.totalM.leastM ?? null],
  ['cableMostM', ({ onSite }) => onSite?.cable.totalM.mostM ?? null],
  ['toSupplyLeastM', ({ onSite }) => onSite?.cable.supplyToDeviceM.leastM ?? null],
  ['toSupplyMostM', ({ onSite }) => onSite?.cable.supplyToDeviceM.mostM ?? null],
  ['typicalLowestV', ({ onSite }) => onSite?.voltages?.typical.unfavourableV ?? null],
  ['typicalHighestV', ({ onSite }) => onSite?.voltages?.typical.favourableV ?? null],
  ['leastLowestV', ({ onSite }) => onSite?.voltages?.least.unfavourableV ?? null],
  ['leastHighestV', ({ onSite }) => onSite?.voltages?.least.favourableV ?? null],
  ['voltageVerdict', ({ onSite }) => onSite?.voltages?.verdict ?? null],
  ['holdUpHours', ({ onSite }) => onSite?.holdUp?.lastsHours ?? null],
  ['segmentId', ({ id }) => id],
  ['notes', ({ notes }) => listed(notes)],
];

function supplyText({ name, orderNumber, ratedMa }: ReportSegment['supply']['units'][number]): string {
  const label = orderNumber === null ? name : `${name} (${orderNumber})`;
  return `${label} ${ratedMa === null ? '?' : milliamps(ratedMa)}`;
}
