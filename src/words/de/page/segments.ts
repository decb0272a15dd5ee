import type { Words } from '../../words.js';
import { count, figures } from '../sentences.js';

const { milliamps, number } = figures;

export const segments: Words['page']['segments'] = {
  heading: 'Segmente',
  title: (f) => `Segment ${f.segment}${f.name === '' ? '' : `, ${f.name}`}`,
  figures: 'Last und Versorgung',
  medium: 'Medium',
  load: 'Last',
  capacity: 'Von den Versorgungen verfügbar',
  ratings: 'Nennströme',
  target: 'Ziel',
  share: 'Auslastung',
  headroom: 'Reserve bis zum Ziel',
  room: 'Platz für Geräte',
  roomText: (f) =>
    `${count(f.devices, 'Gerät', 'Geräte')} zu ${milliamps(f.eachMa)}${f.byCurrent > f.devices ? `: mehr Plätze sind nicht frei, der Strom reichte für ${f.byCurrent}` : ''}`,
  planned: 'Geplant und noch nicht vorhanden',
  couplersBelow: 'Koppler der Linien darunter',
  auxiliary: 'Neben dem Bus entnommen',
  assumed: 'Angenommen',
  assumedText: (f) => `${milliamps(f.assumedMa)} für ${count(f.items, 'Teilnehmer', 'Teilnehmer')}`,
  breakEven: 'Das Urteil kippt, wenn jeder angenommene Teilnehmer zieht',
  breakEvenText: (f) =>
    [
      f.toTightMa === null ? '' : `${milliamps(f.toTightMa)} (knapp)`,
      f.toInsufficientMa === null ? '' : `${milliamps(f.toInsufficientMa)} (überlastet)`,
    ]
      .filter(Boolean)
      .join(', '),
  bounds: 'Last an den Grenzen des Angenommenen',
  withoutLargest: 'Übrig, wenn die größte Versorgung ausfällt',
  shortCircuit: 'Kurzschlussströme zusammen',
  suggested: 'Kleinster lagernder Nennstrom, der sie trägt',
  shared: 'Versorgungen geteilt mit',
  chokes: 'Drosseln',
  feedUnknown: 'Welche Versorgung das Segment speist, ist nicht bekannt.',
  fanIn: 'Zählung der Norm',
  fanInText: (f) =>
    `Stromklassen ${milliamps(f.classSumMa)}${f.nominalMa === null ? '' : ` von ${milliamps(f.nominalMa)}`}, Gerätegewichte ${f.weight}`,
  reach: 'Leitung, die die Last zulässt',
  reachText: (f) => {
    const lengths = `${number(f.atEndM)} m mit aller Last am Ende, ${number(f.spreadM)} m bei gleichmäßiger Last`;
    const length = f.isDistance ? `${number(f.atEndM)} m, die größte Entfernung, wo immer die Last hängt` : lengths;
    const less = f.dropV === 0 ? '' : ` abzüglich ${number(f.dropV)} V an der Drossel`;
    return `${length} (Versorgung mit ${number(f.supplyV)} V${less})`;
  },
  supplies: (segment) => `Versorgungen von ${segment}`,
  groups: 'Last nach Produktgruppen',
  groupsTitle: (segment) => `Last von ${segment} nach Produktgruppen`,
  groupsDescription:
    'Ein Balken je Produkt, die größte Last zuerst, und einer für das neben dem Bus Entnommene; gefüllt nach der Herkunft der Ströme wie die Streifen der Anlage.',
  groupsTable: (segment) => `Produkte auf ${segment} und ihre Last`,
  noProduct: 'Produkt nicht im Archiv',
  otherProducts: (products) => count(products, 'weiteres Produkt', 'weitere Produkte'),
  deviceTable: (segment) => `Geräte von ${segment}`,
  devicesFolded: (devices) => `${count(devices, 'Gerät', 'Geräte')} und die Herkunft jedes Stroms`,
  noDevices: 'Auf diesem Segment steht nichts.',
  noLoad: 'hier keine Last',
  findings: 'Befunde zu diesem Segment',
  noFindings: 'Keine Befunde.',
  proposal: 'Vorschlag',
  notes: 'Was angesetzt ist, weil der Export es nicht sagt',
};
