import { count, figures } from './sentences.js';

const { milliamps, percent } = figures;

/** Notes on what was taken, or is charged nowhere, because nothing says it. */
const notes = {
  uncharged: (f: { coupler: string; lineAbove: string; source: 'archive' | 'plan' }) =>
    `The coupler ${f.coupler} reaches line ${f.lineAbove}, which the ${f.source === 'plan' ? 'plan' : 'export'} does not hold; what it draws there is charged nowhere.`,
  noMedium: 'The export states no medium; twisted pair is taken.',
  unknownMedium: (f: { id: string; name: string }) =>
    `The medium ${f.name === f.id ? f.id : `${f.name} (${f.id})`} is not known here; the segment is judged as twisted pair.`,
};

/** How many segments are carried, and what is wrong with the others. */
interface VerdictFacts {
  readonly carried: number;
  readonly judged: number;
  readonly tight: number;
  readonly insufficient: number;
  readonly unfed: number;
  readonly undecidable: number;
}

function verdict(f: VerdictFacts): string {
  if (f.judged === 0) return 'No segment needs bus power.';
  const bad = [
    f.insufficient > 0 ? `${f.insufficient} overloaded` : '',
    f.unfed > 0 ? `${f.unfed} without a supply` : '',
    f.undecidable > 0 ? `${f.undecidable} undecidable` : '',
  ].filter(Boolean);
  const verb = f.carried === 1 || f.judged === 1 ? 'is' : 'are';
  const tight = f.tight > 0 ? ` (${f.tight} with low headroom)` : '';
  const rest = bad.length === 0 ? '.' : `; ${bad.join(', ')}.`;
  return `${f.carried} of ${count(f.judged, 'bus-powered segment')} ${verb} carried by the supplies${tight}${rest}`;
}

/** How far a figure is from its limit, and on which side. */
interface MarginFacts {
  readonly margin: string;
  readonly isBeyond: boolean;
  /** Whether the limit is one from below. */
  readonly isFloor: boolean;
  /** Whether the figure counts things rather than measuring something. */
  readonly isCounted: boolean;
}

/** The figure of a finding: its value, the limit and how they stand to each other. */
const figure = {
  value: (f: { quantity: string; value: string | null }) =>
    f.value === null ? `${f.quantity} not known` : `${f.quantity} ${f.value}`,
  noLimit: 'limit not known',
  bound: (f: { holds: 'at most' | 'at least' | 'below'; limit: string }) => `must be ${f.holds} ${f.limit}`,
  margin: (f: MarginFacts) => {
    if (!f.isBeyond) return `${f.margin} within the limit`;
    if (f.isCounted) return `${f.margin} ${f.isFloor ? 'too few' : 'too many'}`;
    return `${f.margin} ${f.isFloor ? 'too little' : 'too much'}`;
  },
  turn: (ma: number) => `turns at ${milliamps(ma)} for each assumed device`,
  limitBy: (f: { setBy: string; key: string | null }) => `limit by ${f.setBy}${f.key === null ? '' : ` (${f.key})`}`,
};

