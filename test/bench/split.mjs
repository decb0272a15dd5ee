// @ts-check
/**
 * How long a split takes: `node test/bench/split.mjs`, with the build that is there. 300 devices in 12 groups, three seeds
 * of two kinds of load. The first split that needs the solver also loads it.
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

/** Loads that the bounds prove, and ones of 0.1 mA steps in small segments, on which the solver works until its time is up. */
const CASES = [
  {
    name: 'plain',
    capacityUa: 512_000,
    currentUa: (/** @type {number} */ part) => CURRENTS_UA[Math.floor(part * CURRENTS_UA.length)],
  },
  { name: 'fine', capacityUa: 256_000, currentUa: (/** @type {number} */ part) => 100 * Math.floor(50 + part * 150) },
];

/** @param {number} seed @param {typeof CASES[number]} load */
const problem = (seed, { capacityUa, currentUa }) => {
  const next = random(seed);
  const items = Array.from({ length: DEVICES }, (_, index) => ({
    id: String(index),
    ua: currentUa(next()),
    group: String(Math.floor(next() * GROUPS)),
  }));
  return { items, capacityUa, places: 62, mostSegments: 20, seconds: 1.5 };
};

for (const load of CASES) {
  for (const seed of [1, 2, 3]) {
    const start = performance.now();
    const { segments, torn, loadsUa, method, gap } = await splitLoad(problem(seed, load));
    const ms = Math.round(performance.now() - start);
    const greatest = Math.max(...loadsUa) / 1000;
    const left = `${gap.segments} segments, ${gap.torn} torn, ${gap.evenUa / 1000} mA`;
    console.log(
      `${load.name} ${seed}: ${ms} ms, ${method}: ${segments.length} segments, ${torn} torn, greatest ${greatest} mA; open: ${left}`,
    );
  }
}
