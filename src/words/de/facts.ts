import type { Words } from '../words.js';
import { waiverFacts } from './rules/waivers.js';
import { figures } from './sentences.js';

const quantities: Words['facts']['quantities'] = {
  load: 'Last',
  busAndAuxiliary: 'Bus- und Hilfslast',
  loadWithPlanned: 'Last mit dem Geplanten',
  loadAtHigh: 'Last an der oberen Grenze der angenommenen Ströme',
  unfedParticipants: 'Teilnehmer ohne Versorgung',
  rating: 'Nennstrom',
  declaredRating: 'angegebener Nennstrom',
  declaredCurrent: 'angegebener Strom',
  unknownCurrents: 'Geräte ohne bekannten Strom',
  classSum: 'Summe der Stromklassen',
  weightSum: 'Summe der Gewichte',
  participants: 'Teilnehmer',
  besideSegments: 'Geräte neben den Segmenten',
  onNoSegment: 'Teilnehmer auf keinem bekannten Segment',
  takers: 'belegende Geräte',
  couplers: 'Koppler',
  linesStoodOn: 'Linien, auf denen es steht',
  schema: 'Schema',
  supplies: 'Versorgungen',
  centralSupplies: 'zentrale Versorgungen',
  decentralSupplies: 'dezentrale Versorgungen',
  reportingSupplies: 'meldende Versorgungen',
  shortCircuitSum: 'Summe der Kurzschlussströme',
  mainsCircuits: 'Netzstromkreise',
  cable: 'Leitung des Segments',
  cableFromSupply: 'Leitung ab der nächsten Versorgung',
  cableBetweenDevices: 'Leitung zwischen zwei Geräten',
  cableBetweenSupplies: 'Leitung zwischen Versorgungen',
  lowestVoltage: (f) =>
    `niedrigste Spannung bei der ${f.atVoltage === 'typical' ? 'üblichen' : 'kleinsten'} Spannung der Versorgung`,
  holdUpTime: 'Überbrückungszeit',
  batteryCapacity: 'Kapazität der Batterie',
  measured: (what) => `Messwert ${what}`,
  namesWithoutMatch: 'Namen ohne Gegenstück',
  daysPastExpiry: 'Tage seit dem Ablauf',
  findingsItIsFor: 'Befunde, für die sie gilt',
};

export const facts: Words['facts'] = {
  quantities,
  waivers: waiverFacts,
  noProductNamed: 'kein Produkt genannt',
  noProduct: 'kein Produkt',
  additionalAddress: (device) => `${device} (zusätzliche Adresse)`,
  theSiteSheet: 'das Anlagenblatt',
  farEnd: 'fernes Ende',
  currentOf: (supplies) => `Strom von ${figures.list(supplies)}`,
  voltageAt: (place) => `Spannung (${place})`,
};
