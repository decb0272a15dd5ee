import type { Basis } from './basis.js';
import type { BuiltInName, Policy, PolicyKey } from './policy.js';

/** What most planners do; each value with its source in {@link POLICY_SOURCES}. */
export const COMMON_PRACTICE: Policy = {
  targetLoad: 0.8,
  assumedCurrentMa: 10,
  assumedLowMa: 3,
  assumedHighMa: 12,
  stock: [
    { ratingMa: 160, kinds: ['plain'] },
    { ratingMa: 320, kinds: ['plain'] },
    { ratingMa: 640, kinds: ['plain', 'reporting'] },
    { ratingMa: 1280, kinds: ['plain', 'reporting'] },
  ],
  couplerUpperSide: 'full',
  devicesClassic: 64,
  devicesGreatest: 256,
  leastRatingMa: 25,
  implausibleAboveMa: 100,
  typicalSupplyV: 30,
  leastSupplyV: 28,
  leastDeviceV: 21,
  hardDeviceV: 20,
  deviceModel: 'constant current',
  loopOhmPerKm: 73.2,
  supplyToDeviceM: 350,
  cablePerSegmentM: 1000,
  deviceToDeviceM: 700,
  chokesApartM: 200,
  measuredShare: 0.2,
  measuredV: 0.5,
  growth: [],
  severities: {},
  products: [],
};

/** What each built-in policy changes of common practice. */
export const BUILT_IN: { readonly [name in BuiltInName]: Partial<Policy> } = {
  'common-practice': {},
  conservative: { targetLoad: 0.7, typicalSupplyV: 28, assumedCurrentMa: 20, assumedHighMa: 60 },
  standard: { severities: { 'fan-in-exceeded': 'error' } },
};

/** In a word what each is for. */
export const BUILT_IN_FOR: { readonly [name in BuiltInName]: string } = {
  'common-practice': 'what most planners do',
  conservative:
    'least supply voltage, 70 % of the rating, and devices that declare nothing taken as gateways or displays',
  standard: 'common practice, and the standard’s fan-in count binds',
};

export interface Source {
  readonly basis: Basis;
  readonly source: string;
}

/** Where each value of the built-in policies is from. Volumes are those of the bus standard's specification. */
export const POLICY_SOURCES: { readonly [key in PolicyKey]: Source } = {
  targetLoad: {
    basis: 'common practice',
    source: 'common practice, no source: about 80 % is a good working point (70 % is the conservative policy’s)',
  },
  assumedCurrentMa: {
    basis: 'common practice',
    source: 'common practice, no source: the rule of thumb is 10 mA; gateways draw about 20 mA',
  },
  assumedLowMa: { basis: 'standard', source: 'volume 3/2/2: a standard device draws 3 to 12 mA' },
  assumedHighMa: {
    basis: 'standard',
    source:
      'volume 3/2/2: a standard device draws 3 to 12 mA (60 mA, the conservative policy’s, is common practice: a display fed from the bus alone)',
  },
  stock: { basis: 'common practice', source: 'common practice, no source: the usual ratings' },
  couplerUpperSide: {
    basis: 'common practice',
    source: 'common practice, no source: a coupler may draw from both its sides',
  },
  devicesClassic: { basis: 'standard', source: 'volume 3/2/2: 64 devices of the classic type per segment' },
  devicesGreatest: { basis: 'standard', source: 'volume 3/2/2: 256 devices of the newer type per segment' },
  leastRatingMa: { basis: 'standard', source: 'volume 9/2 §6: 25 mA is the smallest (decentral) supply' },
  implausibleAboveMa: {
    basis: 'common practice',
    source: 'common practice, no source: real devices draw 2.5 to 60 mA',
  },
  typicalSupplyV: { basis: 'standard', source: 'volume 9/2 §2.2: 28–31 V, typically 30 V' },
  leastSupplyV: { basis: 'standard', source: 'volume 9/2 §2.2: 28–31 V, typically 30 V' },
  leastDeviceV: { basis: 'standard', source: 'volume 3/2/2 §1.2.2: 21 V as installed' },
  hardDeviceV: { basis: 'standard', source: 'volume 3/2/2 §1.2.2: devices must still work at 20 V' },
  deviceModel: {
    basis: 'common practice',
    source: 'common practice, no source: devices are planned with the current that they declare',
  },
  loopOhmPerKm: { basis: 'handbook', source: 'VDE 0816: 73.2 Ω/km greatest loop resistance of a 0.8 mm pair' },
  supplyToDeviceM: { basis: 'standard', source: 'volume 9/2 §2.11: 350 m from a supply to a device' },
  cablePerSegmentM: { basis: 'standard', source: 'volume 3/2/2: at most 1000 m of cable per segment' },
  deviceToDeviceM: { basis: 'standard', source: 'volume 3/2/2: at most 700 m along the cable between two devices' },
  chokesApartM: { basis: 'standard', source: 'volume 9/2 §2.11: chokes at least 200 m of cable apart' },
  measuredShare: {
    basis: 'common practice',
    source: 'common practice, no source: data sheets state what a device draws at most, meters and cable add a little',
  },
  measuredV: {
    basis: 'common practice',
    source: 'common practice, no source: supplies differ by a few tenths of a volt, and so do meters',
  },
  growth: { basis: 'common practice', source: 'nothing is planned unless the policy says so' },
  severities: { basis: 'common practice', source: 'each rule’s own severity unless the policy says otherwise' },
  products: { basis: 'common practice', source: 'the archive’s values unless the policy says otherwise' },
};
