import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { InputError } from '../../src/errors.js';
import { BUILT_IN, COMMON_PRACTICE, POLICY_SOURCES } from '../../src/policy/built-in.js';
import {
  builtIn,
  DEFAULT_POLICY,
  policyDigest,
  readPolicy,
  sourceOf,
  withProducts,
} from '../../src/policy/effective.js';
import { policyJsonSchema } from '../../src/policy/json-schema.js';
import { BUILT_IN_NAMES, type Policy, type PolicyKey } from '../../src/policy/policy.js';

const NAME = 'office.yaml';
const read = (source: string) => readPolicy(source, NAME);
const digestOf = async (source: string) => policyDigest((await read(source)).values);

async function refusalOf(source: string): Promise<InputError> {
  try {
    await read(source);
  } catch (cause) {
    if (cause instanceof InputError) return cause;
    throw cause;
  }
  throw new Error(`the policy was read: ${source}`);
}

/** Keys that the file set. */
async function setByFile(source: string): Promise<string[]> {
  const { setBy } = await read(source);
  return Object.keys(setBy).filter((key) => setBy[key as PolicyKey] === 'policy file');
}

describe('a policy file', () => {
  it.each(['', '# nothing yet', '{}', 'null', '---\n'])('that says nothing (%j) is common practice', async (source) => {
    expect(await read(source)).toEqual(DEFAULT_POLICY);
  });

  it('changes what it says, and nothing else', async () => {
    const { values } = await read('targetLoad: 0.75\ndevicesClassic: 50\n');
    expect(values).toEqual({ ...COMMON_PRACTICE, targetLoad: 0.75, devicesClassic: 50 });
    expect(await setByFile('targetLoad: 0.75\ndevicesClassic: 50\n')).toEqual(['targetLoad', 'devicesClassic']);
  });

  it('may be JSON, with the place of its schema, which is no part of the policy', async () => {
    const source = '{ "$schema": "./policy.json", "targetLoad": 0.75 }';
    expect(await read(source)).toEqual(await read('targetLoad: 0.75'));
  });

  it('has its planned growth filled in', async () => {
    const { values } = await read(
      'growth: [{ line: "1.*" }, { line: "*", devices: 3 }, { line: "1.2", reserveMa: 5 }]',
    );
    expect(values.growth).toEqual([
      { line: '1.*', devices: 0, reserveMa: 0 },
      { line: '*', devices: 3, reserveMa: 0 },
      { line: '1.2', devices: 0, reserveMa: 5 },
    ]);
  });

  it.each(BUILT_IN_NAMES)('extends %s', async (name) => {
    const policy = await read(`extends: ${name}\nloopOhmPerKm: 70`);
    expect(policy.extends).toBe(name);
    expect(policy.values).toEqual({ ...COMMON_PRACTICE, ...BUILT_IN[name], loopOhmPerKm: 70 });
    for (const key of Object.keys(policy.setBy) as PolicyKey[]) {
      const base = key in BUILT_IN[name] ? name : 'common-practice';
      expect([key, policy.setBy[key]]).toEqual([key, key === 'loopOhmPerKm' ? 'policy file' : base]);
    }
  });

  it('goes before the policy that it extends', async () => {
    const { values, setBy } = await read('extends: conservative\ntargetLoad: 0.9');
    expect([values.targetLoad, setBy.targetLoad]).toEqual([0.9, 'policy file']);
    expect([values.assumedCurrentMa, setBy.assumedCurrentMa]).toEqual([20, 'conservative']);
  });

  it('sets severities rule by rule', async () => {
    const source = (more: string) => `extends: standard\nseverities: { low-headroom: note${more} }`;
    expect((await read(source(''))).values.severities).toEqual({
      'fan-in-exceeded': 'error',
      'low-headroom': 'note',
    });
    expect((await read(source(', fan-in-exceeded: off'))).values.severities).toEqual({
      'fan-in-exceeded': 'off',
      'low-headroom': 'note',
    });
  });
});

