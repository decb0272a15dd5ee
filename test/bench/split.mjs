// @ts-check
/**
 * How long a split takes: `node test/bench/split.mjs`, with the build that is there. 300 devices in 12 groups, each seed in a
 * process' second split, as the first also loads the solver.
 */
const { splitLoad } = await import(new URL('../../dist/sizing/split/split.js', import.meta.url).href);

const DEVICES = 300;
const GROUPS = 12;
/** Currents of devices, µA: as bus devices have them. */
const CURRENTS_UA = [5000, 6000, 7500, 8000, 10_000, 12_000, 12_500, 15_000, 20_000];

/** @param {number} seed @returns {() => number} from 0 to under 1 (a linear congruential generator) */
const random = (seed) => () => {
  seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
  return seed / 2 ** 32;
};

/** @param {number} seed */
const problem = (seed) => {
  const next = random(seed);
  const pick = (/** @type {number} */ count) => Math.floor(next() * count);
  const items = Array.from({ length: DEVICES }, (_, index) => ({
    id: String(index),
    ua: CURRENTS_UA[pick(CURRENTS_UA.length)],
    group: String(pick(GROUPS)),
  }));
  return { items, capacityUa: 512_000, places: 62, mostSegments: 15, seconds: 1.8 };
};

await splitLoad({ ...problem(0), seconds: 0.2 });
for (const seed of [1, 2, 3]) {
  const start = performance.now();
  const { segments, torn, loadsUa, method, gap } = await splitLoad(problem(seed));
  const ms = Math.round(performance.now() - start);
  const greatest = Math.max(...loadsUa) / 1000;
  console.log(`seed ${seed}: ${ms} ms, ${method}, ${segments.length} segments, ${torn} torn, greatest ${greatest} mA, gap ${JSON.stringify(gap)}`);
}
