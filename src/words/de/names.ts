import type { Words } from '../words.js';

const FILES: Readonly<Record<string, string>> = {
  'policy file': 'Vorgabendatei',
  'product list': 'Produktliste',
  'waivers file': 'Ausnahmenliste',
};

const MEDIA: Readonly<Record<string, string>> = { 'twisted pair': 'Twisted Pair', radio: 'Funk' };

export const names: Words['names'] = {
  verdicts: {
    insufficient: 'überlastet',
    unfed: 'ohne Versorgung',
    undecidable: 'nicht entscheidbar',
    tight: 'knapp',
    sufficient: 'ausreichend',
    idle: 'unbelastet',
    'not-bus-powered': 'ohne Busspannung',
  },
  severities: { error: 'Fehler', warning: 'Warnung', note: 'Hinweis' },
  bases: {
    standard: 'Norm',
    handbook: 'Handbuch',
    'common practice': 'übliche Praxis',
    'from memory': 'aus dem Gedächtnis',
    derived: 'abgeleitet',
    'set by hand': 'von Hand gesetzt',
  },
  holds: { 'at most': 'höchstens', 'at least': 'mindestens' },
  sinceBaseline: { new: 'neu', worsened: 'verschlechtert', improved: 'verbessert', unchanged: 'unverändert' },
  voltageVerdicts: {
    holds: 'reicht',
    'too low': 'zu niedrig',
    undecidable: 'nicht entscheidbar',
    overloaded: 'überlastet',
  },
  voltageBases: {
    'all placed': 'alles verortet',
    'runs, not all placed': 'Leitungswege, nicht alles verortet',
    'length only': 'nur die Länge',
  },
  actions: {
    stays: 'bleibt',
    add: 'hinzufügen',
    remove: 'ausbauen',
    replace: 'ersetzen',
    order: 'bestellen',
    split: 'aufteilen',
    none: 'kein Vorschlag',
  },
  supplyKinds: { plain: 'einfach', reporting: 'meldend', redundant: 'redundant' },
  scheduleStates: {
    existing: 'bestehen bleiben',
    new: 'zu bestellen',
    replacement: 'zu bestellen (Ersatz)',
    remove: 'auszubauen',
  },
  scheduleItems: { supply: 'Versorgung', coupler: 'Koppler' },
  splitMethods: {
    optimal: 'nachweislich das Beste',
    'within the time': 'gesucht, solange die Zeit reichte',
    heuristic: 'der Größe nach auf Verteiler und Räume verteilt (first-fit decreasing), nicht bewiesen',
  },
  sources: { archive: 'Archiv', plan: 'Planung' },
  setBy: (by) => FILES[by] ?? by,
  segment: (label) =>
    label.replace(/ segment (?=\d+$)/, ' Segment ').replace(/ beside its segments$/, ' neben ihren Segmenten'),
  medium: (name) => MEDIA[name] ?? name,
  place: (place) => place.replace(/^area (?=\d+$)/, 'Bereich '),
};