/** Every bound of a number: the values on both of its sides, and what is then allowed. */
const RANGES: readonly (readonly [key: string, inside: readonly number[], outside: readonly number[], text: string])[] =
  [
    ['targetLoad', [0.001, 1], [0, -0.8, 1.001], 'a number above 0, up to 1'],
    ['devicesClassic', [1, 256], [0, 1001, 1.5], 'a whole number from 1 to 1000'],
    ['devicesGreatest', [64, 1000], [0, 1001], 'a whole number from 1 to 1000'],
    ['leastRatingMa', [0.001, 10_000], [0, 10_000.001], 'a number from 0.001 to 10000'],
    ['implausibleAboveMa', [0.001, 10_000], [0, 10_000.001], 'a number from 0.001 to 10000'],
    ['assumedLowMa', [0.001, 10], [0, 10_000.001], 'a number from 0.001 to 10000'],
    ['assumedCurrentMa', [3, 12], [0, 10_000.001], 'a number from 0.001 to 10000'],
    ['assumedHighMa', [10, 10_000], [0, 10_000.001], 'a number from 0.001 to 10000'],
    ['typicalSupplyV', [28, 50], [0, 50.001], 'a number above 0, up to 50'],
    ['leastSupplyV', [21, 30], [0, 50.001], 'a number above 0, up to 50'],
    ['leastDeviceV', [20, 28], [0, 50.001], 'a number above 0, up to 50'],
    ['hardDeviceV', [0.001, 21], [0, 50.001], 'a number above 0, up to 50'],
    ['loopOhmPerKm', [0.001, 10_000], [0, 10_000.001], 'a number above 0, up to 10000'],
    ['supplyToDeviceM', [0.001, 10_000], [0, 10_000.001], 'a number above 0, up to 10000'],
    ['cablePerSegmentM', [0.001, 10_000], [0, 10_000.001], 'a number above 0, up to 10000'],
    ['deviceToDeviceM', [0.001, 10_000], [0, 10_000.001], 'a number above 0, up to 10000'],
    ['chokesApartM', [0, 10_000], [-0.001, 10_000.001], 'a number from 0 to 10000'],
    ['measuredShare', [0.001, 1], [0, 1.001], 'a number above 0, up to 1'],
    ['measuredV', [0.001, 10], [0, 10.001], 'a number above 0, up to 10'],
  ];

describe('a value out of range', () => {
  it.each(RANGES.flatMap(([key, , outside, text]) => outside.map((value) => [key, value, text] as const)))(
    '%s: %d is refused with what it takes',
    async (key, value, text) => {
      const { code, detail, place } = await refusalOf(`${key}: ${value}`);
      expect([code, detail, place]).toEqual([
        'invalid-policy',
        `${key}: "${value}" is not allowed; it takes ${text}`,
        { part: NAME },
      ]);
    },
  );

  it.each(RANGES.flatMap(([key, inside]) => inside.map((value) => [key, value] as const)))(
    '%s: %d is none',
    async (key, value) => {
      expect((await read(`${key}: ${value}`)).values).toEqual({ ...COMMON_PRACTICE, [key]: value });
    },
  );

  it('is looked for in every key that is a number', () => {
    const numbers = Object.entries(COMMON_PRACTICE).flatMap(([key, value]) => (typeof value === 'number' ? [key] : []));
    expect(RANGES.map(([key]) => key).sort()).toEqual(numbers.sort());
  });
});

