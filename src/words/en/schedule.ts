import { count, figures } from './sentences.js';

const { list, number } = figures;

/** A sum of which parts may be missing. */
interface PartlyKnown {
  readonly known: number | null;
  readonly unknown: number;
}

/** A sum as it is said: the figure where all is known, else words, which nobody takes for the whole. */
function partlyKnown(f: PartlyKnown): string {
  if (f.known === null) return 'not known';
  return f.unknown === 0 ? number(f.known) : `at least ${number(f.known)}, not known of ${f.unknown}`;
}

/** The schedule of supplies. */
export const schedule = {
  title: 'Schedule of supplies',
  columns: {
    place: 'Place',
    state: 'State',
    quantity: 'Quantity',
    rating: 'Rating',
    kind: 'Kind',
    orderNumber: 'Order number',
    lines: 'Lines',
  },
  cut: (f: { shown: number; total: number }) => `${f.shown} shown of ${f.total}; --format csv-schedule has all`,
  becomes: { 'To order': 'To order', Stay: 'Stay', 'To take out': 'To take out' },
  counted: {
    supply: (quantity: number) => count(quantity, 'supply', 'supplies'),
    coupler: (quantity: number) => count(quantity, 'coupler'),
  },
  partlyKnown,
  railUnits: (units: string) => `rail units ${units}`,
  noWidth: 'width not known',
  price: (sum: string) => `price ${sum}`,
  notScheduled: 'Not scheduled:',
  /** `Line 1.6, as the supply that feeds the segment is not known.` */
  gap: (f: { segments: readonly string[]; because: string | null }) => {
    const lines = `${f.segments.length === 1 ? 'Line' : 'Lines'} ${list(f.segments)}`;
    return f.because === null ? `${lines}.` : `${lines}, as ${f.because}.`;
  },
};
