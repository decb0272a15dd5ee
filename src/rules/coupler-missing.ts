import { isLineCoupler } from '../plant/couplers.js';
import type { Line } from '../plant/plant.js';
import { installationRule } from './rule.js';

export const couplerMissing = installationRule({
  id: 'coupler-missing',
  title: 'A line has devices, and no coupler to the line above',
  severity: 'warning',
  why: 'Without a coupler the line is an island; once one is added it draws from this line and from the line above.',
  remedy: 'Order a coupler and enter it at device address 0, or check that the line is meant to stand alone.',
  limit: 'a line of an installation with several lines has a coupler at device address 0',
  basis: 'standard',
  source: 'volume 3/2/2 §1.3; that address 0 is the coupler’s is common practice',
  *check({ installation }) {
    const lines = installation.lines.filter(isUsed);
    for (const line of lines) {
      if (!needsCoupler(line, lines) || hasCoupler(line)) continue;
      yield {
        subject: { kind: 'line', id: line.id, label: line.address },
        segments: line.segments.slice(0, 1),
        restsOn: 'declared',
        facts: {
          line: line.address,
          participants: line.segments.flatMap(({ devices }) => devices).filter(({ participates }) => participates)
            .length,
        },
      };
    }
  },
  message: (f) => `Line ${f.line} has no coupler at ${f.line}.0, though the installation has other lines.`,
  advice: (f) =>
    `Enter the coupler ${f.line}.0, or order one; it is charged on line ${f.line} and on the line above it.`,
});

const IP = 'MT-5';

/** A line that has something to connect. */
function isUsed({ segments }: Line): boolean {
  return segments.some(({ devices, loads }) => loads.length > 0 || devices.some(({ participates }) => participates));
}

/** A line next to others; a main line only next to other areas. IP lines are joined by the network, the backbone by nothing. */
function needsCoupler(line: Line, used: readonly Line[]): boolean {
  if (line.segments.every(({ medium }) => medium.id === IP)) return false;
  if (line.lineAddress > 0) return used.length > 1;
  return line.areaAddress > 0 && used.some(({ areaAddress }) => areaAddress !== line.areaAddress);
}

function hasCoupler({ address, segments }: Line): boolean {
  return segments.some(({ devices }) => devices.some((device) => isLineCoupler(device, address)));
}