/** What the report was made with. */
const basis = {
  title: 'Basis',
  currents: (f: { declared: number; overridden: number; assumed: number; assumedMa: number }) =>
    `Currents: ${f.declared} declared, ${f.overridden} overridden, ${f.assumed} assumed at ${milliamps(f.assumedMa)} (loads marked *)`,
  assumed: (f: { assumed: number; assumedMa: number; mark: string }) =>
    `Currents: ${f.assumed} assumed at ${milliamps(f.assumedMa)} (loads marked ${f.mark})`,
  dataSheets: (n: number) => `Data sheets to look up: ${n} (linebudget unknowns lists them)`,
  policy: (f: { name: string; changed: readonly string[]; target: number; sha256: string }) =>
    `Policy: ${f.name}${f.changed.length === 0 ? '' : `, changed in ${f.changed.join(', ')}`}; target ${percent(f.target)} of the rating; sha-256 ${f.sha256}`,
  extended: (f: { name: string; target: number; sha256: string }) =>
    `Policy: extends ${f.name}, target ${percent(f.target)} of the rating; sha-256 ${f.sha256}`,
  unusedEntries: 'Entries of the policy that are for nothing here:',
  waivers: (f: { asOf: string; waived: number }) =>
    `Waivers: judged as of ${f.asOf}; ${f.waived} of the findings waived`,
  waiversAsOf: (asOf: string) => `Waivers as of ${asOf}`,
  baseline: (f: { sha256: string; tool: string }) => `Baseline: the report of archive sha-256 ${f.sha256} by ${f.tool}`,
  baselineOf: (sha256: string) => `Baseline: archive with sha-256 ${sha256}`,
  archive: (f: { bytes: number; parts: number; sha256: string }) =>
    `Archive: ${f.bytes} bytes, ${count(f.parts, 'part')} read; sha-256 ${f.sha256}`,
  file: (f: { source: string; bytes: number; sha256: string }) => `${f.source}: ${f.bytes} bytes; sha-256 ${f.sha256}`,
  tool: (name: string) => `Tool: ${name}`,
};

/** What the site sheet adds. */
const site = {
  title: (f: { sited: number; segments: number; sha256: string }) =>
    `Site sheet: ${count(f.sited, 'segment')} of ${f.segments}; sha-256 ${f.sha256}`,
  columns: [
    'Segment',
    'Cable',
    'To supply',
    'Lowest, typical supply voltage',
    'Lowest, least supply voltage',
    'Voltage',
  ],
  unknown: 'length or feed not known',
  length: (f: { leastM: number | null; mostM: number | null }) => {
    if (f.mostM === null) return `${f.leastM} m or more`;
    return f.leastM === null ? `up to ${f.mostM} m` : `${f.leastM} to ${f.mostM} m`;
  },
  noVoltage: 'none',
  voltageRange: (f: { lowV: number | null; highV: number; estimateV: number | null }) =>
    `${f.lowV === null ? 'none' : f.lowV} to ${f.highV} V${f.estimateV === null ? '' : `, estimate ${f.estimateV} V`}`,
  holdUpOf: (label: string) => `Hold-up of ${label}:`,
  holdUp: (f: HoldUpFacts) => {
    const lasts = `the one given lasts ${f.lastsHours === null ? 'as long as it keeps' : `${f.lastsHours} h`}`;
    const given = f.capacityAh === null ? 'no capacity is given' : lasts;
    const battery = `${f.batteryMa} mA from a battery of ${f.batteryV} V; ${f.neededAh} Ah are needed, ${given}`;
    const taken = f.assumed.length === 0 ? '' : ` Taken: ${f.assumed.join('; ')}.`;
    const how = f.methods.length === 0 ? '' : ` By: ${f.methods.join('; ')}.`;
    return `${f.wantedHours} h of ${f.busMa} mA on the bus: ${battery}.${taken}${how} ${f.caution}`;
  },
};

interface HoldUpFacts {
  readonly wantedHours: number;
  readonly busMa: number;
  readonly batteryMa: number;
  readonly batteryV: number;
  readonly neededAh: number;
  readonly capacityAh: number | null;
  readonly lastsHours: number | null;
  readonly assumed: readonly string[];
  readonly methods: readonly string[];
  readonly caution: string;
}

/** The columns and cells of the segments. */
const segments = {
  columns: {
    line: 'Line',
    name: 'Name',
    load: 'Load',
    rating: 'Rating',
    share: 'Share',
    headroom: 'Headroom',
    room: 'Room',
    verdict: 'Verdict',
  },
  notPowered: (medium: string) => `not bus-powered (${medium})`,
  openBounds: 'undecidable: bounds not known',
  openFeed: 'undecidable: feed not known',
  openRating: 'undecidable: rating not known',
  notTogether: 'undecidable: supplies not admissible together',
};

