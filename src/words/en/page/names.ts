import { names as shared } from '../names.js';

/** What the report has by a key that only the page shows. */
export const names = {
  inForce: { ...shared.severities, off: 'off' },
  origins: { declared: 'declared', overridden: 'overridden', assumed: 'assumed' },
  /** What a device is to the power of the bus. */
  roles: {
    consumer: 'consumer',
    coupler: 'coupler',
    repeater: 'repeater',
    supply: 'supply',
    'supply and coupler': 'supply and coupler',
    choke: 'choke',
    accessory: 'accessory',
    cable: 'cable',
    'passive part': 'passive part',
  },
  /** A participant of its own segment needs no remark. */
  chargedAs: { 'coupler from below': 'coupler from below', bridge: 'bridge' },
  quantities: { current: 'current', voltage: 'voltage' },
  wanted: { current: 'current', rating: 'rating' },
  /** Longer than elsewhere, as a title and a link need more than a word. */
  actions: {
    stays: 'stays as it is',
    add: 'add a supply',
    remove: 'take a supply out',
    replace: 'replace the supply',
    order: 'order a supply',
    split: 'split the segment',
    none: 'nothing can be proposed',
  },
  nearness: {
    'same board or room': 'the same board or room',
    'same floor': 'the same floor',
    'electrically possible': 'electrically possible only: no place that they share is known',
  },
  supplies: { supply: 'supplies', coupler: 'couplers' },
  /** Why a current is assumed, or has to be looked up; a limit may stand in it. */
  because: (reason: string): string => reason,
  /** Where a value of the policy is from; of one that a file has set the file. */
  policySource: (f: { key: string; source: string }): string => f.source,
};
