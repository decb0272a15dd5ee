import type { Words } from '../words.js';
import { names } from './names.js';
import { count, figures, line } from './sentences.js';

const { number, milliamps, percent } = figures;

type Report = Words['report'];

const notes: Report['notes'] = {
  uncharged: (f) =>
    `Der Koppler ${f.coupler} reicht auf Linie ${f.lineAbove}, die ${f.source === 'plan' ? 'die Planung' : 'der Export'} nicht enthält; was er dort zieht, wird nirgends gerechnet.`,
  noMedium: 'Der Export nennt kein Medium; angesetzt ist Twisted Pair.',
  unknownMedium: (f) =>
    `Das Medium ${f.name === f.id ? f.id : `${f.name} (${f.id})`} ist hier nicht bekannt; das Segment wird wie Twisted Pair beurteilt.`,
};

const figure: Report['figure'] = {
  value: (f) => (f.value === null ? `${f.quantity} nicht bekannt` : `${f.quantity} ${f.value}`),
  noLimit: 'Grenze nicht bekannt',
  bound: (f) => {
    if (f.holds === 'below') return `muss unter ${f.limit} liegen`;
    return f.holds === 'at least' ? `mindestens ${f.limit}` : `höchstens ${f.limit}`;
  },
  margin: (f) => {
    if (!f.isBeyond) return `${f.margin} innerhalb der Grenze`;
    const isSeveral = f.isCounted && f.margin !== '1';
    return `${f.margin} ${f.isFloor ? 'zu wenig' : 'zu viel'}${isSeveral ? 'e' : ''}`;
  },
  turn: (ma) => `kippt bei ${milliamps(ma)} je angenommenem Gerät`,
  limitBy: (f) => `Grenze aus ${f.setBy}${f.key === null ? '' : ` (${f.key})`}`,
};

const basis: Report['basis'] = {
  title: 'Grundlagen',
  currents: (f) =>
    `Ströme: ${f.declared} angegeben, ${f.overridden} überschrieben, ${f.assumed} angenommen mit ${milliamps(f.assumedMa)} (Lasten mit *)`,
  assumed: (f) => `Ströme: ${f.assumed} angenommen mit ${milliamps(f.assumedMa)} (Lasten mit ${f.mark})`,
  dataSheets: (n) => `Nachzuschlagende Datenblätter: ${n} (linebudget unknowns nennt sie)`,
  policy: (f) =>
    `Vorgaben: ${f.name}${f.changed.length === 0 ? '' : `, geändert in ${f.changed.join(', ')}`}; Ziel ${percent(f.target)} des Nennstroms; SHA-256 ${f.sha256}`,
  extended: (f) => `Vorgaben: ausgehend von ${f.name}, Ziel ${percent(f.target)} des Nennstroms; SHA-256 ${f.sha256}`,
  unusedEntries: 'Einträge der Vorgaben, die hier nichts betreffen:',
  waivers: (f) => `Ausnahmen: beurteilt zum ${f.asOf}; hingenommene Befunde: ${f.waived}`,
  waiversAsOf: (asOf) => `Ausnahmen zum ${asOf}`,
  baseline: (f) => `Vergleichsstand: der Bericht zum Archiv SHA-256 ${f.sha256} von ${f.tool}`,
  baselineOf: (sha256) => `Vergleichsstand: Archiv mit SHA-256 ${sha256}`,
  archive: (f) => `Archiv: ${f.bytes} Bytes, ${count(f.parts, 'Teil', 'Teile')} gelesen; SHA-256 ${f.sha256}`,
  file: (f) => `${f.source}: ${f.bytes} Bytes; SHA-256 ${f.sha256}`,
  tool: (name) => `Werkzeug: ${name}`,
};

const site: Report['site'] = {
  title: (f) => `Anlagenblatt: ${f.sited} von ${count(f.segments, 'Segment', 'Segmenten')}; SHA-256 ${f.sha256}`,
  columns: [
    'Segment',
    'Leitung',
    'Bis Versorgung',
    'Niedrigste, übliche Versorgungsspannung',
    'Niedrigste, kleinste Versorgungsspannung',
    'Spannung',
  ],
  unknown: 'Länge oder Speisung nicht bekannt',
  length: (f) => {
    if (f.mostM === null) return `${number(f.leastM ?? 0)} m oder mehr`;
    return f.leastM === null ? `bis ${number(f.mostM)} m` : `${number(f.leastM)} bis ${number(f.mostM)} m`;
  },
  noVoltage: 'keine',
  voltageRange: (f) =>
    `${f.lowV === null ? 'keine' : number(f.lowV)} bis ${number(f.highV)} V${f.estimateV === null ? '' : `, geschätzt ${number(f.estimateV)} V`}`,
  holdUpOf: (label) => `Überbrückung ${names.segment(label)}:`,
  holdUp: (f) => {
    const lasts = `die angegebene reicht ${f.lastsHours === null ? 'so lange, wie sie hält' : `${number(f.lastsHours)} h`}`;
    const given = f.capacityAh === null ? 'keine Kapazität ist angegeben' : lasts;
    const battery = `${milliamps(f.batteryMa)} aus einer Batterie mit ${number(f.batteryV)} V; nötig sind ${number(f.neededAh)} Ah, ${given}`;
    const taken = f.assumed.length === 0 ? '' : ` Angesetzt: ${f.assumed.join('; ')}.`;
    const how = f.methods.length === 0 ? '' : ` Gerechnet mit: ${f.methods.join('; ')}.`;
    return `${number(f.wantedHours)} h mit ${milliamps(f.busMa)} auf dem Bus: ${battery}.${taken}${how} ${f.caution}`;
  },
};

