import type { Words } from '../../words.js';
import { names } from '../names.js';
import { figures } from '../sentences.js';

export const frame: Words['page']['frame'] = {
  title: (names) => `Busspannungsversorgung: ${figures.list(names, 3)}`,
  noName: 'ein Projekt ohne Namen',
  skip: 'Zum Inhalt',
  contents: 'Auf dieser Seite',
  made: (f) => `Prüfung ${f.source === 'plan' ? 'der Planung' : 'des Archivs'} ${f.name} mit ${f.tool}`,
  date: 'Datum',
  checkedBy: 'Geprüft von',
  sheet: (f) => `${f.title}; ${f.source === 'plan' ? 'Planung' : 'Archiv'} SHA-256 ${f.sha256}`,
  waiversAsOf: (day) => `Ausnahmen beurteilt zum ${day}.`,
  notKnown: 'nicht bekannt',
  yes: 'ja',
  no: 'nein',
  range: (f) => `${f.low} bis ${f.high}`,
};

const SEVERAL = { error: 'Fehler', warning: 'Warnungen', note: 'Hinweise' } as const;

export const summary: Words['page']['summary'] = {
  heading: 'Kurz gesagt',
  segments: 'Segmente',
  findings: 'Befunde',
  devices: 'Geräte',
  currents: 'Ströme',
  severity: (f) => (f.findings === 1 ? names.severities[f.severity] : SEVERAL[f.severity]),
  waived: 'hingenommen',
  placed: 'auf einer Linie',
  unplaced: 'auf keiner Linie',
};

export const filter: Words['page']['filter'] = {
  heading: 'Nur zeigen',
  verdict: 'Urteil',
  severity: 'Schwere',
  text: 'Text',
  all: 'alle',
  shown: '{findings} von {allFindings} Befunden und {segments} von {allSegments} Segmenten gezeigt',
  sort: 'Nach {column} sortieren',
};
