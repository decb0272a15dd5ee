import type { Words } from '../words.js';
import { names } from './names.js';
import { count, figures, line } from './sentences.js';

const { milliamps, number, volts } = figures;

type Sizing = Words['sizing'];

const nothing: Sizing['nothing'] = {
  noLoad: 'am Segment hängt nichts',
  sharedInPart: (segment) =>
    `${line(segment)} wird von einem Teil der Versorgungen gespeist und nicht von allen: was die eine bekommt, fehlt der anderen`,
  manyDecentral: (f) =>
    `auf dem Segment stehen ${f.supplies} dezentrale Versorgungen, erlaubt sind ${f.allowed}; sie bleiben hier unangetastet`,
  manyCouplers: (f) =>
    `auf dem Segment stehen ${f.supplies} Versorgungen, die zugleich Koppler sind, erlaubt sind ${f.allowed} zentrale`,
  manyCentral: (f) =>
    `auf dem Segment stehen ${f.supplies} zentrale Versorgungen, erlaubt sind ${f.allowed}: welche davon es wirklich gibt, ist vor Ort zu klären`,
  couplerNotRated: (supply) =>
    `der Nennstrom von ${supply}, zugleich Koppler der Linie, ist nicht angegeben: das Typenschild entscheidet`,
  silent: (f) =>
    `die Versorgungen müssen melden, aber ${f.supply}, ${f.isDecentral ? 'eine dezentrale Versorgung' : 'zugleich Koppler der Linie'}, meldet nicht und bleibt hier unangetastet`,
  labelDecides:
    'der Nennstrom einer Versorgung ist nicht angegeben, daher entscheidet ihr Typenschild; die anderen tragen die Last allein',
  noneReports: 'die Versorgungen müssen melden, und am Lager ist keine, die das tut',
  mainLine: 'keine lagernden Versorgungen tragen die Koppler dieser neuen Hauptlinie',
};

const split: Sizing['split'] = {
  byVoltage: (leastV) =>
    `mit jeder Auswahl vom Lager bekommt ein Gerät weniger als ${volts(leastV)}: die Leitung ist zu lang oder zu dünn für ein Segment`,
  byLoad: (f) =>
    `keine zwei lagernden ${f.wantsReporting ? 'meldenden Versorgungen' : 'Versorgungen'}, mit oder ohne die vorhandenen, tragen ${milliamps(f.loadMa)} innerhalb des Zielwerts${f.isCritical ? ' so, dass die kleinere allein reicht' : ''}`,
  byDevices: (f) => `es sind ${f.devices} Geräte, höchstens ${f.most} darf ein Segment haben`,
  notWorkedOut: (f) => `${f.because}; wie zu teilen ist, wurde nicht ermittelt: ${f.why}`,
};

const unsplit: Sizing['unsplit'] = {
  shared: 'die Versorgungen speisen auch andere Linien; zuerst jeder Linie eigene geben',
  noAddress: (area) => `in Bereich ${area} ist keine Linienadresse frei`,
  fewAddresses: (f) =>
    `mindestens ${count(f.needed, 'neue Linie ist', 'neue Linien sind')} nötig, frei ${f.free === 1 ? 'ist' : 'sind'} in Bereich ${f.area} noch ${count(f.free, 'Linienadresse', 'Linienadressen')}`,
  largeSegment: (most) => `das geschieht bis ${most} Geräte`,
  largeTogether: (most) => `die zu teilenden Linien haben zusammen mehr als ${most} Geräte`,
  aboveOfOtherMedium: (f) =>
    `${line(f.line)} hat das Medium ${names.medium(f.medium)}, an dem kein Koppler einer Twisted-Pair-Linie hängt`,
  noLineAbove: (address) =>
    `der Export hat keine ${line(address)}, an der neue Linien hängen würden, obwohl er mehrere Bereiche hat`,
  couplersTooMuch: (address) => `die Koppler der neuen Linien wären für ${line(address)} selbst zu viel`,
  deviceTooMuch: 'ein Gerät allein zieht mehr, als lagernde Versorgungen tragen',
  noPlaces: 'eine Linie darf neben ihrem Koppler kein Gerät haben',
  noSupplyForPiece: 'für einen Teil fanden sich keine Versorgungen',
  noStock: 'am Lager ist keine Versorgung, die verwendet werden darf',
  staysTooMuch: (f) =>
    `was auf ${line(f.line)} bleiben muss, ${milliamps(f.ma)} mit dem Geplanten, ist allein mehr, als lagernde Versorgungen tragen`,
  staysTooMany: (f) =>
    `${line(f.line)} hat ${f.devices} Koppler und Versorgungen, die sich nicht umsetzen lassen, mehr als die ${f.most} Geräte eines Segments`,
  newCouplerTooMuch:
    'der Koppler einer neuen Linie ist mit dem, was für sie geplant ist, mehr, als lagernde Versorgungen tragen',
};

