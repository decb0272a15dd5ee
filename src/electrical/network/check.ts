import type { Network } from './network.js';

/**
 * Refuses what is no network.
 * @throws RangeError naming the place: a point that is not there, a resistance, load or limit that is negative or no
 *   number, an electromotive force that is not above 0. An injection is a source, so a load is never negative.
 */
export function checkNetwork({ nodes, branches, sources, loads }: Network): void {
  if (!Number.isSafeInteger(nodes) || nodes < 0) throw new RangeError(`no number of points: ${nodes}`);
  const point = (node: number, of: string) => {
    if (!(Number.isInteger(node) && node >= 0 && node < nodes)) throw new RangeError(`${of}: no point ${node}`);
  };
  branches.forEach(({ from, to, ohm }, index) => {
    const of = `branch ${index}`;
    point(from, of);
    point(to, of);
    finite(ohm, `${of}: ohm`);
  });
  sources.forEach(({ node, emfV, ohm, limitA }, index) => {
    const of = `source ${index}`;
    point(node, of);
    finite(ohm, `${of}: ohm`);
    finite(emfV, `${of}: emfV`);
    if (emfV === 0) throw new RangeError(`${of}: emfV is 0`);
    if (!(limitA >= 0)) throw new RangeError(`${of}: limitA is ${limitA}`);
  });
  loads.forEach((load, index) => {
    const of = `load ${index}`;
    point(load.node, of);
    finite('amps' in load ? load.amps : load.watts, of);
  });
}

function finite(value: number, what: string): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY)) throw new RangeError(`${what} is ${value}`);
}
