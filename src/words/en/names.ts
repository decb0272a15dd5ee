/** What is called by a name: the keys are what the report has, whatever the language. */
export const names = {
  verdicts: {
    insufficient: 'insufficient',
    unfed: 'unfed',
    undecidable: 'undecidable',
    tight: 'tight',
    sufficient: 'sufficient',
    idle: 'idle',
    'not-bus-powered': 'not-bus-powered',
  },
  severities: { error: 'error', warning: 'warning', note: 'note' },
  bases: {
    standard: 'standard',
    handbook: 'handbook',
    'common practice': 'common practice',
    'from memory': 'from memory',
    derived: 'derived',
    'set by hand': 'set by hand',
  },
  holds: { 'at most': 'at most', 'at least': 'at least' },
  sinceBaseline: { new: 'new', worsened: 'worsened', improved: 'improved', unchanged: 'unchanged' },
  voltageVerdicts: {
    holds: 'holds',
    'too low': 'too low',
    undecidable: 'undecidable',
    overloaded: 'overloaded',
  },
  voltageBases: {
    'all placed': 'all placed',
    'runs, not all placed': 'runs, not all placed',
    'length only': 'length only',
  },
  actions: {
    stays: 'stays',
    add: 'add',
    remove: 'remove',
    replace: 'replace',
    order: 'order',
    split: 'split',
    none: 'none',
  },
  supplyKinds: { plain: 'plain', reporting: 'reporting', redundant: 'redundant' },
  /** In the words of the totals of the schedule. */
  scheduleStates: { existing: 'stay', new: 'to order', replacement: 'to order (replacement)', remove: 'to take out' },
  scheduleItems: { supply: 'supply', coupler: 'coupler' },
  /** How a split was found. */
  splitMethods: {
    optimal: 'proved to be the best',
    'within the time': 'searched as long as the time allowed',
    heuristic: 'by first-fit decreasing over boards and rooms, not proved',
  },
  sources: { archive: 'Archive', plan: 'Plan' },
  /** Who set a limit: a policy that is built in, by its own name, or a file. */
  setBy: (by: string): string => by,
  /** A segment as sheets and texts call it, such as `1.2 segment 1`. */
  segment: (label: string): string => label,
  /** A medium; one that only an archive names keeps the archive's name. */
  medium: (name: string): string => name,
  /** Where a supply is to go: what people call the place, or `area 1` where nothing nearer is known. */
  place: (place: string): string => place,
};
