import { segmentLabel } from '../../src/plant/plant.js';
import type { Policy } from '../../src/policy/policy.js';
import type { Rule } from '../../src/rules/rule.js';
import {
  check,
  choke,
  consumer,
  consumers,
  coverageByLabel,
  type DeviceSpec,
  type PlantSpec,
  supply,
} from './plants.js';

/** A plant of one new-form segment, line 1.1. */
export const only = (devices: readonly DeviceSpec[], policy: Partial<Policy> = {}): PlantSpec => ({
  lines: [{ line: '1.1', segments: [devices] }],
  policy,
});

/** The same on another medium. */
export const onMedium = (medium: string, devices: readonly DeviceSpec[]): PlantSpec => ({
  lines: [{ line: '1.1', medium, segments: [devices] }],
});

/** The same in the old form, where the line is the segment. */
export const oldForm = (devices: readonly DeviceSpec[]): PlantSpec => ({
  schema: 14,
  lines: [{ line: '1.1', devices }],
});

/** A coupler within a line. */
export const repeater = (address: number, ma: string | number = 10): DeviceSpec => ({
  address,
  ma,
  name: 'Repeater',
  is: { isCoupler: true },
});

/** What a rule says of a plant, in a form that tables compare: labels instead of objects. */
export function said(rule: Rule, plant: PlantSpec) {
  const { findings, coverage } = check(rule, plant);
  return {
    found: findings.map(({ subject, severity, restsOn, segments, facts, message, remedy }) => ({
      about: `${subject.kind} ${subject.label}`,
      severity: severity ?? rule.severity,
      restsOn,
      segments: segments.map(segmentLabel),
      facts,
      message,
      remedy,
    })),
    coverage: coverageByLabel(coverage),
  };
}

/** Media that carry no power, each with the missing fact that a rule about power names there. */
export const UNPOWERED: readonly (readonly [medium: string, missing: string])[] = [
  ['MT-1', 'the medium powerline carries no bus power'],
  ['MT-2', 'the medium radio carries no bus power'],
  ['MT-5', 'the medium IP carries no bus power'],
];

export const BOUNDS_MISSING = 'the export does not say which of several electrical segments a device is on';

/** A segment whose bounds the export does not say: 10 mA and a repeater of 10 mA on 640 mA. */
export const BOUNDS_UNKNOWN = oldForm([supply(640), consumer(1, 10), repeater(64)]);

/** Every way in which there is nothing to hold a load against, with the missing fact that coverage names. */
export const NO_CAPACITY: readonly (readonly [what: string, plant: PlantSpec, missing: string])[] = [
  ['bounds that the export does not say', BOUNDS_UNKNOWN, BOUNDS_MISSING],
  ...UNPOWERED.map(([medium, missing]) => {
    return [`the medium ${medium}`, onMedium(medium, [supply(640), consumer(1, 10)]), missing] as const;
  }),
  ['a choke fed from elsewhere', only([choke(), consumer(1, 10)]), 'the supply that feeds the segment is not known'],
  ['no supply at all', only([consumer(1, 10)]), 'there is no supply'],
  [
    'three central supplies',
    only([supply(160), supply(160), supply(160), consumer(1, 10)]),
    'the supplies may not stand on one segment together',
  ],
  [
    'too much short-circuit current',
    only([supply(1280), supply(160), consumer(1, 10)]),
    'the supplies may not stand on one segment together',
  ],
  ['a supply without a rating', only([supply(), consumer(1, 10)]), 'the rating of a supply is not declared'],
  [
    'a supply without a rating beside one that is full',
    only([supply(), supply(320), ...consumers(26, 10)]),
    'the rating of a supply is not declared',
  ],
];
