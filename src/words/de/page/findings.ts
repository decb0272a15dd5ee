import type { Words } from '../../words.js';

export const findings: Words['page']['findings'] = {
  heading: 'Befunde',
  group: (f) => `${f.title} (${f.findings})`,
  why: 'Warum',
  limit: 'Grenze',
  source: 'Quelle',
  figure: 'Wert',
  limitFrom: 'Grenze aus',
  remedy: 'Abhilfe',
  concerns: 'Betrifft',
  place: 'Gefunden in',
  placeText: (f) => `${f.part}, Zeile ${f.line}`,
  restsOn: 'Beruht auf Strömen',
  since: 'Seit dem Vergleichsstand',
  waived: 'Hingenommen',
  fingerprint: 'Fingerabdruck',
};