describe('what is wrong in a policy file', () => {
  it.each([
    ['an unknown key', 'targetLod: 0.8', /^the file: there is no key "targetLod"; this is a mapping of \$schema, ext/],
    [
      'an unknown key within',
      'stock: [{ ratingMa: 640, kind: plain }]',
      /stock\[0\]: there is no key "kind"; this is a/,
    ],
    [
      'a rule that is none',
      'severities: { low-room: off }',
      /^severities: there is no key "low-room"; this is a mapping/,
    ],
    [
      'a severity that is none',
      'severities: { low-headroom: of }',
      /^severities\.low-headroom: "of" is not allowed; it/,
    ],
    ['another base', 'extends: strict', /^extends: "strict" .* one of common-practice, conservative, standard$/],
    ['a text for a number', 'targetLoad: "0.8"', /^targetLoad: "0\.8" is not allowed; it takes a number above 0/],
    ['a comma for a point', 'targetLoad: 0,8', /^targetLoad: "0,8" is not allowed; it takes a number/],
    ['nothing for a number', 'targetLoad:', /^targetLoad: "null" is not allowed; it takes a number/],
    ['no number', 'targetLoad: .nan', /^targetLoad: "NaN" is not allowed/],
    ['an infinite number', 'loopOhmPerKm: .inf', /^loopOhmPerKm: "Infinity" is not allowed/],
    [
      'a word of a choice',
      'couplerUpperSide: half',
      /^couplerUpperSide: "half" is not allowed; it takes one of full, none$/,
    ],
    ['a list for the file', '- targetLoad: 1', /^the file: a list is not allowed; it takes a mapping of \$schema/],
    ['a text for the file', 'conservative', /^the file: "conservative" is not allowed; it takes a mapping of/],
    [
      'a list in a list',
      'growth: [[{ line: "1.1" }]]',
      /^growth\[0\]: a list is not allowed; it takes a mapping of line,/,
    ],
    [
      'a list that holds itself',
      'growth: &all [*all]',
      /^growth\[0\]: a list is not allowed; it takes a mapping of line,/,
    ],
    ['a mapping for a list', 'stock: { ratingMa: 640 }', /^stock: a mapping is not allowed; it takes a list of/],
    ['no supply at all', 'stock: []', /^stock: a list is not allowed; it takes a list of at least one supply$/],
    [
      'a kind of supply',
      'stock: [{ ratingMa: 640, kinds: [plane] }]',
      /^stock\[0\]\.kinds\[0\]: "plane" .* plain, reporting, re/,
    ],
    [
      'a rating of 0',
      'stock: [{ ratingMa: 0, kinds: [plain] }]',
      /^stock\[0\]\.ratingMa: "0" .* a number from 0.001 to 10000$/,
    ],
    [
      'a width of 0',
      'stock: [{ ratingMa: 640, kinds: [plain], railUnits: 0 }]',
      /^stock\[0\]\.railUnits: "0" .* a number above 0, up to 100$/,
    ],
    [
      'a price below a hundredth',
      'stock: [{ ratingMa: 640, kinds: [plain], price: 0.009 }]',
      /^stock\[0\]\.price: "0\.009" .* a number from 0\.01 to 1000000$/,
    ],
    [
      'an order number that YAML reads as a number',
      'stock: [{ ratingMa: 640, kinds: [plain], orderNumber: 640 }]',
      /^stock\[0\]\.orderNumber: the number 640 .* a text of 1 to 100 characters/,
    ],
    [
      'a line that YAML reads as a number',
      'growth: [{ line: 1.10 }]',
      /^growth\[0\]\.line: the number 1\.1 .* a text in quotation marks/,
    ],
    [
      'a line without an area',
      'growth: [{ line: "1" }]',
      /^growth\[0\]\.line: "1" is not allowed; it takes .* area\.line/,
    ],
    [
      'too many devices',
      'growth: [{ line: "*", devices: 257 }]',
      /^growth\[0\]\.devices: "257" .* a whole number from 0 to 256$/,
    ],
    [
      'a negative reserve',
      'growth: [{ line: "*", reserveMa: -1 }]',
      /^growth\[0\]\.reserveMa: "-1" .* from 0 to 10000$/,
    ],
    [
      'a product without a note',
      'products: [{ id: a, currentMa: 1 }]',
      /^products\[0\]\.note: nothing is not allowed; it takes a/,
    ],
    [
      'an empty text, told once',
      '$schema: ""',
      /^"\$schema": "" is not allowed; it takes a text of 1 to 500 characters on one line$/,
    ],
    ['a prototype', '__proto__: { targetLoad: 0.5 }', /^the file: there is no key "__proto__"; this is a mapping/],
    ['a prototype in JSON', '{ "__proto__": { "targetLoad": 0.5 } }', /^the file: there is no key "__proto__"/],
    [
      'a prototype within',
      'severities: { __proto__: { low-headroom: off } }',
      /^severities: there is no key "__proto__"/,
    ],
    ['a name of every object', 'constructor: 1', /^the file: there is no key "constructor"/],
    ['no YAML', 'growth: [', /^it is neither YAML nor JSON: ".* at line 1, column \d+"$/],
    ['a key twice', 'targetLoad: 0.8\ntargetLoad: 0.7', /^the key "targetLoad" stands twice in one mapping$/],
    ['two documents', 'targetLoad: 0.8\n---\ntargetLoad: 0.7', /^it holds several documents; keep one$/],
    // More than a library takes that holds every key against every other.
    [
      'very many keys',
      Array.from({ length: 60_000 }, (_, n) => `k${n}: 1`).join('\n'),
      /^the file: there is no key "k0"/,
    ],
    ['an alias of nothing', 'targetLoad: *x', /^it is neither YAML nor JSON: /],
    ['deep nesting', '['.repeat(100_000), /^it is nested too deeply$/],
    ['deep nesting in blocks', '- '.repeat(20_000), /^it is nested too deeply$/],
  ])('is told: %s', async (_, source, problem) => {
    const { code, detail } = await refusalOf(source);
    expect(code).toBe('invalid-policy');
    expect(detail).toMatch(problem);
  });

  it('is told all at once', async () => {
    const { detail } = await refusalOf('targetLoad: 2\ndevicesClassic: none\nextra: 1');
    expect(detail).toMatch(/targetLoad: "2".*devicesClassic: "none".*there is no key "extra"/);
  });

  it('is never an alias that grows without end', async () => {
    const rows = Array.from({ length: 30 }, (_, level) => `a${level + 1}: &a${level + 1} [*a${level}, *a${level}]`);
    const { detail } = await refusalOf(`a0: &a0 [1]\n${rows.join('\n')}`);
    expect(detail).toMatch(/^it is neither YAML nor JSON: /);
  });

  it('leaves the prototype of everything as it was', async () => {
    await refusalOf('__proto__: { polluted: true }');
    expect('polluted' in {}).toBe(false);
  });
});

