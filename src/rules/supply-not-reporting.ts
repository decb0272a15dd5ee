import { deviceLabel, segmentLabel } from '../plant/plant.js';
import { noBoundaries } from './judged.js';
import { noSupply } from './on-site.js';
import { segmentRule } from './rule.js';
import { count, list, segmentSubject } from './words.js';

export const supplyNotReporting = segmentRule({
  id: 'supply-not-reporting',
  title: 'A supply does not report its state, although it should',
  severity: 'warning',
  why: 'A supply that takes part on the bus tells its voltage, current and temperature before the segment fails; any other is silent until it does.',
  remedy: 'Fit a supply that reports, or take back that the segment wants one.',
  limit: 'every supply of a segment reports, where the site sheet wants it',
  basis: 'common practice',
  source: 'common practice, no source: reporting supplies for large or monitored buildings',
  missing: (balance) => {
    const { onSite } = balance;
    const unsaid = noBoundaries(balance);
    if (unsaid !== null) return unsaid;
    if (onSite === null) return 'whether its supplies have to report: no site sheet says so';
    const { wantsReporting } = onSite.entry;
    if (wantsReporting === null) return 'whether its supplies have to report: the site sheet does not say';
    return wantsReporting ? noSupply(balance) : null;
  },
  *check({ segment, onSite }) {
    const { supplies } = segment;
    const silent = supplies.filter(({ isReporting }) => !isReporting);
    if (!onSite?.entry.wantsReporting || silent.length === 0) return;
    const reporting = supplies.length - silent.length;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'reporting supplies',
        unit: 'supplies',
        value: reporting,
        limit: supplies.length,
        holds: 'at least',
      },
      restsOn: 'declared',
      facts: {
        segment: segmentLabel(segment),
        reporting,
        supplies: supplies.length,
        silent: silent.map(({ device }) => deviceLabel(device)),
      },
    };
  },
  message: (f) =>
    `Line ${f.segment} is to have supplies that report, but of ${count(f.supplies, 'supply', 'supplies')} ${f.reporting === 0 ? 'none does' : `only ${f.reporting} ${f.reporting === 1 ? 'does' : 'do'}`}: ${list(f.silent)} ${f.silent.length === 1 ? 'does' : 'do'} not take part on the bus.`,
  advice: (f) =>
    `Replace ${list(f.silent)} by ${f.silent.length === 1 ? 'a supply that reports' : 'supplies that report'}, of the same rating or more.`,
});
