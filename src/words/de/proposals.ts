import type { Words } from '../words.js';
import { names } from './names.js';
import { count, figures, line } from './sentences.js';

const { list, milliamps, number, volts } = figures;

const MOST_NAMED = 12;

type Proposals = Words['proposals'];

const choice: Proposals['choice'] = {
  supplies: (f) =>
    [
      ...(f.kept.length === 0 ? [] : [`${list(f.kept)} behalten`]),
      ...(f.removed.length === 0 ? [] : [`${list(f.removed)} ausbauen`]),
      ...(f.added.length === 0
        ? []
        : [`${list(f.added)} ${f.kept.length + f.removed.length === 0 ? 'bestellen' : 'hinzufügen'}`]),
    ].join(', '),
  present: (f) => `${f.name} ${f.ratedMa === null ? '(ohne Nennstrom)' : milliamps(f.ratedMa)}`,
  at: (point) => `bei ${point}`,
  margin: (f) => {
    const planned = f.plannedMa === 0 ? '' : ` mit geplanten ${milliamps(f.plannedMa)}`;
    const voltage = f.leastV === null ? '' : `, mindestens ${volts(f.leastV)} an jedem Gerät`;
    const price = f.price === null ? '' : `, Preis ${number(f.price)}`;
    return `${milliamps(f.marginMa)} frei bis zum Zielwert von ${milliamps(f.targetMa)}${planned}${voltage}${price}`;
  },
};

const split: Proposals['split'] = {
  title: (f) =>
    `${f.where}: aufteilen in das bestehende Segment und ${count(f.lines, 'neue Linie', 'neue Linien')}. Grund: ${f.because}. ${f.proved}`,
  proved: (f) => {
    const places = f.torn === 0 ? 'kein Ort wird' : count(f.torn, 'Ort wird', 'Orte werden');
    const fewest =
      f.gapSegments === 0
        ? 'Mit weniger geht es nicht'
        : `Mindestens ${f.lowerBound} Segmente sind nötig, gefunden wurden ${f.pieces}`;
    const parted = `${places} getrennt${f.gapTorn === 0 ? '' : `, vielleicht geht es mit ${f.gapTorn} weniger`}`;
    const even = f.gapEvenMa === 0 ? '' : `; die größte Last könnte um bis zu ${milliamps(f.gapEvenMa)} kleiner sein`;
    return `${fewest}; ${parted}${even} (${names.splitMethods[f.method]}).`;
  },
  piece: (f) => {
    const who = f.isNew ? `Neue ${line(f.line)} bekommt` : `${line(f.line)} behält`;
    const own = f.couplerMa === null ? '' : `, mit ihrem Koppler von ${milliamps(f.couplerMa)}`;
    return `${who} ${count(f.devices, 'Gerät', 'Geräte')}: ${milliamps(f.loadMa)}${own}; ${f.supplies}.`;
  },
  moved: (devices) => `Umgesetzt: ${list(devices, MOST_NAMED)}.`,
  aFreeAddress: 'eine freie Adresse',
  above: (f) => {
    const above = `Die übergeordnete ${line(f.line)}`;
    if (f.kind === 'IP') {
      return `${above} ist IP: ${count(f.couplers, 'neuer Koppler zieht', 'neue Koppler ziehen')} nichts von ihr.`;
    }
    const load = `${count(f.couplers, 'neuen Koppler', 'neue Koppler')}, ${milliamps(f.ma)}`;
    return f.kind === 'new'
      ? `${above} gibt es noch nicht: sie ist anzulegen; aus dieser Teilung bekommt sie ${load}.`
      : `${above} bekommt ${load}; ihr eigener Vorschlag rechnet ${f.couplers === 1 ? 'ihn' : 'sie'} mit.`;
  },
  mainLine: (f) => {
    const load = `Neue Hauptlinie ${f.line}: ${count(f.couplers, 'Koppler', 'Koppler')}, ${milliamps(f.loadMa)}`;
    return f.supplies === null ? `${load}, und keine lagernden Versorgungen tragen das.` : `${load}; ${f.supplies}.`;
  },
};

const ON_THE = { 'same board or room': 'im selben Verteiler oder Raum', 'same floor': 'auf demselben Stockwerk' };

const moves: Proposals['moves'] = {
  move: (f) =>
    `${count(f.devices.length, 'Gerät', 'Geräte')} (${list(f.devices, MOST_NAMED)}), ${milliamps(f.movedMa)}, auf ${line(f.to)} umsetzen, ${f.near}`,
  left: (f) => `${milliamps(f.hereMa)} frei bis zum Zielwert hier, ${milliamps(f.thereMa)} dort`,
  fewer: 'Vielleicht reichen weniger Geräte; das zu ermitteln war zu aufwendig.',
  notNear: 'was nur elektrisch möglich ist: ein gemeinsamer Ort ist nicht bekannt',
  near: (f) => `${ON_THE[f.nearness]} (${list(f.places)})`,
};

export const proposals: Proposals = {
  title: (changes) => `Vorschläge: ${count(changes, 'Änderung', 'Änderungen')} an den Versorgungen`,
  heading: 'Vorschläge',
  cut: 'Der Rest ist abgeschnitten; der JSON-Bericht enthält alles.',
  or: 'Oder:',
  mind: 'Beachten:',
  lines: (segments) => `${segments.length === 1 ? 'Linie' : 'Linien'} ${list(segments.map(names.segment))}`,
  withCouplers: (f) =>
    `${f.where}, mit ${count(f.couplers, 'neuem Koppler', 'neuen Kopplern')} aus vorgeschlagenen Teilungen (${milliamps(f.ma)})`,
  nothing: (f) => `${f.where}: ${names.actions[f.action]}. Grund: ${f.because}.`,
  choice,
  split,
  moves,
};