describe('two values that contradict each other', () => {
  it.each([
    [
      'assumedCurrentMa: 2',
      'assumedLowMa (3, set by common-practice) is above assumedCurrentMa (2, set by policy file)',
    ],
    [
      'assumedCurrentMa: 13',
      'assumedCurrentMa (13, set by policy file) is above assumedHighMa (12, set by common-practice)',
    ],
    [
      'devicesGreatest: 63',
      'devicesClassic (64, set by common-practice) is above devicesGreatest (63, set by policy file)',
    ],
    [
      'leastSupplyV: 30.5',
      'leastSupplyV (30.5, set by policy file) is above typicalSupplyV (30, set by common-practice)',
    ],
    [
      'leastDeviceV: 28.5',
      'leastDeviceV (28.5, set by policy file) is above leastSupplyV (28, set by common-practice)',
    ],
    [
      'extends: conservative\nleastSupplyV: 29',
      'leastSupplyV (29, set by policy file) is above typicalSupplyV (28, set by conservative)',
    ],
  ])('%j are both named', async (source, contradiction) => {
    expect((await refusalOf(source)).detail).toBe(`${contradiction}; set both`);
  });

  it('are none where they are the same', async () => {
    const source = 'assumedLowMa: 10\nassumedHighMa: 10\ndevicesGreatest: 64\nleastSupplyV: 30\nleastDeviceV: 30';
    expect(await setByFile(source)).toHaveLength(5);
  });

  it.each(BUILT_IN_NAMES)('are none in %s', async (name) => {
    expect(await read(`extends: ${name}`)).toEqual(builtIn(name));
  });
});

