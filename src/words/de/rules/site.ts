import type { Words } from '../../words.js';
import { names } from '../names.js';
import { figures, lengthText, limitText, line } from '../sentences.js';

const { number, milliamps, volts, list } = figures;

/** Rules about what a site sheet says. */
export const siteRules: Pick<
  Words['rules'],
  | 'voltage-too-low'
  | 'cable-too-long'
  | 'supply-too-far'
  | 'devices-too-far-apart'
  | 'supplies-too-close'
  | 'hold-up-too-short'
  | 'measured-deviates'
  | 'site-sheet-stale'
> = {
  'voltage-too-low': {
    title: 'Die Spannung am fernen Ende der Leitung ist zu niedrig',
    why: 'Die Leitung nimmt ihren Teil der Spannung. Auch bei ausreichender Versorgung können die fernsten Geräte zu wenig bekommen; sie starten neu oder schweigen, zuerst wenn viele zugleich arbeiten.',
    remedy: 'Zweites Adernpaar parallel, dickere Leitung, eine Versorgung näher an der Last, oder das Segment teilen.',
    limit:
      'jedes Gerät hat im eingebauten Zustand mindestens 21 V bei der kleinsten Spannung der Versorgung; unter 20 V dort, oder unter 21 V selbst bei der üblichen Spannung, ist es ein Fehler',
    source: 'Band 3/2/2 §1.2.2: 21 V im eingebauten Zustand, Geräte müssen noch bei 20 V arbeiten',
    message: (f) => {
      const kind = { typical: 'üblicher Fall', least: 'ungünstigster Fall' }[f.atVoltage];
      const supply = `mit ${volts(f.supplyV)} an der Versorgung (${kind})`;
      const when = f.withPlanned ? ' mit dem Geplanten' : '';
      if (f.lowestV === null) {
        return `Auf ${line(f.segment)} gibt es${when} keinen Arbeitspunkt ${supply}: die Geräte wollen mehr Leistung, als die Leitung zu ihnen tragen kann.`;
      }
      const best = f.isExact ? '' : 'bestenfalls ';
      return `Auf ${line(f.segment)} beträgt die niedrigste Spannung${when} ${best}${volts(f.lowestV)}${f.point === null ? '' : ` bei ${f.point}`}, ${supply}; nötig sind ${volts(f.limitV)}.`;
    },
    advice: (f) =>
      `Den Widerstand des Weges bis ${f.point ?? 'zum fernen Ende'} senken (ein zweites Adernpaar halbiert ihn; die Grenzen der Länge bleiben), eine Versorgung näher bringen oder das Segment teilen. Welche Spannung die Geräte brauchen, sagen ihre Datenblätter.`,
  },
  'cable-too-long': {
    title: 'Mehr Leitung, als ein Segment haben darf',
    why: 'Die ganze Leitung eines Segments belastet die Signale mit ihrer Kapazität; ist es mehr als erlaubt, werden Telegramme wiederholt oder gehen verloren.',
    remedy: 'Segment teilen oder seine Leitung kürzen.',
    limit:
      'Leitung eines Segments zusammen ≤ 1000 m, wenn die Vorgaben nichts anderes sagen; ein zweites Adernpaar parallel ist dieselbe Leitung',
    source: 'Band 3/2/2; Band 4/4 §7 zum zweiten Adernpaar',
    message: (f) => `Die Leitung der ${line(f.segment)} ist ${lengthText(f)} lang; ${limitText(f)}.`,
    advice: (f) =>
      `Das Segment so teilen, dass ${number(f.excessM)} m oder mehr seiner Leitung ein eigenes mit eigener Versorgung werden; ein zweites Adernpaar oder dickere Adern helfen gegen die Länge nicht.`,
  },
  'supply-too-far': {
    title: 'Ein Gerät ist zu weit von der nächsten Versorgung',
    why: 'Die Drossel der Versorgung formt die Impulse jedes Geräts; über zu viel Leitung kommen sie verformt an, gleich wie hoch die Spannung ist.',
    remedy: 'Versorgung zur Mitte des Segments versetzen, eine hinzufügen oder das Segment teilen.',
    limit: 'Leitung von einem Gerät zur nächsten Versorgung ≤ 350 m, wenn die Vorgaben nichts anderes sagen',
    source: 'Band 9/2 §2.11',
    message: (f) =>
      `Das Gerät der ${line(f.segment)}, das am weitesten von einer Versorgung entfernt ist, hat ${lengthText(f)} Leitung bis zur nächsten; ${limitText(f)}.`,
    advice: (f) =>
      `Eine Versorgung um ${number(f.excessM)} m oder mehr näher bringen: die vorhandene zur Mitte versetzen oder eine hinzufügen, soweit der Abstand der Drosseln und die Kurzschlussströme es zulassen. Sonst das Segment teilen.`,
  },
  'devices-too-far-apart': {
    title: 'Zwei Geräte eines Segments sind zu weit auseinander',
    why: 'Geräte, die zugleich senden, erkennen an den Bits des anderen, wer weitersendet; über zu viel Leitung kommen diese zu spät, und Telegramme kollidieren.',
    remedy: 'Segment zwischen ihnen teilen oder die Leitung auf kürzerem Weg verlegen.',
    limit: 'Leitung zwischen zwei beliebigen Geräten eines Segments ≤ 700 m, wenn die Vorgaben nichts anderes sagen',
    source: 'Band 3/2/2',
    message: (f) => `Zwei Geräte der ${line(f.segment)} haben ${lengthText(f)} Leitung zwischen sich; ${limitText(f)}.`,
    advice: (f) =>
      `Das Segment zwischen den beiden teilen oder die Leitung so verlegen, dass der Weg zwischen ihnen um ${number(f.excessM)} m oder mehr kürzer wird.`,
  },
  'supplies-too-close': {
    title: 'Zwei Versorgungen mit eigenen Drosseln stehen zu nah beieinander',
    why: 'Zwei Drosseln nah beieinander belasten die Signale der Geräte um sie doppelt, und dort gehen Telegramme verloren.',
    remedy: 'Versorgungen auseinanderrücken, eine Drossel gemeinsam nutzen oder eine größere Versorgung verwenden.',
    limit:
      'Leitung zwischen zwei zentralen Versorgungen mit eigenen Drosseln ≥ 200 m, wenn die Vorgaben nichts anderes sagen; keine, wo sie eine teilen',
    source: 'Band 9/2 §2.11 und §5.11',
    message: (f) =>
      `Versorgungen der ${line(f.segment)} mit eigenen Drosseln (${list(f.supplies)}) haben ${f.isExact ? '' : 'höchstens '}${number(f.distanceM)} m Leitung zwischen sich; nötig sind mindestens ${number(f.limitM)} m: ${number(f.missingM)} m zu wenig.`,
    advice: (f) =>
      `Eine der Versorgungen um ${number(f.missingM)} m Leitung oder mehr wegrücken, beide eine Drossel nutzen lassen, wo die Hersteller es erlauben, oder eine Versorgung für die ganze Last einbauen.`,
  },
  'hold-up-too-short': {
    title: 'Die Batterie trägt das Segment nicht für die gewünschte Zeit',
    why: 'Eine nach Busstrom gewählte Batterie reicht nicht: Verluste, Alterung, Kälte und hoher Strom nehmen alle etwas von ihrer Kapazität.',
    remedy: 'Größere Batterie einbauen oder das Segment entlasten.',
    limit: 'nötige Kapazität ≤ Kapazität der Batterie, und ihre Zeit ≥ die Zeit, die das Anlagenblatt verlangt',
    source: 'BS 5839-1, Anhang, für die nötige Kapazität; Peukertsches Gesetz für die Zeit',
    message: (f) =>
      `Die Batterie der ${line(f.segment)} (${number(f.givenAh)} Ah) gibt ${milliamps(f.loadMa)}${f.lastsHours === null ? '' : ` für ${number(f.lastsHours)} h`}${f.hasPeak ? ', und danach die Last am Ende' : ''}; gewünscht sind ${number(f.wantedHours)} h, und die brauchen ${number(f.neededAh)} Ah. Gerechnet mit: ${f.methods.join('; ')}.${f.assumed.length === 0 ? '' : ` Angesetzt, da niemand es sagt: ${f.assumed.join('; ')}.`}`,
    advice: (f) =>
      `Eine Batterie mit ${number(f.neededAh)} Ah oder mehr einbauen und im Anlagenblatt angeben, da sie auch die Zeit halten muss; oder das Segment entlasten. ${f.caution}`,
  },
  'measured-deviates': {
    title: 'Gemessen ist etwas anderes, als die angeschlossenen Geräte ergeben',
    why: 'Ein Strom oder eine Spannung, die der Plan nicht erklärt, hat eine Ursache vor Ort: ein Gerät, das im Projekt fehlt, eine andere Leitung, eine falsche Speisung, ein beginnender Schaden.',
    remedy: 'Suchen, was sich zwischen Plan und Anlage unterscheidet, neu messen, und Plan oder Anlage berichtigen.',
    limit:
      'ein gemessener Strom innerhalb von 20 %, eine Spannung innerhalb von 0,5 V um den gerechneten Wert (wenn die Vorgaben nichts anderes sagen)',
    source:
      'übliche Praxis, ohne Quelle: Datenblätter nennen das Höchste, was ein Gerät zieht; die Toleranzen stehen in den Vorgaben',
    message: (f) => {
      const by = {
        loaded: 'gerechnet aus den Geräten, die im Archiv als geladen gelten',
        'site sheet': 'gerechnet aus den Geräten, die laut Anlagenblatt angeschlossen sind',
        nobody: 'so viel braucht jedes Gerät im eingebauten Zustand',
      };
      return `${line(f.segment)}: ${list(f.deviations.map(deviationText))}; ${by[f.connectedBy]}.`;
    },
    advice: (f) =>
      `Zuerst prüfen, ob die richtigen Geräte als angeschlossen gelten, dann auf ${line(f.segment)} die Ursachen gegeneinander halten, die die Fehlersuche ordnet (linebudget diagnose).`,
  },
  'site-sheet-stale': {
    title: 'Das Anlagenblatt nennt, was das Archiv nicht mehr enthält',
    why: 'Das Blatt wurde für einen anderen Stand des Projekts geschrieben. Was es von Verschwundenem sagt, wird nicht angewandt; bekannte Längen und Orte fehlen daher.',
    remedy: 'Das Anlagenblatt auf den Stand des Archivs bringen.',
    limit: 'jeder Name des Anlagenblatts ist einer des Archivs',
    source: 'abgeleitet (hier): ein Blatt trägt die Prüfsumme des Archivs, für das es geschrieben wurde',
    message: (f) => {
      const named = f.names.map(
        ({ kind, name, now }) => `${KINDS[kind]} ${name}${now === null ? '' : ` (${placeNow(now)})`}`,
      );
      const there = f.names.some(({ now }) => now !== null) ? ' dort' : '';
      return `Das Anlagenblatt nennt${f.segment === null ? '' : ` für ${line(f.segment)}`} ${list(named)}; das Archiv hat das${there} nicht, und was das Blatt davon sagt, wird nicht angewandt.`;
    },
    advice: (f) =>
      `Berichtigen oder entfernen: ${list(f.names.map(({ place, nearest }) => (nearest.length === 0 ? place : `${place} (am ähnlichsten: ${list(nearest)})`)))}; dann die Prüfsumme dieses Archivs ins Blatt schreiben (archive).`,
  },
};

const KINDS = { segment: 'das Segment', device: 'das Gerät', location: 'den Ort', line: 'die Linie' };

/** Where a device is now, which the site says in English. */
function placeNow(now: string): string {
  if (now === 'on no line') return 'jetzt auf keiner Linie';
  return `jetzt auf ${names.segment(now.replace(/^on /, ''))}`;
}

type Deviation = Parameters<Words['rules']['measured-deviates']['message']>[0]['deviations'][number];

function deviationText(f: Deviation): string {
  const range = f.high === null ? `mindestens ${number(f.low)}` : `${number(f.low)} bis ${number(f.high)}`;
  return `${f.what} mit ${number(f.measured)} ${f.unit} gemessen, zu erwarten sind ${range} ${f.unit}`;
}
