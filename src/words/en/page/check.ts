import { count, figures } from '../sentences.js';

const { list, milliamps } = figures;

/** Data sheets to look up. */
export const unknowns = {
  heading: 'Data sheets to look up',
  none: 'Every current and every rating is known.',
  caption: 'Products whose data sheet has to be looked up',
  wanted: 'Wanted',
  because: 'As it is',
  declared: 'Declared',
  charged: 'Charged meanwhile',
  turns: 'A verdict turns at',
  found: 'Found',
};

/** The sheet to take along and fill in. */
export const check = {
  heading: 'Site check',
  intro: 'What to measure at hand-over, and room for what the meter shows.',
  connectedOnly:
    'Where the archive marks devices as loaded, or the site sheet says which are connected, these alone are expected to draw; the load of a segment counts all its devices.',
  none: 'There is nothing to measure.',
  caption: 'What to measure',
  quantity: 'Quantity',
  where: 'At',
  together: 'Together with',
  expected: 'Expected',
  between: 'Expected between',
  measured: 'Measured',
  date: 'Date',
  note: 'Note',
  signed: 'Measured by',
};

/** `1 current is declared and 2 are assumed at 10 mA.`, without what there is none of. */
function currentsText(counts: readonly (readonly [currents: number, how: string])[]): string {
  const told = counts.filter(([currents]) => currents > 0);
  const parts = told.map(([currents, how], index) => {
    const subject = index === 0 ? count(currents, 'current') : currents;
    return `${subject} ${currents === 1 ? 'is' : 'are'} ${how}`;
  });
  return parts.length === 0 ? 'Nothing draws a current.' : `${list(parts)}.`;
}

/** What the figures rest on that nobody has said. */
export const assumptions = {
  heading: 'Assumptions',
  currents: (f: { declared: number; overridden: number; assumed: number; eachMa: number }) =>
    currentsText([
      [f.declared, 'declared'],
      [f.overridden, 'overridden'],
      [f.assumed, `assumed at ${milliamps(f.eachMa)}`],
    ]),
  caption: 'Segments of which currents are assumed',
  items: 'Items',
  low: 'At the least',
  high: 'At the most',
  turns: 'Turns tight, insufficient at',
  notes: 'What was taken because the export does not say it',
  unplaced: (devices: number) =>
    `${count(devices, 'device stands', 'devices stand')} on no line, and ${devices === 1 ? 'is' : 'are'} charged to none.`,
};

/** What the report rests on. */
export const basis = {
  heading: 'Basis',
  caution: 'Caution',
  policy: (f: { name: string; changed: number }) =>
    `Policy used: ${f.name}${f.changed === 0 ? '' : `, changed in ${count(f.changed, 'value')}`}`,
  policyCaption: 'Values of the policy',
  key: 'Key',
  value: 'Value',
  setBy: 'Set by',
  noEntries: 'none',
  source: 'Source',
  coverage: 'What was checked',
  coverageCaption: 'Rules, how often each ended how, and their limits',
  rule: 'Rule',
  inForce: 'In force as',
  statuses: { passed: 'Passed', found: 'Found', skipped: 'Skipped', failed: 'Failed' },
  missing: 'Why some were skipped',
  digests: 'Digests',
  bytes: (bytes: number) => count(bytes, 'byte'),
  policyDigest: 'Policy',
  site: 'Site sheet and measured values',
  waivers: 'Waivers',
  waiversText: (f: { asOf: string; waived: number }) => `judged as of ${f.asOf}; ${f.waived} of the findings waived`,
  baseline: 'Baseline',
  baselineText: (f: { sha256: string; tool: string }) => `the report of archive sha-256 ${f.sha256} by ${f.tool}`,
  parts: 'Parts of the archive that were read',
  part: 'Part',
  length: 'Bytes',
  crc: 'CRC-32',
  projects: 'Projects',
  project: 'Project',
  installation: 'Installation',
  schema: 'Schema',
  segments: 'Segments',
};
