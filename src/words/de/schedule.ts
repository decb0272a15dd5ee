import type { Words } from '../words.js';
import { names } from './names.js';
import { count, figures } from './sentences.js';

const { list, number } = figures;

type Schedule = Words['schedule'];

export const schedule: Schedule = {
  title: 'Aufstellung der Versorgungen',
  columns: {
    place: 'Ort',
    state: 'Zustand',
    quantity: 'Menge',
    rating: 'Nennstrom',
    kind: 'Art',
    orderNumber: 'Bestellnummer',
    lines: 'Linien',
  },
  cut: (f) => `${f.shown} von ${f.total} gezeigt; --format csv-schedule enthält alle`,
  becomes: { 'To order': 'Zu bestellen', Stay: 'Bestehen bleiben', 'To take out': 'Auszubauen' },
  counted: {
    supply: (quantity) => count(quantity, 'Versorgung', 'Versorgungen'),
    coupler: (quantity) => count(quantity, 'Koppler', 'Koppler'),
  },
  partlyKnown: (f) => {
    if (f.known === null) return 'nicht bekannt';
    return f.unknown === 0 ? number(f.known) : `mindestens ${number(f.known)}, nicht bekannt bei ${f.unknown}`;
  },
  railUnits: (units) => `Teilungseinheiten ${units}`,
  noWidth: 'Breite nicht bekannt',
  price: (sum) => `Preis ${sum}`,
  notScheduled: 'Nicht aufgeführt:',
  gap: (f) => {
    const lines = `${f.segments.length === 1 ? 'Linie' : 'Linien'} ${list(f.segments.map(names.segment))}`;
    return f.because === null ? `${lines}.` : `${lines}: ${f.because}.`;
  },
};
