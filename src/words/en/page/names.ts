/** What the report has by a key, as people read it. */
export const names = {
  inForce: { error: 'error', warning: 'warning', note: 'note', off: 'off' },
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
  kinds: { plain: 'plain', reporting: 'reporting', redundant: 'redundant' },
  actions: {
    stays: 'stays as it is',
    add: 'add a supply',
    remove: 'take a supply out',
    replace: 'replace the supply',
    order: 'order a supply',
    split: 'split the segment',
    none: 'nothing can be proposed',
  },
  methods: {
    optimal: 'proved to be the best',
    'within the time': 'searched as long as the time allowed',
    heuristic: 'by first-fit decreasing over boards and rooms, not proved',
  },
  nearness: {
    'same board or room': 'the same board or room',
    'same floor': 'the same floor',
    'electrically possible': 'electrically possible only: no place that they share is known',
  },
  states: { existing: 'existing', new: 'new', replacement: 'replacement', remove: 'remove' },
  items: { supply: 'supply', coupler: 'coupler' },
  supplies: { supply: 'supplies', coupler: 'couplers' },
  /** Why a current is assumed, or has to be looked up; a limit may stand in it. */
  because: (reason: string): string => reason,
  /** Where a supply is to go; an area where nothing tells more. */
  place: (place: string): string => place,
  /** Where a value of the policy is from; of one that a file has set the file. */
  policySource: (f: { key: string; source: string }): string => f.source,
};
