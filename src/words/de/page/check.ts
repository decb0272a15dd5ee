import type { Words } from '../../words.js';
import { count, figures } from '../sentences.js';

const { list, milliamps } = figures;

export const unknowns: Words['page']['unknowns'] = {
  heading: 'Nachzuschlagende Datenblätter',
  none: 'Jeder Strom und jeder Nennstrom ist bekannt.',
  caption: 'Produkte, deren Datenblatt nachzuschlagen ist',
  wanted: 'Gesucht',
  because: 'Wie es ist',
  declared: 'Angegeben',
  charged: 'Solange angesetzt',
  turns: 'Ein Urteil kippt bei',
  found: 'Gefunden',
};

export const check: Words['page']['check'] = {
  heading: 'Prüfung vor Ort',
  intro: 'Was bei der Übergabe zu messen ist, mit Platz für das, was das Messgerät zeigt.',
  connectedOnly:
    'Wo das Archiv Geräte als geladen ausweist oder das Anlagenblatt sagt, welche angeschlossen sind, wird nur von ihnen Strom erwartet; die Last eines Segments zählt alle seine Geräte.',
  none: 'Es gibt nichts zu messen.',
  caption: 'Was zu messen ist',
  quantity: 'Größe',
  where: 'An',
  together: 'Zusammen mit',
  expected: 'Erwartet',
  between: 'Erwarteter Bereich',
  measured: 'Gemessen',
  date: 'Datum',
  note: 'Anmerkung',
  signed: 'Gemessen von',
};

/** `1 Strom ist angegeben und 2 sind mit 10 mA angenommen.`, without what there is none of. */
function currentsText(counts: readonly (readonly [currents: number, how: string])[]): string {
  const told = counts.filter(([currents]) => currents > 0);
  const parts = told.map(([currents, how], index) => {
    const subject = index === 0 ? count(currents, 'Strom', 'Ströme') : currents;
    return `${subject} ${currents === 1 ? 'ist' : 'sind'} ${how}`;
  });
  return parts.length === 0 ? 'Nichts entnimmt einen Strom.' : `${list(parts)}.`;
}

export const assumptions: Words['page']['assumptions'] = {
  heading: 'Annahmen',
  currents: (f) =>
    currentsText([
      [f.declared, 'angegeben'],
      [f.overridden, 'überschrieben'],
      [f.assumed, `mit ${milliamps(f.eachMa)} angenommen`],
    ]),
  caption: 'Segmente mit angenommenen Strömen',
  items: 'Teilnehmer',
  low: 'Mindestens',
  high: 'Höchstens',
  turns: 'Kippt zu knapp, überlastet bei',
  notes: 'Was angesetzt ist, weil der Export es nicht sagt',
  unplaced: (devices) =>
    `${count(devices, 'Gerät steht', 'Geräte stehen')} auf keiner Linie und ${devices === 1 ? 'wird' : 'werden'} keiner angerechnet.`,
};

export const basis: Words['page']['basis'] = {
  heading: 'Grundlagen',
  caution: 'Vorsicht',
  policy: (f) =>
    `Verwendete Vorgaben: ${f.name}${f.changed === 0 ? '' : `, geändert in ${count(f.changed, 'Wert', 'Werten')}`}`,
  policyCaption: 'Werte der Vorgaben',
  key: 'Schlüssel',
  value: 'Wert',
  setBy: 'Gesetzt durch',
  noEntries: 'keine',
  source: 'Quelle',
  coverage: 'Was geprüft wurde',
  coverageCaption: 'Regeln, wie oft jede wie ausging, und ihre Grenzen',
  rule: 'Regel',
  inForce: 'In Kraft als',
  statuses: { passed: 'Bestanden', found: 'Mit Befund', skipped: 'Ausgelassen', failed: 'Fehlgeschlagen' },
  missing: 'Warum manche ausgelassen sind',
  digests: 'Prüfsummen',
  bytes: (bytes) => count(bytes, 'Byte', 'Bytes'),
  policyDigest: 'Vorgaben',
  site: 'Anlagenblatt und Messwerte',
  waivers: 'Ausnahmen',
  waiversText: (f) => `beurteilt zum ${f.asOf}; hingenommene Befunde: ${f.waived}`,
  baseline: 'Vergleichsstand',
  baselineText: (f) => `der Bericht zum Archiv SHA-256 ${f.sha256} von ${f.tool}`,
  parts: 'Gelesene Teile des Archivs',
  part: 'Teil',
  length: 'Bytes',
  crc: 'CRC-32',
  projects: 'Projekte',
  project: 'Projekt',
  installation: 'Anlage',
  schema: 'Schema',
  segments: 'Segmente',
};
