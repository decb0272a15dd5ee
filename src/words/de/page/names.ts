import type { Words } from '../../words.js';
import { names as shared } from '../names.js';
import { POLICY_SOURCES } from './policy-sources.js';

export const names: Words['page']['names'] = {
  inForce: { ...shared.severities, off: 'aus' },
  origins: { declared: 'angegeben', overridden: 'überschrieben', assumed: 'angenommen' },
  roles: {
    consumer: 'Verbraucher',
    coupler: 'Koppler',
    repeater: 'Linienverstärker',
    supply: 'Versorgung',
    'supply and coupler': 'Versorgung und Koppler',
    choke: 'Drossel',
    accessory: 'Zubehör',
    cable: 'Leitung',
    'passive part': 'passives Teil',
  },
  chargedAs: { 'coupler from below': 'Koppler von unten', bridge: 'Brücke' },
  quantities: { current: 'Strom', voltage: 'Spannung' },
  wanted: { current: 'Strom', rating: 'Nennstrom' },
  actions: {
    stays: 'bleibt, wie es ist',
    add: 'eine Versorgung ergänzen',
    remove: 'eine Versorgung ausbauen',
    replace: 'die Versorgung ersetzen',
    order: 'eine Versorgung bestellen',
    split: 'das Segment teilen',
    none: 'nichts kann vorgeschlagen werden',
  },
  nearness: {
    'same board or room': 'derselbe Verteiler oder Raum',
    'same floor': 'dasselbe Stockwerk',
    'electrically possible': 'nur elektrisch möglich: kein gemeinsamer Ort ist bekannt',
  },
  supplies: { supply: 'Versorgungen', coupler: 'Koppler' },
  because: (reason) =>
    BECAUSE[reason] ?? reason.replace(SMALLEST, 'unter $1 mA, dem kleinsten, der als Nennstrom zählt'),
  policySource: (f) => {
    const known: Readonly<Record<string, string>> = POLICY_SOURCES;
    const byHand = SET_BY_HAND.exec(f.source);
    if (byHand === null) return known[f.key] ?? f.source;
    return `von Hand gesetzt in der ${byHand[1] === 'policy file' ? 'Vorgabendatei' : 'Produktliste'} (${f.key})`;
  },
};

const SET_BY_HAND = /^set by hand in the (policy file|product list) /;

const SMALLEST = /^below (\d+(?:\.\d+)?) mA, the smallest that counts as a rating$/;

const BECAUSE: Readonly<Record<string, string>> = {
  'not declared': 'nicht angegeben',
  negative: 'negativ',
  unreadable: 'nicht lesbar',
  zero: 'null',
  'too high': 'zu hoch',
  'product not in the archive': 'Produkt nicht im Archiv',
  'upper side of a combined supply and coupler': 'Oberseite eines Geräts, das Versorgung und Koppler ist',
};