describe('the digest of a policy', () => {
  it('is that of the values, whoever wrote them and in which order', async () => {
    const digest = await digestOf(
      'targetLoad: 0.7\nseverities: { low-headroom: off, fan-in-exceeded: note }\nloopOhmPerKm: 70',
    );
    expect(digest).toMatch(/^[0-9a-f]{64}$/);
    for (const same of [
      'loopOhmPerKm: 70\nseverities: { fan-in-exceeded: note, low-headroom: off }\ntargetLoad: 0.7',
      'loopOhmPerKm: 7e1\nseverities:\n  fan-in-exceeded: "note"\n  low-headroom: off\ntargetLoad: 0.700',
      '{"loopOhmPerKm":70.0,"targetLoad":0.7,"severities":{"low-headroom":"off","fan-in-exceeded":"note"}}',
      'targetLoad: 0.7\nloopOhmPerKm: 70\nassumedCurrentMa: 10\nseverities: { low-headroom: off, fan-in-exceeded: note }',
    ]) {
      expect(await digestOf(same)).toBe(digest);
    }
    expect(await digestOf('targetLoad: 0.7\nloopOhmPerKm: 70')).not.toBe(digest);
  });

  it('is the same whether what counts anyway is written or not', async () => {
    expect(await digestOf('growth: [{ line: "1.1", devices: 2 }]')).toBe(
      await digestOf('growth: [{ reserveMa: 0, devices: 2, line: "1.1" }]'),
    );
    expect(await digestOf('targetLoad: 0.8')).toBe(policyDigest(COMMON_PRACTICE));
  });

  it('does not hang on the order in which a program has the keys', () => {
    const turned = Object.fromEntries(Object.entries(COMMON_PRACTICE).reverse()) as Policy;
    const stock = turned.stock.map(({ ratingMa, kinds }) => ({ kinds, ratingMa }));
    expect(policyDigest({ ...turned, stock })).toBe(policyDigest(COMMON_PRACTICE));
  });

  it('differs where the order means something', async () => {
    const [first, second] = ['{ id: a*, currentMa: 5, note: n }', '{ id: "*b", currentMa: 7, note: n }'];
    expect(await digestOf(`products: [${first}, ${second}]`)).not.toBe(
      await digestOf(`products: [${second}, ${first}]`),
    );
  });

  it('is of its own for each built-in policy', () => {
    expect(new Set(BUILT_IN_NAMES.map((name) => policyDigest(builtIn(name).values))).size).toBe(BUILT_IN_NAMES.length);
  });
});

describe('where a value is from', () => {
  it('is the source of the built-in one', () => {
    for (const key of Object.keys(COMMON_PRACTICE) as PolicyKey[]) {
      expect(sourceOf(key, builtIn('conservative'))).toEqual(POLICY_SOURCES[key]);
    }
  });

  it('is the file where that set it, even to the same', async () => {
    const policy = await read('targetLoad: 0.8');
    expect(sourceOf('targetLoad', policy).source).toBe('set by hand in the policy file (targetLoad)');
    expect(sourceOf('stock', policy)).toEqual(POLICY_SOURCES.stock);
  });
});

describe('entries about products that come with the policy', () => {
  const own = { id: 'a', currentMa: 5, note: 'own' };
  const given = { id: 'a', currentMa: 7, note: 'given' };

  it('go before its own', async () => {
    const policy = await read('products: [{ id: a, currentMa: 5, note: own }]');
    expect(withProducts(policy, [given]).values).toEqual({ ...policy.values, products: [given, own] });
  });

  it('are set by a file', () => {
    const { setBy } = withProducts(DEFAULT_POLICY, [given]);
    expect(setBy).toEqual({ ...DEFAULT_POLICY.setBy, products: 'product list' });
  });

  it('change nothing where there are none', () => {
    expect(withProducts(DEFAULT_POLICY, [])).toBe(DEFAULT_POLICY);
  });
});

/** Values on both sides of every bound, of every type, and texts; none that JSON Schema cannot tell apart. */
const value = fc.oneof(
  fc.constantFrom(...RANGES.flatMap(([, inside, outside]) => [...inside, ...outside])),
  fc.constantFrom<unknown>('0.8', 'full', 'none', '', null, true, [], {}, 'standard', 'conservative', '1.1'),
);

