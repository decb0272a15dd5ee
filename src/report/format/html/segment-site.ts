import type { ReportSegment } from '../../report.js';
import type { ReportOnSite } from '../../site-shape.js';
import { lowestText } from '../text-site.js';
import { html, type Markup, NOTHING } from './markup.js';
import { bullets, facts } from './table.js';
import { en } from './texts.js';
import { voltageChart } from './voltage-chart.js';

/** What the site sheet adds to a segment. @param anchor of the segment; @param leastDeviceV the policy’s, V */
export function segmentSite({ label, onSite }: ReportSegment, anchor: string, leastDeviceV: number): Markup {
  if (onSite === null) return NOTHING;
  const { voltages, plannedVoltages, holdUp, diagnosis, cable } = onSite;
  const drawn = (id: string, title: string, of: ReportOnSite['voltages']) =>
    of && voltageChart(`${anchor}-${id}`, title, of.profile, leastDeviceV);
  return html`<h4>${en.site.heading}</h4>
${cableFacts(onSite)}${cable.wanted.length > 0 && html`<p>${en.site.wanted}:</p>${bullets(cable.wanted)}`}${drawn('volts', en.site.profile(label), voltages)}${drawn('planned', en.site.plannedProfile(label), plannedVoltages)}${holdUp && holdUpText(holdUp)}${diagnosis && diagnosisText(diagnosis)}`;
}

function cableFacts({ entry, critical, monitoring, cable, voltages }: ReportOnSite): Markup {
  const between = ({ leastM, mostM }: ReportOnSite['cable']['totalM']) => en.range(en.metres(leastM), en.metres(mostM));
  return facts([
    [en.site.entry, entry],
    [en.site.critical, en.site.yesNo(critical)],
    [en.site.monitoring, en.site.yesNo(monitoring)],
    [en.site.cable, between(cable.totalM)],
    [en.site.toSupply, between(cable.supplyToDeviceM)],
    [en.site.apart, between(cable.deviceToDeviceM)],
    [en.site.chokes, cable.chokesApartM && between(cable.chokesApartM)],
    [en.site.voltage, voltages && en.site.voltageText(voltages.verdict, voltages.basis)],
    [en.site.lowestTypical, voltages && lowestText(voltages.typical)],
    [en.site.lowestLeast, voltages && lowestText(voltages.least)],
  ]);
}

function holdUpText(holdUp: NonNullable<ReportOnSite['holdUp']>): Markup {
  return html`<h5>${en.site.holdUp}</h5>
<p>${en.site.holdUpText(holdUp)} ${holdUp.caution}</p>
${bullets([...holdUp.assumed, ...holdUp.methods])}`;
}

function diagnosisText({ observations, causes, further, missing }: NonNullable<ReportOnSite['diagnosis']>): Markup {
  const told = causes.map(
    ({
      kind,
      fit,
      text,
      next,
    }) => html`<li>${en.site.cause(kind, fit, text)}${next && html` ${en.site.next(next.measure)}`}</li>
`,
  );
  return html`<h5>${en.site.measured}</h5>
${bullets(observations.map(({ what, value, unit }) => en.site.observed(what, value, unit)))}${told.length === 0 ? html`<p>${en.site.noCause}</p>` : html`<ol>${told}</ol>`}
${
  further > 0 &&
  html`<p>${en.site.further(further)}</p>
`
}${missing.length > 0 && html`<p>${en.site.missing}:</p>${bullets(missing)}`}`;
}
