import type { WaivedFacts } from '../../facts.js';
import { count, figures } from '../sentences.js';

/** Rules about what was accepted. */
export const waiverRules = {
  'waiver-expired': {
    title: 'A waiver is past its last day',
    why: 'A risk was accepted until a day; after it somebody has to look again, or it is forgotten for good.',
    remedy: 'Mend what is found, or accept it anew with a later day.',
    limit: 'a waiver counts to the end of its last day (UTC)',
    source: 'common practice, no source; the day is the waiver’s',
    message: (f: WaivedFacts & { days: number }) =>
      `The waiver of ${f.waived} by ${f.author} ended on ${f.expires}, ${count(f.days, 'day')} before ${f.asOf}; the finding counts again.`,
    advice: (f: WaivedFacts) =>
      `Mend what is found. If the reason still holds (${f.reason}), set a later day in \`expires\`.`,
  },
  'waiver-outgrown': {
    title: 'A finding is worse than what was accepted',
    why: 'What was accepted was a certain figure; a worse one is a risk that nobody has looked at.',
    remedy: 'Bring the figure back to what was accepted, or accept the new one.',
    limit: 'the figure is no worse than `raiseAbove`, or `accepted` where the waiver has none',
    source: 'common practice, no source; the figure is the waiver’s',
    message: (
      f: WaivedFacts & {
        quantity: string;
        isFloor: boolean;
        limit: number;
        unit: string;
        value: number | null;
        incomparable: string | null;
      },
    ) => {
      const bound = `${f.isFloor ? 'down' : 'up'} to ${f.limit} ${f.unit}`;
      const covers = `The waiver of ${f.waived} by ${f.author} covers the figure (${f.quantity}) ${bound}`;
      return f.value === null
        ? `${covers}, but ${f.incomparable}; it does not count.`
        : `${covers}; now it is ${shown(f.value, f.unit)}, and the finding counts again.`;
    },
    advice: (f: WaivedFacts & { value: number | null }) =>
      f.value === null
        ? 'Write `accepted` in the unit of the finding’s figure, or leave it out to accept any figure.'
        : `Bring the figure back, or accept the new one if the reason still holds (${f.reason}).`,
  },
  'waiver-unused': {
    title: 'A waiver is for nothing that was found',
    why: 'A waiver that is left behind hides the same finding when it comes back, and makes the list longer than the truth.',
    remedy: 'Delete the entry, or correct its fingerprint and rule.',
    limit: 'a waiver’s fingerprint and rule are those of a finding',
    source: 'common practice, no source',
    message: (f: WaivedFacts & { because: string }) =>
      `The waiver of ${f.waived} by ${f.author} is for nothing: ${f.because}.`,
    advice: (f: { foundRule: string | null }) =>
      f.foundRule === null
        ? 'Delete the entry; if the finding is still there, it has another fingerprint, which the report gives.'
        : `If ${f.foundRule} is what is meant, write that as its rule; otherwise delete the entry.`,
  },
};

/** Parts of the facts of these rules that are words. */
export const waiverFacts = {
  waived: (rule: string, subject: string | undefined) => (subject === undefined ? rule : `${rule} for ${subject}`),
  noFigure: 'the finding has no figure',
  noShare: 'the finding’s figure is no share of anything',
  otherUnit: (unit: string) => `the finding’s figure is in ${unit}`,
  ruleOff: 'the policy has the rule off',
  otherRule: (rule: string) => `the finding with its fingerprint is of the rule ${rule}`,
  nothingFound: 'no finding has its fingerprint',
};

/** A share never reads as the limit that it exceeds. */
function shown(value: number, unit: string): string {
  return unit === '%' ? figures.percent(value / 100) : `${value} ${unit}`;
}
