// @ts-check
/**
 * How long the solver takes: `node test/bench/network.mjs`, with the build that is there. 256 loads on 300 points, in a
 * tree (a line with branches) and in a ring, with constant current and with constant power.
 */
const { solveNetwork } = await import(new URL('../../dist/electrical/network/solve.js', import.meta.url).href);

const POINTS = 300;
const LOADS = 256;
const SECTION_OHM = 0.05;
const ROUNDS = 200;

/** Every fifth point begins a spur of the line. */
const tree = Array.from({ length: POINTS - 1 }, (_, before) => {
  return { from: before % 5 === 4 ? Math.floor(before / 2) : before, to: before + 1, ohm: SECTION_OHM };
});
const ring = Array.from({ length: POINTS }, (_, from) => ({ from, to: (from + 1) % POINTS, ohm: SECTION_OHM }));

/** @type {[string, object[], object][]} */
const CASES = [
  ['tree, constant current', tree, { amps: 0.0025 }],
  ['tree, constant power', tree, { watts: 0.06 }],
  ['ring, constant current', ring, { amps: 0.0025 }],
  ['ring, constant power', ring, { watts: 0.06 }],
];

for (const [name, branches, load] of CASES) {
  const network = {
    nodes: POINTS,
    branches,
    sources: [{ node: 0, emfV: 30, ohm: 0.5, limitA: 1.28 }],
    loads: Array.from({ length: LOADS }, (_, index) => ({ node: POINTS - 1 - index, ...load })),
  };
  if (solveNetwork(network).outcome !== 'solved') throw new Error(`${name}: not solved`);
  const times = Array.from({ length: ROUNDS }, () => {
    const start = performance.now();
    solveNetwork(network);
    return performance.now() - start;
  }).sort((a, b) => a - b);
  const [first, median] = [times[0], times[ROUNDS / 2]];
  console.log(`${name}: median ${median?.toFixed(2)} ms, least ${first?.toFixed(2)} ms`);
}