const choice: Sizing['choice'] = {
  shared: (segments) =>
    `Eine Auswahl für die Linien ${segments.map(names.segment).join(', ')}, die sich ihre Versorgungen teilen.`,
  readLabel: (supply) =>
    `Der Nennstrom von ${supply} ist nicht angegeben: zuerst das Typenschild lesen, vielleicht kann sie bleiben.`,
  decentralStay: (supplies) => `Dezentrale Versorgungen bleiben, wie sie sind: ${supplies.join(', ')}.`,
  couplerStays: (supply) => `${supply} ist zugleich der Koppler und bleibt daher.`,
  chokesOpen: (apartM) =>
    `Die Drosseln der beiden Versorgungen mindestens ${number(apartM)} m Leitung auseinander, oder eine Drossel für beide.`,
  chokeShared: (apartM) =>
    `Eine Drossel für beide Versorgungen, da kein Punkt der Leitung ${number(apartM)} m von der anderen entfernt ist.`,
  chokesApart: (f) =>
    `Die zweite Versorgung bei ${f.at}, mindestens ${number(f.apartM)} m Leitung von der anderen; jede mit eigener Drossel.`,
  twoCircuits: 'Zwei Versorgungen an zwei Netzstromkreisen oder mit Batterie.',
  voltageOpen: (leastV) =>
    `Ob jedes Gerät ${volts(leastV)} bekommt, ist offen: das Anlagenblatt sagt zu wenig über die Leitung.`,
  mains: 'Die Netzseite ist Arbeit für eine Elektrofachkraft nach den örtlichen Vorschriften.',
};

const plan: Sizing['plan'] = {
  addresses:
    'Die physikalischen Adressen sind Vorschläge: hier wird nichts umnummeriert. Ein Gerät, das die Linie wechselt, muss seine neue Adresse bekommen und zusammen mit den Kopplern neu geladen werden.',
  onSite:
    'Wo die Leitung getrennt wird, und ob das entlang dieser Gruppen geht, ist vor Ort zu klären; jede neue Linie beginnt an ihrem Koppler, mit eigener Versorgung und Drossel.',
  noVoltages: 'Für die neuen Linien sind keine Spannungen gerechnet, da ihre Leitung nicht bekannt ist.',
  ownCoupler: (address) => `${line(address)} braucht ebenfalls einen Koppler, da sie nicht mehr allein ist.`,
  aboveIp: (address) => `${line(address)} ist IP, die neuen Koppler sind daher IP-Koppler.`,
};

const COMES_TO = { 'same board or room': 'zum selben Verteiler oder Raum', 'same floor': 'in dasselbe Stockwerk' };

const moves: Sizing['moves'] = {
  notNear: (segment) =>
    `Nur elektrisch möglich: nichts im Archiv sagt, dass die Leitung der ${line(segment)} in die Nähe kommt.`,
  near: (f) =>
    `Nach den genannten Orten kommt die Leitung der ${line(f.segment)} ${COMES_TO[f.nearness]}; auf welchem Weg, ist vor Ort zu klären.`,
  relay: (segment) =>
    `Leitung ist umzulegen: jedes der Geräte wird von seiner Leitung getrennt und an die der ${line(segment)} angeschlossen.`,
  sameLine: (address) => `Die Geräte bleiben auf ${line(address)} und behalten daher ihre Adressen.`,
  otherLine:
    'Ein Gerät, das auf eine andere Linie umzieht, bekommt eine andere physikalische Adresse und muss neu geladen werden. Neue Adressen werden hier nicht vorgeschlagen, da sich Gruppenkommunikation und Filtertabellen mit ihnen ändern.',
  assumed: (f) =>
    `Bei ${f.assumed} von ${f.devices} Geräten ist der Strom angenommen, ${number(f.assumedMa)} von ${milliamps(f.movedMa)}: zuerst ihre Datenblätter.`,
  newerType: (f) =>
    `${line(f.segment)} hat dann mit den geplanten ${f.participants} Teilnehmer: alle müssen vom neueren Typ sein.`,
  noVoltages: (segment) =>
    `Die Spannungen der ${line(segment)} nach dem Umsetzen sind nicht bekannt: für die Geräte ist kein Punkt ihrer Leitung bekannt.`,
  holdUp: (segment) => `Die Überbrückung der ${line(segment)} ist mit diesen Geräten neu zu rechnen.`,
  fromCritical: (f) =>
    `Laut Anlagenblatt ist ${line(f.from)} kritisch und ${line(f.to)} nicht: was weiterlaufen muss, bleibt.`,
  rivals: (f) =>
    `Auch Geräte der ${line(f.other)}${f.more === 0 ? '' : ` und ${f.more} weiterer`} könnten auf ${line(f.to)} umgesetzt werden; jeder dieser Vorschläge ist ohne die anderen gerechnet.`,
};

export const sizing: Sizing = { nothing, split, unsplit, choice, plan, moves };
