import type { Words } from '../words.js';
import { figures, line } from './sentences.js';

const { milliamps, number } = figures;

type Diagnosis = Words['diagnosis'];

const kinds: Diagnosis['kinds'] = {
  'as planned': 'wie geplant',
  'everything connected': 'alles angeschlossen',
  'one supply out': 'eine Versorgung ausgefallen',
  'all supplies out': 'alle Versorgungen ausgefallen',
  'devices not connected': 'Geräte nicht angeschlossen',
  'cable open': 'Leitung unterbrochen',
  'cable longer than said': 'Leitung länger als angegeben',
  'device draws more': 'ein Gerät zieht mehr',
  'short on the segment': 'Kurzschluss auf dem Segment',
  'another segment on this supply': 'anderes Segment an dieser Versorgung',
  'fed from elsewhere': 'anderweitig gespeist',
};

const symptoms: Diagnosis['symptoms'] = {
  dead: 'Segment tot',
  'far end drops out': 'das ferne Ende fällt aus',
  'supply at its limit': 'Versorgung an ihrer Grenze',
};

const where = (place: string | null) => (place === null ? 'auf dem Segment' : `bei ${place}`);

const causes: Diagnosis['causes'] = {
  asPlanned: (ma) => `Alles ist wie geplant: was angeschlossen ist, zieht ${milliamps(ma)}.`,
  everything: (f) =>
    `Alles ist angeschlossen und zieht ${milliamps(f.allMa)}, nicht nur die ${milliamps(f.connectedMa)} dessen, was als angeschlossen gilt.`,
  beyondSupplies: (f) =>
    `Die geplante Last ist mehr, als die Versorgungen liefern: ${milliamps(f.loadMa)} bei höchstens ${milliamps(f.limitMa)}.`,
  beyondCable: 'Die geplante Last ist mehr, als die Leitung trägt.',
  supplyOut: (f) =>
    `${f.supply} liefert nichts${f.othersCarryMa === null ? '' : `; die anderen müssten ${milliamps(f.othersCarryMa)} tragen`}.`,
  allSuppliesOut: (supplies) => `Keine der ${supplies} Versorgungen liefert etwas.`,
  notConnected: (f) => `Was ${where(f.place)} hängt, ist nicht angeschlossen: ${milliamps(f.ma)} weniger als geplant.`,
  notConnectedAllOver: (f) =>
    `Überall auf dem Segment sind Geräte nicht angeschlossen: es fehlen ${milliamps(f.missingMa)} von ${milliamps(f.wholeMa)}.`,
  drawsMore: (f) =>
    `Was ${where(f.place)} hängt, zieht ${milliamps(f.ma)}, ${milliamps(f.moreMa)} mehr als die geplanten ${milliamps(f.plannedMa)}.`,
  cableLonger: (factor) =>
    `Die Leitung hat das ${number(factor)}-Fache des Widerstands, der aus dem Anlagenblatt folgt: sie ist länger oder dünner, oder eine Verbindung ist schlecht.`,
  cableOpen: (f) => `Die Leitung ist zwischen ${f.from} und ${f.to} unterbrochen.`,
  shorted: (f) =>
    `Die Adern sind ${where(f.place)} kurzgeschlossen, ${f.ohm === null ? 'fast ohne Widerstand' : `über ${number(f.ohm)} Ω`}.`,
  carriesAnother: (f) =>
    `Die Last von ${line(f.segment)}, ${milliamps(f.ma)}, hängt auch an der Versorgung dieses Segments.`,
  fedFromElsewhere: (supplies) =>
    `Eine Versorgung eines anderen Segments speist dieses; ${supplies === 1 ? 'die eigene liefert' : 'die eigenen liefern'} nichts.`,
};

const measurements: Diagnosis['measurements'] = {
  current: (supply) => `Strom an ${supply}`,
  greatestVoltage: 'größte Spannung',
  beyondLimit: 'Strom über der Grenze',
  nearEndWorks: 'das nahe Ende arbeitet',
  allUnplugged: (measure) => `${measure}, während alle Geräte des Segments abgesteckt sind`,
  unplugged: (f) => `${f.measure}, während die Geräte ${where(f.place)} abgesteckt sind`,
  switchedOff: (f) => `${f.measure}, während ${f.supply} abgeschaltet ist`,
  runResistance: (f) =>
    `Widerstand des Leitungswegs von ${f.from} bis ${f.to}, bei abgeschalteter Versorgung, an beiden Enden abgeklemmt und an einem kurzgeschlossen`,
  betweenWires:
    'Widerstand zwischen den Adern über den der Leitung hinaus, bei abgeschalteten Versorgungen und abgesteckten Geräten des Segments',
};

const missing: Diagnosis['missing'] = {
  feed: 'welche Versorgung das Segment speist',
  limit: 'was die Versorgung höchstens liefert',
  limitOf: (supply) => `was ${supply} höchstens liefert`,
  supplyPlaces: 'wo die Versorgungen sitzen',
  runs: 'die Leitungswege, und wo Geräte und Versorgungen sitzen',
  length: 'die Länge der Leitung',
  terminals: 'die Spannung an den Klemmen der Versorgungen',
  furtherPoints: (points) => `Fehler an ${points} Punkten zwischen den untersuchten`,
  furtherRuns: (runs) => `Unterbrechungen auf ${runs} Leitungswegen zwischen den untersuchten`,
};

const told: Diagnosis['told'] = {
  title: (f) => `Gemessen auf ${line(f.segment)}: ${f.seen.join('; ')}. Was dazu passt, das Beste zuerst:`,
  fit: (fit) => `Übereinstimmung ${fit}`,
  misfits: 'Passt nicht:',
  misfit: (f) => `${f.what} ${f.measured}, gerechnet ${f.computed}`,
  noCause: 'Nichts, wonach gesucht wird, passt.',
  further: (n) =>
    n === 1
      ? `${n} weitere passt weniger und ist nicht aufgeführt.`
      : `${n} weitere passen weniger und sind nicht aufgeführt.`,
  missing: 'Um mehr zu sagen, fehlt:',
  next: 'Zu messen:',
  nextText: (f) => `${f.measure}: ${f.here}, wenn es das ist, ${f.otherwise}, wenn es ${f.other} ist.`,
  rank: (rank) => `Ursache ${rank}`,
  openCircuit: 'ein offener Stromkreis',
  orMore: (f) => `${number(f.low)} ${f.unit} oder mehr`,
  range: (f) => `${number(f.low)} bis ${number(f.high)} ${f.unit}`,
};

export const diagnosis: Diagnosis = { kinds, symptoms, causes, measurements, missing, told };