const stock = fc.record(
  {
    ratingMa: value,
    kinds: fc.subarray(['plain', 'reporting', 'other']),
    railUnits: value,
    price: value,
    orderNumber: fc.constantFrom<unknown>('PS-640', '', 640),
  },
  { requiredKeys: [] },
);
const growth = fc.record(
  {
    line: fc.constantFrom('*', '1.*', '*.2', '1.2', '12.15', '1', '1.', '.1', '100.1', '1.2.3', '1-2', 1.2),
    devices: fc.constantFrom<unknown>(0, 1, 256, 257, -1, 0.5, 'one'),
    reserveMa: value,
  },
  { requiredKeys: [] },
);
const severities = fc.dictionary(
  fc.constantFrom('low-headroom', 'waiver-expired', 'fan-in-exceeded', 'no-rule'),
  fc.constantFrom('error', 'warning', 'note', 'off', 'of', ''),
);

/** What may stand under each key, right and wrong. */
const CONTENTS: Readonly<Record<string, fc.Arbitrary<unknown>>> = {
  ...Object.fromEntries(
    RANGES.map(([key, inside]) => [key, fc.oneof({ weight: 4, arbitrary: fc.constantFrom(...inside) }, value)]),
  ),
  $schema: fc.constantFrom<unknown>('x', '', 'two\nlines', 1),
  extends: fc.constantFrom('common-practice', 'conservative', 'standard', 'none'),
  couplerUpperSide: fc.constantFrom<unknown>('full', 'none', 'half', 1),
  stock: fc.array(stock, { maxLength: 2 }),
  growth: fc.array(growth, { maxLength: 2 }),
  severities,
  unknown: value,
};

const entry = fc.oneof(...Object.entries(CONTENTS).map(([key, content]) => content.map((one) => [key, one] as const)));

/** A few keys only, so that both answers come up often. */
const randomPolicy = fc.array(entry, { maxLength: 4 }).map((entries) => Object.fromEntries(entries));

describe('the JSON Schema of a policy file', () => {
  const validate = new Ajv2020({ strict: true, strictTypes: false }).compile(policyJsonSchema());
  const accepts = (document: unknown) => validate(document);

  /** Whether the shape takes it; that two values contradict each other is beyond JSON Schema. */
  const isRead = async (document: unknown) => {
    try {
      await read(JSON.stringify(document));
      return true;
    } catch (cause) {
      return cause instanceof InputError && cause.detail.endsWith('; set both');
    }
  };

  it.each([
    [true, {}],
    [true, { $schema: './policy.json', extends: 'conservative', targetLoad: 0.7 }],
    [true, { products: [{ orderNumber: 'A-*', kind: 'passive', note: 'sheet' }] }],
    [false, { targetLod: 0.7 }],
    [false, { severities: { 'low-room': 'off' } }],
    [false, { targetLoad: 1.001 }],
    [false, { targetLoad: 0 }],
    [false, { devicesClassic: 64.5 }],
    [true, { stock: [{ ratingMa: 640, kinds: ['plain'], railUnits: 4.5, price: 0.01, orderNumber: 'PS-640' }] }],
    [false, { stock: [{ ratingMa: 640, kinds: ['plain'], price: 0 }] }],
    [false, { stock: [] }],
    [false, { growth: [{ line: '1' }] }],
    [false, { products: [{ id: 'a', currentMa: 5 }] }],
    [false, []],
  ])('says %s to %j, and so does reading', async (answer, document) => {
    expect([accepts(document), await isRead(document)]).toEqual([answer, answer]);
  });

  it('agrees with reading on any policy', async () => {
    const answers = { accepted: 0, refused: 0 };
    await fc.assert(
      fc.asyncProperty(randomPolicy, async (document) => {
        const isAccepted = accepts(document);
        answers[isAccepted ? 'accepted' : 'refused']++;
        expect(await isRead(document)).toBe(isAccepted);
      }),
      { numRuns: 400 },
    );
    expect(Math.min(answers.accepted, answers.refused)).toBeGreaterThan(40);
  });

  it('takes every built-in policy written out', () => {
    for (const name of BUILT_IN_NAMES) expect([accepts(builtIn(name).values), validate.errors]).toEqual([true, null]);
  });
});

describe('a policy that is written out', () => {
  it.each(BUILT_IN_NAMES)('is read back as it was: %s', async (name) => {
    const { values } = builtIn(name);
    expect((await read(stringify(values))).values).toEqual(values);
    expect((await read(JSON.stringify(values))).values).toEqual(values);
  });
});