const segments: Report['segments'] = {
  columns: {
    line: 'Linie',
    name: 'Name',
    load: 'Last',
    rating: 'Nennstrom',
    share: 'Auslastung',
    headroom: 'Reserve',
    room: 'Platz',
    verdict: 'Urteil',
  },
  notPowered: (medium) => `ohne Busspannung (${names.medium(medium)})`,
  openBounds: 'nicht entscheidbar: Segmentgrenzen nicht bekannt',
  openFeed: 'nicht entscheidbar: Speisung nicht bekannt',
  openRating: 'nicht entscheidbar: Nennstrom nicht bekannt',
  notTogether: 'nicht entscheidbar: Versorgungen nicht zusammen zulässig',
};

const findings: Report['findings'] = {
  none: 'Keine Befunde.',
  title: (f) => `Befunde: ${f.counts}${f.waived === 0 ? '' : `; ${f.waived} hingenommen, unten vermerkt`}`,
  marks: { error: 'FEHLER', warning: 'WARNUNG', note: 'HINWEIS' },
  lists: { error: 'Fehler', warning: 'Warnungen', note: 'Hinweise' },
  newList: 'Neu seit dem Vergleichsstand',
  why: 'Warum:',
  limit: 'Grenze:',
  basis: 'Quelle:',
  figure: 'Wert:',
  do: 'Abhilfe:',
  waived: 'Hingenommen:',
  waivedCount: (n) => `${n} hingenommen`,
  waiver: (f) => {
    const again = f.raiseAbove === null ? '' : `, wieder über ${figures.rewritten(f.raiseAbove)}`;
    const accepted = f.accepted === null ? '' : `; hingenommen bei ${figures.rewritten(f.accepted)}${again}`;
    return `${f.reason} (${f.author}, bis ${f.expires}${accepted})`;
  },
  cut: (f) => `${f.shown} von ${f.total} gezeigt; der JSON-Bericht enthält alle`,
};

const coverage: Report['coverage'] = {
  counts: (f) =>
    `Prüfumfang: ${count(f.rules, 'Regel', 'Regeln')} auf ${count(f.segments, 'Segment', 'Segmenten')}, manche auch auf der Anlage: ${f.passed} bestanden, ${f.found} mit Befund, ${f.skipped} ausgelassen${f.failed === 0 ? '' : `, ${f.failed} FEHLGESCHLAGEN`}`,
  skipped: (f) => `${f.times} ausgelassen: ${f.reason}`,
  off: 'In den Vorgaben abgeschaltet:',
};

export const report: Report = {
  caution:
    'Alle Zahlen sind eine Planungshilfe: es entscheiden Datenblätter, örtliche Vorschriften und die fachkundige Ausführung. Die Netzseite einer Versorgung ist Arbeit für eine Elektrofachkraft nach den örtlichen Vorschriften; Busleitungen (SELV) und Netzleitungen sind getrennt zu halten. Stromspitzen bei Spannungswiederkehr sind in diesen Zahlen nicht enthalten.',
  cautionOf: (caution) => `Vorsicht: ${caution}`,
  incomplete: 'UNVOLLSTÄNDIG: eine Regel ist durch einen Fehler dieses Werkzeugs gescheitert; es kann etwas fehlen.',
  nothingChecked: 'NICHTS WURDE GEPRÜFT: jede Regel ist abgeschaltet oder ihr fehlt, was sie braucht.',
  title: (tool) => `${tool}: Prüfung der Busspannungsversorgung`,
  verdict: (f) => {
    if (f.judged === 0) return 'Kein Segment braucht Busspannung.';
    const bad = [
      f.insufficient > 0 ? `${f.insufficient} überlastet` : '',
      f.unfed > 0 ? `${f.unfed} ohne Versorgung` : '',
      f.undecidable > 0 ? `${f.undecidable} nicht entscheidbar` : '',
    ].filter(Boolean);
    const tight = f.tight > 0 ? ` (${f.tight} mit geringer Reserve)` : '';
    const rest = bad.length === 0 ? '.' : `; ${bad.join(', ')}.`;
    return `${f.carried} von ${count(f.judged, 'busgespeisten Segment', 'busgespeisten Segmenten')} ${f.carried === 1 ? 'wird' : 'werden'} von den Versorgungen getragen${tight}${rest}`;
  },
  counts: (f) =>
    `${f.error} Fehler, ${count(f.warning, 'Warnung', 'Warnungen')}, ${count(f.note, 'Hinweis', 'Hinweise')}`,
  summary: (f) => {
    const waived = f.waived === 0 ? '' : `, ${f.waived} hingenommen`;
    const incomplete = f.isComplete ? '' : ' — UNVOLLSTÄNDIG, eine Regel ist gescheitert';
    return `${f.verdict} ${f.counts}${waived}${incomplete}${f.isEmpty ? ' — NICHTS WURDE GEPRÜFT' : ''}`;
  },
  project: (f) => {
    const name = f.name ?? '(ohne Namen)';
    return f.schema === null ? `Planung ${name}` : `Projekt ${name} (${f.id}), Schema ${f.schema}`;
  },
  installation: (f) => {
    const which = f.number === null ? '' : `Anlage ${f.number}: `;
    const unplaced = f.unplaced === 0 ? '' : `, ${f.unplaced} auf keiner Linie`;
    return `${which}${count(f.segments, 'Segment', 'Segmente')}, ${count(f.placed, 'Gerät', 'Geräte')} platziert${unplaced}`;
  },
  note: 'Anmerkung:',
  noteOnLine: (f) => `${line(f.line)}: ${f.note}`,
  notes,
  segments,
  findings,
  figure,
  coverage,
  basis,
  site,
};
