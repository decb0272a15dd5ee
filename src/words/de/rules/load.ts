import type { Words } from '../../words.js';
import { assumedRemark, chargedText, count, figures, line, supplyAdvice } from '../sentences.js';

const { milliamps, percent } = figures;

/** Rules about load and rating. */
export const loadRules: Pick<
  Words['rules'],
  | 'overloaded-segment'
  | 'auxiliary-overload'
  | 'missing-supply'
  | 'low-headroom'
  | 'growth-exceeds-supply'
  | 'fan-in-exceeded'
  | 'oversized-supply'
> = {
  'overloaded-segment': {
    title: 'Die Last liegt über dem Nennstrom der Versorgungen',
    why: 'Über ihrem Nennstrom lässt eine Versorgung die Busspannung absinken; Geräte starten neu, verlieren Telegramme oder schweigen, zuerst unter Last und fern der Versorgung.',
    remedy: 'Größere Versorgung einbauen, Segment teilen oder Geräte auf ein Segment mit Reserve umsetzen.',
    limit: 'Last ≤ Summe der Nennströme der Versorgungen',
    source: 'Band 4/1 §2.7, Band 9/2 §2.11; Nennströme nach Datenblatt',
    message: (f) => {
      const together = f.boundariesKnown ? 'zusammen' : 'selbst alle zusammen';
      const rated = milliamps(f.ratedMa);
      const supplies =
        f.supplies === 1
          ? `der Nennstrom der Versorgung ist ${rated}`
          : `die Versorgungen liefern ${together} ${rated}`;
      return `${chargedText(f)}; ${supplies}: ${milliamps(f.excessMa)} zu viel (${percent(f.share)}).${assumedRemark(f)}`;
    },
    advice: (f) =>
      f.boundariesKnown
        ? `Versorgung tauschen oder Segment teilen: ${supplyAdvice(f)}. Oder Geräte auf ein Segment mit Reserve umsetzen: ${milliamps(f.excessMa)} Last bis zum Nennstrom${f.overTargetMa === null ? '' : `, ${milliamps(f.overTargetMa)} bis zum Zielwert`}.`
        : 'Klären, welche Geräte auf welcher Seite der Linienverstärker hängen, dann jede Seite für sich auslegen.',
  },
  'auxiliary-overload': {
    title: 'Der Bus passt zur Versorgung, aber nicht zusammen mit dem, was ihr Hilfsausgang speist',
    why: 'Der unverdrosselte Ausgang teilt sich den Nennstrom mit dem Bus: Was dort entnommen wird, fehlt hier, und die Busspannung sinkt, obwohl die Buslast unter dem Nennstrom liegt.',
    remedy: 'Hilfslast aus einer eigenen Versorgung speisen oder eine größere Versorgung einbauen.',
    limit: 'Buslast + Hilfslast ≤ Summe der Nennströme der Versorgungen',
    source: 'übliche Praxis, ohne Quelle: der unverdrosselte Ausgang teilt sich den Nennstrom',
    message: (f) =>
      `${chargedText(f)}; der Nennstrom der Versorgungen ist ${milliamps(f.ratedMa)}: ${milliamps(f.excessMa)} zu viel (${percent(f.share)}). Der Bus allein, ${milliamps(f.busMa)}, würde passen.${assumedRemark(f)}`,
    advice: (f) =>
      `Die ${milliamps(f.auxiliaryMa)} neben dem Bus aus einer eigenen Versorgung speisen oder die Versorgung tauschen: ${supplyAdvice(f)}.`,
  },
  'missing-supply': {
    title: 'Busgespeiste Geräte und keine Versorgung auf dem Segment',
    why: 'Ohne Versorgung ist das Segment tot. Eine Versorgung wird leicht vergessen, da sie oft keine Adresse hat.',
    remedy: 'Versorgung für das Segment bestellen; ist eine vorhanden oder schon vorgesehen, sie eintragen.',
    limit: 'jedes elektrische Segment mit busgespeisten Geräten oder Kopplern hat eine Versorgung',
    source: 'Band 3/2/2 §1.3.2: jedes Segment hat seine eigene Versorgung',
    message: (f) => {
      const couplers =
        f.couplersFromBelow === 0
          ? ''
          : ` (darunter ${count(f.couplersFromBelow, 'Koppler einer unteren Linie', 'Koppler unterer Linien')})`;
      return `${line(f.segment)} hat keine Versorgung für ${count(f.items, 'Teilnehmer', 'Teilnehmer')}${couplers} mit zusammen ${milliamps(f.loadMa)}.${unknownText(f.unknownProducts)}`;
    },
    advice: (f, source = 'archive') => {
      const first = f.unknownProducts > 0 ? 'Zuerst das Projekt samt Produktdaten neu exportieren. ' : '';
      if (source === 'plan')
        return `${first}Eine bestellen: ${supplyAdvice(f)}. Ist schon eine vorgesehen, sie in die Planung eintragen.`;
      return f.boundariesKnown
        ? `${first}Eine bestellen: ${supplyAdvice(f)}. Ist schon eine eingebaut, sie im Projekt eintragen.`
        : `${first}Klären, wo die elektrischen Segmente liegen, und für jedes eine Versorgung bestellen. Sind sie schon eingebaut, sie im Projekt eintragen.`;
    },
  },
  'low-headroom': {
    title: 'Die Last liegt über der Zielauslastung des Nennstroms',
    why: 'Eine Versorgung wird auf etwa vier Fünftel ihres Nennstroms ausgelegt: ein guter Arbeitspunkt, mit Reserve für spätere Geräte.',
    remedy: 'Vor einer Erweiterung die nächstgrößere Versorgung einbauen oder die Last bewusst so belassen.',
    limit: 'Last ≤ Zielauslastung (80 %, wenn die Vorgaben nichts anderes sagen) × Summe der Nennströme',
    source: 'übliche Praxis, ohne Quelle; der Zielwert steht in den Vorgaben',
    message: (f) =>
      `${chargedText(f)}, das sind ${percent(f.share)} von ${milliamps(f.ratedMa)}; der Zielwert ist ${milliamps(f.targetMa)}, überschritten um ${milliamps(f.excessMa)}.${assumedRemark(f)}`,
    advice: (f) => `Bevor etwas dazukommt: ${supplyAdvice(f)}.`,
  },
  'growth-exceeds-supply': {
    title: 'Was für das Segment geplant ist, passt nicht zur Versorgung',
    why: 'Eine Versorgung, die heute gerade reicht, wird mit den geplanten Geräten noch einmal getauscht, wieder bei abgeschaltetem Netz.',
    remedy:
      'Die Versorgung bestellen, die auch die geplanten Geräte trägt, oder sie auf einem Segment mit Reserve planen.',
    limit: 'Last + geplante Geräte und Zuschlag ≤ Zielauslastung × Summe der Nennströme',
    source: 'übliche Praxis, ohne Quelle; Planung und Zielwert stehen in den Vorgaben',
    message: (f) =>
      `${line(f.segment)} trägt heute ${milliamps(f.loadMa)}; mit geplanten ${milliamps(f.plannedMa)}${f.plannedDevices > 0 ? ` (${count(f.plannedDevices, 'Gerät', 'Geräte')})` : ''} liegt sie ${milliamps(f.excessMa)} über dem Zielwert von ${milliamps(f.targetMa)}.`,
    advice: (f) => `Für das Geplante bestellen: ${supplyAdvice({ ...f, plannedMa: 0 })}.`,
  },
  'fan-in-exceeded': {
    title: 'Die Fan-in-Zählung der Norm ist überschritten',
    why: 'Die Norm zählt in Klassen, jeder Strom aufgerundet, und verlangt deren Summe unter dem Nennstrom; außerdem gewichtet sie jedes Gerät. Beides ist strenger als die einfache Summe.',
    remedy: 'Last oder Zahl der Geräte senken oder es hinnehmen: die Versorgung spürt die einfache Summe.',
    limit: 'Summe der Stromklassen < Nennstrom; Summe der Gewichte < 257 (4 je Gerät des klassischen Typs)',
    source: 'Band 4/1 §2.7',
    message: (f) => {
      const reasons = [
        f.currentExceeded
          ? `ergeben die Stromklassen ${milliamps(f.classSumMa)}, nicht unter dem Nennstrom von ${milliamps(f.nominalMa ?? 0)}`
          : '',
        f.weightExceeded ? `ergeben die Gewichte ${f.weight}, nicht unter 257` : '',
      ];
      return `Auf ${line(f.segment)} ${reasons.filter(Boolean).join(', und ')}.`;
    },
    advice: () => 'Wo die Zählung der Norm einzuhalten ist: Segment teilen oder eine größere Versorgung einbauen.',
  },
  'oversized-supply': {
    title: 'Die Versorgung liegt zwei Lagergrößen über dem, was reichen würde',
    why: 'Das kostet Geld, Platz auf der Schiene und Leerlaufverlust. Es kann Absicht sein, für Geräte, die noch kommen.',
    remedy: 'Die kleinere bestellen oder sie behalten, wo das Segment wächst.',
    limit:
      'eine einzelne Versorgung liegt weniger als zwei Lagergrößen über der kleinsten, die die Last innerhalb des Zielwerts trägt',
    source: 'übliche Praxis, ohne Quelle; die Lagergrößen stehen in den Vorgaben',
    message: (f) =>
      `Die Versorgung der ${line(f.segment)} hat ${milliamps(f.ratedMa)} Nennstrom für eine Last von ${milliamps(f.loadMa)}; ${milliamps(f.suggestedRatingMa)} würden sie innerhalb des Zielwerts tragen.`,
    advice: (f) => `Wenn das Segment nicht wächst, stattdessen ${milliamps(f.suggestedRatingMa)} bestellen.`,
  },
};

/** What nobody knows could be anything, a supply as well. */
function unknownText(devices: number): string {
  if (devices === 0) return '';
  return devices === 1
    ? ' Das Produkt von 1 Gerät hier steht aber nicht im Archiv; es kann die Versorgung sein.'
    : ` Die Produkte von ${devices} Geräten hier stehen aber nicht im Archiv; eines kann die Versorgung sein.`;
}
