import { addressAbove } from '../plant/couplers.js';
import { IP } from '../plant/medium.js';
import type { Line } from '../plant/plant.js';
import { installationRule } from './rule.js';

export const couplerMissing = installationRule({
  id: 'coupler-missing',
  severity: 'warning',
  basis: 'standard',
  *check({ installation, words }) {
    const used = installation.lines.filter(isUsed);
    const areas = new Set(used.map(({ areaAddress }) => areaAddress));
    const byAddress = linesByAddress(installation.lines);
    for (const line of used) {
      if (!needsCoupler(line, used.length, areas.size) || hasCoupler(line)) continue;
      yield {
        subject: { kind: 'line', id: line.id, label: line.address, place: { line: line.sourceLine } },
        segments: line.segments.slice(0, 1),
        measure: { quantity: words.facts.quantities.couplers, unit: 'couplers', value: 0, limit: 1, holds: 'at least' },
        restsOn: 'declared',
        facts: {
          line: line.address,
          lineAbove: addressAbove(line),
          above: aboveOf(line, byAddress),
          participants: line.segments.flatMap(({ devices }) => devices).filter(({ participates }) => participates)
            .length,
        },
      };
    }
  },
});

type Above = 'powered' | 'IP' | 'unpowered' | 'not in the export';

/** What the line above is: it decides what kind of coupler is missing, and what that is charged on. */
function aboveOf(line: Line, byAddress: ReadonlyMap<string, Line>): Above {
  const medium = byAddress.get(addressAbove(line) ?? '')?.segments[0]?.medium;
  if (medium === undefined) return 'not in the export';
  if (medium.needsPower) return 'powered';
  return medium.id === IP ? 'IP' : 'unpowered';
}

/** Lines by their address; where several have the same, the first. */
function linesByAddress(lines: readonly Line[]): Map<string, Line> {
  const found = new Map<string, Line>();
  for (const line of lines) if (!found.has(line.address)) found.set(line.address, line);
  return found;
}

/** A line that has something to connect. */
function isUsed({ segments }: Line): boolean {
  return segments.some(({ devices, loads }) => loads.length > 0 || devices.some(({ participates }) => participates));
}

/**
 * A line next to others; a main line only next to other areas. IP lines are joined by the network, the backbone by nothing.
 * @param lines how many lines are used, this one among them
 * @param areas how many areas these are in
 */
function needsCoupler(line: Line, lines: number, areas: number): boolean {
  if (line.segments.every(({ medium }) => medium.id === IP)) return false;
  if (line.lineAddress > 0) return lines > 1;
  return line.areaAddress > 0 && areas > 1;
}

function hasCoupler({ segments }: Line): boolean {
  return segments.some(({ devices }) => devices.some(({ joins }) => joins === 'line above'));
}
