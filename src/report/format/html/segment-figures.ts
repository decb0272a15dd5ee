import type { ReportSegment } from '../../report.js';
import { ratingText } from '../segment-cells.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { facts } from './table.js';

type Entry = readonly [name: string, what: Content];

type Reach = NonNullable<ReportSegment['reach']>['typical'];

/** The load of a segment, its supply, and what is left. */
export function segmentFigures(segment: ReportSegment, page: Page): Markup {
  const { segments } = page.texts;
  const medium: Entry = [segments.medium, page.words.names.medium(segment.medium.name)];
  const entries = segment.medium.needsPower
    ? [medium, ...loadFacts(segment, page), ...supplyFacts(segment, page), ...furtherFacts(segment, page)]
    : [medium];
  return html`<h4>${segments.figures}</h4>
${facts(entries)}${
  segment.supply.feed === 'unknown' &&
  html`<p>${segments.feedUnknown}</p>
`
}`;
}

function loadFacts({ load, breakEven, sensitivity }: ReportSegment, { texts, words, figures }: Page): Entry[] {
  const { segments } = texts;
  const above = (value: number) => value > 0 && figures.ma(value);
  const { verdicts } = words.names;
  const bound = (ma: number, verdict: ReportSegment['verdict']) => `${figures.ma(ma)} (${verdicts[verdict]})`;
  const entries: Entry[] = [
    [segments.load, figures.ma(load.totalMa)],
    [segments.auxiliary, above(load.auxiliaryMa)],
    [segments.couplersBelow, above(load.couplersBelowMa)],
    [segments.planned, above(load.plannedMa)],
  ];
  if (load.assumedItems === 0) return entries;
  return [
    ...entries,
    [segments.assumed, segments.assumedText({ assumedMa: load.assumedMa, items: load.assumedItems })],
    [segments.breakEven, segments.breakEvenText(breakEven)],
    [
      segments.bounds,
      sensitivity &&
        texts.frame.range({
          low: bound(sensitivity.lowMa, sensitivity.atLow),
          high: bound(sensitivity.highMa, sensitivity.atHigh),
        }),
    ],
  ];
}

function supplyFacts(segment: ReportSegment, page: Page): Entry[] {
  const { texts, words, figures, report } = page;
  const { segments } = texts;
  const { supply, utilisation, headroomMa, roomForDevices: devices } = segment;
  const eachMa = report.policy.values.assumedCurrentMa;
  const byCurrent = Math.floor((headroomMa ?? 0) / eachMa);
  const others = page.withOthers(segment);
  return [
    [segments.ratings, ratingText(supply, words)],
    [segments.capacity, figures.orNothing(supply.capacityMa, 'mA')],
    [segments.target, figures.orNothing(supply.targetMa, 'mA')],
    [segments.share, utilisation !== null && html`${figures.percent(utilisation)}${others}`],
    [segments.headroom, headroomMa !== null && html`${figures.signed(headroomMa)} mA${others}`],
    [segments.room, devices !== null && segments.roomText({ devices, eachMa, byCurrent })],
    [segments.withoutLargest, figures.orNothing(supply.capacityWithoutLargestMa, 'mA')],
    [segments.shortCircuit, supply.shortCircuitMa > 0 && figures.ma(supply.shortCircuitMa)],
    [segments.suggested, figures.orNothing(segment.suggestedRatingMa, 'mA')],
    [segments.shared, supply.shared && page.links(supply.shared.with)],
    [segments.chokes, supply.chokes.length > 0 && String(supply.chokes.length)],
  ];
}

function furtherFacts({ fanIn, reach }: ReportSegment, page: Page): Entry[] {
  const { segments } = page.texts;
  const { typicalSupplyV, leastSupplyV } = page.report.policy.values;
  const told = reach && [reachText(reach.typical, typicalSupplyV, page), reachText(reach.least, leastSupplyV, page)];
  return [
    [segments.fanIn, fanIn && segments.fanInText(fanIn)],
    [segments.reach, told?.map((text) => html`<span class="row">${text}</span> `)],
  ];
}

/** @param givenV what the policy has the supply give, of which a choke may take some */
function reachText({ supplyV, allAtEnd, evenlySpread }: Reach, givenV: number, { texts }: Page): string {
  return texts.segments.reachText({
    supplyV: givenV,
    dropV: Math.round((givenV - supplyV) * 1000) / 1000,
    atEndM: allAtEnd.lengthM,
    spreadM: evenlySpread.lengthM,
    isDistance: allAtEnd.boundBy === 'distance' && evenlySpread.boundBy === 'distance',
  });
}
