import { installationRule } from './rule.js';
import { deviceSubject, productLabel } from './words.js';

export const deviceUnplaced = installationRule({
  id: 'device-unplaced',
  severity: 'note',
  basis: 'common practice',
  *check({ installation, words }) {
    for (const device of installation.unplaced) {
      const subject = deviceSubject(device);
      yield {
        subject,
        segments: [],
        measure: {
          quantity: words.facts.quantities.linesStoodOn,
          unit: 'lines',
          value: 0,
          limit: 1,
          holds: 'at least',
        },
        restsOn: 'declared',
        facts: {
          device: subject.label,
          product:
            device.product === null ? (device.productRef ?? words.facts.noProduct) : productLabel(device.product),
          declared: device.product?.declared ?? null,
          location: device.location,
        },
      };
    }
  },
});
