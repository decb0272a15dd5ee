import type { ReportSegment } from '../../report.js';
import type { ReportOnSite } from '../../site-shape.js';
import { lowestText } from '../text-site.js';
import { diagnosis } from './diagnosis.js';
import { html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { bullets, facts } from './table.js';
import { voltageChart } from './voltage-chart.js';

/** What the site sheet adds to a segment. */
export function segmentSite({ label, onSite }: ReportSegment, anchor: string, page: Page): Markup {
  if (onSite === null) return NOTHING;
  const { site } = page.texts;
  const { voltages, plannedVoltages, holdUp, cable } = onSite;
  const name = page.words.names.segment(label);
  const drawn = (id: string, title: string, of: ReportOnSite['voltages']) =>
    of && voltageChart(`${anchor}-${id}`, title, of.profile, page);
  return html`<h4>${site.heading}</h4>
${cableFacts(onSite, page)}${
  cable.wanted.length > 0 &&
  html`<p>${site.wanted}</p>
${bullets(cable.wanted)}`
}${drawn('volts', site.profile(name), voltages)}${drawn('planned', site.plannedProfile(name), plannedVoltages)}${
  holdUp && holdUpFacts(holdUp, page)
}${onSite.diagnosis && diagnosis(onSite.diagnosis, page)}`;
}

function cableFacts({ entry, critical, monitoring, cable, voltages }: ReportOnSite, page: Page): Markup {
  const { texts, words, figures } = page;
  const { site, frame } = texts;
  const between = ({ leastM, mostM }: ReportOnSite['cable']['totalM']) => figures.between(leastM, mostM, 'm');
  const yesNo = (value: boolean | null) => value !== null && (value ? frame.yes : frame.no);
  const { voltageVerdicts, voltageBases } = words.names;
  const lowest = (of: NonNullable<ReportOnSite['voltages']>['typical']) => {
    const voltage = lowestText(of, words);
    return of.point === null ? voltage : site.lowest({ voltage, point: of.point });
  };
  return facts([
    [site.entry, html`<code>${entry}</code>`],
    [site.critical, yesNo(critical)],
    [site.monitoring, yesNo(monitoring)],
    [site.cable, between(cable.totalM)],
    [site.toSupply, between(cable.supplyToDeviceM)],
    [site.apart, between(cable.deviceToDeviceM)],
    [site.chokes, cable.chokesApartM && between(cable.chokesApartM)],
    [site.voltage, voltages && `${voltageVerdicts[voltages.verdict]} (${voltageBases[voltages.basis]})`],
    [site.lowestTypical, voltages && lowest(voltages.typical)],
    [site.lowestLeast, voltages && lowest(voltages.least)],
  ]);
}

function holdUpFacts(holdUp: NonNullable<ReportOnSite['holdUp']>, { texts: { site }, figures }: Page): Markup {
  const { wantedHours, busMa, batteryMa, batteryV, neededAh, capacityAh, lastsHours, assumed, methods } = holdUp;
  return html`<h5>${site.holdUp}</h5>
${facts([
  [site.wantedHours, figures.withUnit(wantedHours, 'h')],
  [site.bus, figures.ma(busMa)],
  [site.battery, site.batteryAt({ current: figures.ma(batteryMa), voltage: figures.volts(batteryV) })],
  [site.needed, figures.withUnit(neededAh, 'Ah')],
  [site.given, figures.orNothing(capacityAh, 'Ah')],
  [site.lasts, figures.orNothing(lastsHours, 'h')],
])}<p>${holdUp.caution}</p>
<p>${site.holdUpBasis}</p>
${bullets([...assumed, ...methods])}`;
}