/** Findings and the lines around them. */
const findings = {
  none: 'No findings.',
  title: (f: { counts: string; waived: number }) =>
    `Findings: ${f.counts}${f.waived === 0 ? '' : `; ${f.waived} waived, marked below`}`,
  marks: { error: 'ERROR', warning: 'WARNING', note: 'NOTE' },
  lists: { error: 'Errors', warning: 'Warnings', note: 'Notes' },
  newList: 'New since the baseline',
  why: 'Why:',
  limit: 'Limit:',
  basis: 'Basis:',
  figure: 'Figure:',
  do: 'Do:',
  waived: 'Waived:',
  waivedCount: (n: number) => `${n} waived`,
  waiver: (f: {
    reason: string;
    author: string;
    expires: string;
    accepted: string | null;
    raiseAbove: string | null;
  }) => {
    const again = f.raiseAbove === null ? '' : `, again above ${f.raiseAbove}`;
    const figure = f.accepted === null ? '' : `; accepted at ${f.accepted}${again}`;
    return `${f.reason} (${f.author}, until ${f.expires}${figure})`;
  },
  cut: (f: { shown: number; total: number }) => `${f.shown} shown of ${f.total}; the JSON report has all of them`,
};

/** What was checked, and what not. */
const coverage = {
  counts: (f: { rules: number; segments: number; passed: number; found: number; skipped: number; failed: number }) =>
    `Coverage: ${count(f.rules, 'rule')} on ${count(f.segments, 'segment')}, some on the installation as well: ${f.passed} passed, ${f.found} found something, ${f.skipped} skipped${f.failed === 0 ? '' : `, ${f.failed} FAILED`}`,
  skipped: (f: { times: number; reason: string }) => `${f.times} skipped: ${f.reason}`,
  off: 'Off by the policy:',
};

/** The report as people read it. */
export const report = {
  caution:
    'Every figure is a planning aid: data sheets, local codes and licensed practice decide. The mains side of a supply is work for a licensed electrician under the local code; bus wiring (SELV) and mains wiring are kept apart. Peaks when power returns are not in these figures.',
  cautionOf: (caution: string) => `Caution: ${caution}`,
  incomplete: 'INCOMPLETE: a rule failed by a fault of this tool; something may be missing.',
  nothingChecked: 'NOTHING WAS CHECKED: every rule is off, or lacks what it needs.',
  title: (tool: string) => `${tool}: bus power audit`,
  verdict,
  counts: (f: { error: number; warning: number; note: number }) =>
    [count(f.error, 'error'), count(f.warning, 'warning'), count(f.note, 'note')].join(', '),
  summary: (f: { verdict: string; counts: string; waived: number; isComplete: boolean; isEmpty: boolean }) => {
    const waived = f.waived === 0 ? '' : `, ${f.waived} waived`;
    const incomplete = f.isComplete ? '' : ' — INCOMPLETE, a rule failed';
    return `${f.verdict} ${f.counts}${waived}${incomplete}${f.isEmpty ? ' — NOTHING WAS CHECKED' : ''}`;
  },
  project: (f: { name: string | null; id: string; schema: number | null }) => {
    const name = f.name ?? '(no name)';
    return f.schema === null ? `Plan ${name}` : `Project ${name} (${f.id}), schema ${f.schema}`;
  },
  installation: (f: { number: number | null; segments: number; placed: number; unplaced: number }) => {
    const which = f.number === null ? '' : `Installation ${f.number}: `;
    const unplaced = f.unplaced === 0 ? '' : `, ${f.unplaced} on no line`;
    return `${which}${count(f.segments, 'segment')}, ${count(f.placed, 'device')} placed${unplaced}`;
  },
  note: 'Note:',
  noteOnLine: (f: { line: string; note: string }) => `Line ${f.line}: ${f.note}`,
  notes,
  segments,
  findings,
  figure,
  coverage,
  basis,
  site,
};
