import type { Words } from '../words.js';
import { figures } from './sentences.js';

const { number } = figures;

const cable: Words['site']['cable'] = {
  devices: (f) => `wo ${f.unplaced} von ${f.all} Geräten sitzen`,
  supplies: (f) => `wo ${f.unplaced} von ${f.all} Versorgungen sitzen`,
  undrawn: (undrawnM) => `die Wege von weiteren ${number(undrawnM)} m Leitung`,
  aSupply: 'einer Versorgung',
  point: (name) => `dem Punkt ${name}`,
  unjoined: (f) => `Punkt ${f.point} ist durch keinen Leitungsweg mit ${f.target} verbunden`,
  furtherParts: (further) => `dasselbe bei ${further} weiteren Teilen der Anlage`,
  runs: 'die Leitungswege, und wo Geräte und Versorgungen sitzen',
  farthest: 'die Leitung von der nächsten Versorgung zum Gerät, das am weitesten entfernt ist',
  total: 'die Länge der ganzen Leitung',
};

const holdUp: Words['site']['holdUp'] = {
  caution:
    'Den Bus allein zu stützen hilft selten, wenn nicht auch gestützt ist, was er schaltet (übliche Praxis, ohne Quelle).',
  noBattery: (v) => `eine Batterie mit ${number(v)} V, da keine angegeben ist (übliche Praxis, ohne Quelle)`,
  efficiency: (share) => `Wirkungsgrad von der Batterie zum Bus ${number(share)} (übliche Praxis, ohne Quelle)`,
  ownConsumption: (a) => `Eigenverbrauch der Versorgung ${number(a)} A: nicht bekannt, und jeder verkürzt die Zeit`,
  temperature: (celsius) => `Batterie bei ${number(celsius)} °C, daher keine Korrektur: eine kältere gibt weniger`,
  tooCold: (celsius) =>
    `Korrektur unter ${number(celsius)} °C gerade fortgesetzt (hier abgeleitet): mindestens so viel, eher mehr`,
  peukert: (exponent) =>
    `Peukert-Exponent ${number(exponent)} (Handbücher nennen 1,1–1,3 für Blei; aus dem Gedächtnis, nicht bestätigt)`,
  ratedHours: (hours) => `Nennkapazität über ${number(hours)} h (übliche Praxis, ohne Quelle)`,
  current: 'Batteriestrom: I = I_Bus·U_Bus/(η·U_Batterie) + Eigenverbrauch (hier abgeleitet)',
  capacity: (highLoadFactor) =>
    `nötige Kapazität: C = 1,25·(T1·I1 + D·T2·I2), ${decisionOn(highLoadFactor)} (BS 5839-1, Anhang), mal der Korrektur für die Temperatur`,
  hours:
    'Stunden: Peukertsches Gesetz t = H·(C/(I·H))^k (Handbuch) auf die Kapazität, geteilt durch 1,25 für die Alterung und durch die Korrektur; ' +
    'einem kleineren Strom wird nicht mehr als die Nennkapazität gutgeschrieben, und die Last am Ende nimmt ihren Anteil (hier abgeleitet)',
  correction:
    'Temperatur: Korrektur der Zellengröße nach IEEE 485 (aus dem Gedächtnis, nicht bestätigt), gerade zwischen ihren Punkten, keine Gutschrift über 25 °C',
};

function decisionOn(highLoadFactor: number | null): string {
  if (highLoadFactor === null) return 'keine Last am Ende';
  const because =
    highLoadFactor === 1 ? 'gilt, da C/20 nicht unter I2 liegt' : 'gilt, da C/20 mit D = 1 unter I2 liegt';
  return `D = ${number(highLoadFactor)} ${because}`;
}

export const site: Words['site'] = { cable, holdUp };
