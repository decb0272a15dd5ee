import { installationRule } from './rule.js';
import { deviceSubject, productLabel } from './words.js';

export const deviceUnplaced = installationRule({
  id: 'device-unplaced',
  title: 'A device stands on no line',
  severity: 'note',
  why: 'What it draws can be charged to no segment; once it is wired somewhere, that balance changes.',
  remedy: 'Place the device on its line, or delete it from the project.',
  limit: 'every device is placed on a line',
  basis: 'common practice',
  source: 'common practice, no source',
  *check({ installation }) {
    for (const device of installation.unplaced) {
      const subject = deviceSubject(device);
      yield {
        subject,
        segments: [],
        measure: { quantity: 'lines it stands on', unit: 'lines', value: 0, limit: 1, holds: 'at least' },
        restsOn: 'declared',
        facts: {
          device: subject.label,
          product: device.product === null ? (device.productRef ?? 'no product') : productLabel(device.product),
          declared: device.product?.declared ?? null,
          location: device.location,
        },
      };
    }
  },
  message: (f) =>
    `${f.device} (${f.product}) stands on no line; its current (${f.declared === null ? 'not declared' : `${f.declared} mA`}) is charged nowhere.`,
  advice: () => 'Place it on the line that it will be wired to and audit again, or delete it.',
});
