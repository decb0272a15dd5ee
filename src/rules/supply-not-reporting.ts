import { deviceLabel, segmentLabel } from '../plant/plant.js';
import { noBoundaries } from './judged.js';
import { noSupply } from './on-site.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const supplyNotReporting = segmentRule({
  id: 'supply-not-reporting',
  severity: 'warning',
  basis: 'common practice',
  missing: (balance, context) => {
    const { onSite } = balance;
    const { missing } = context.words;
    const unsaid = noBoundaries(balance, context);
    if (unsaid !== null) return unsaid;
    if (onSite === null) return missing.reportingWithoutSheet;
    const { wantsReporting } = onSite.entry;
    if (wantsReporting === null) return missing.reportingUnsaid;
    return wantsReporting ? noSupply(balance, context) : null;
  },
  *check({ segment, onSite }, { words }) {
    const { supplies } = segment;
    const silent = supplies.filter(({ isReporting }) => !isReporting);
    if (!onSite?.entry.wantsReporting || silent.length === 0) return;
    const reporting = supplies.length - silent.length;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.reportingSupplies,
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
});
