import type { Words } from '../words.js';
import { names } from './names.js';
import { figures } from './sentences.js';

const { number } = figures;

export const missing: Words['missing'] = {
  noPower: (medium) => `das Medium ${names.medium(medium)} führt keine Busspannung`,
  boundaries: 'der Export sagt nicht, auf welchem von mehreren elektrischen Segmenten ein Gerät hängt',
  feed: 'welche Versorgung das Segment speist, ist nicht bekannt',
  noSupply: 'es gibt keine Versorgung',
  notTogether: 'die Versorgungen dürfen nicht zusammen auf einem Segment stehen',
  rating: 'der Nennstrom einer Versorgung ist nicht angegeben',
  cableWithoutSheet: 'die Länge der Leitung: ein Anlagenblatt mitgeben',
  cableWithoutEntry: 'die Länge der Leitung: das Anlagenblatt hat keinen Eintrag für das Segment',
  siteSheet: 'ein Anlagenblatt',
  voltageLength: 'die Länge der Leitung oder was sie speist: das Anlagenblatt sagt es nicht',
  voltageBeyondSupply: 'eine Versorgung, die die Last trägt: über ihrer Grenze lässt sich keine Spannung zusagen',
  voltageBetween: (f) =>
    `bei der kleinsten Spannung der Versorgung liegt die niedrigste Spannung zwischen ${f.low ?? 'nichts, was sich begrenzen lässt,'} und ${f.high ?? 'gar keiner'}; zur Entscheidung fehlt: ${f.wanted.join('; ') || 'wo Geräte und Versorgungen sitzen'}`,
  holdUpWithoutSheet: 'ob eine Überbrückungszeit verlangt ist: kein Anlagenblatt sagt es',
  holdUpUnsaid: 'ob eine Überbrückungszeit verlangt ist: das Anlagenblatt sagt es nicht',
  batteryCapacity: (f) =>
    `die Kapazität einer Batterie: nötig sind ${number(f.neededAh)} Ah bei ${number(f.batteryV)} V`,
  batteryInCold: (coldestC) => `wie viel die Batterie unter ${number(coldestC)} °C gibt`,
  sharedChoke: 'ob sich die Versorgungen eine Drossel teilen',
  criticalWithoutSheet: 'ob das Segment kritisch ist: kein Anlagenblatt sagt es',
  criticalUnsaid: 'ob das Segment kritisch ist: das Anlagenblatt sagt es nicht',
  circuits: 'der Netzstromkreis jeder Versorgung, oder eine Batterie, die sie trägt',
  batteryTime: 'wie lange die Batterie das Segment trägt',
  reportingWithoutSheet: 'ob die Versorgungen melden müssen: kein Anlagenblatt sagt es',
  reportingUnsaid: 'ob die Versorgungen melden müssen: das Anlagenblatt sagt es nicht',
  measuredWithoutSheet: 'Messwerte: kein Anlagenblatt nennt welche',
  measured: 'Messwerte: das Anlagenblatt hat keine',
  toMeasure: 'eine Versorgung, oder Geräte, die sie speist',
  connected: 'welche Geräte angeschlossen sind: im Archiv gilt keines als geladen, und das Anlagenblatt sagt es nicht',
  comparable:
    'womit sich die Messwerte vergleichen lassen: die Leitungswege und ihre Orte, oder der Strom jeder Versorgung',
  length: (f) => `${f.wanted.join('; ')}${betweenText(f.leastM, f.mostM)}`,
};

function betweenText(leastM: number | null, mostM: number | null): string {
  if (mostM !== null)
    return leastM
      ? ` (bisher zwischen ${number(leastM)} m und ${number(mostM)} m)`
      : ` (bisher höchstens ${number(mostM)} m)`;
  return leastM ? ` (bisher mindestens ${number(leastM)} m)` : '';
}
