import type { Words } from '../../words.js';
import { count, figures } from '../sentences.js';

const { number, percent } = figures;

/** Rules about what was accepted. */
export const waiverRules: Pick<Words['rules'], 'waiver-expired' | 'waiver-outgrown' | 'waiver-unused'> = {
  'waiver-expired': {
    title: 'Der letzte Tag einer Ausnahme ist vorbei',
    why: 'Ein Risiko wurde bis zu einem Tag hingenommen; danach muss wieder jemand hinsehen, sonst bleibt es vergessen.',
    remedy: 'Beheben, was gefunden ist, oder es mit einem späteren Tag neu hinnehmen.',
    limit: 'eine Ausnahme gilt bis zum Ende ihres letzten Tages (UTC)',
    source: 'übliche Praxis, ohne Quelle; der Tag steht in der Ausnahme',
    message: (f) =>
      `Die Ausnahme für ${f.waived} von ${f.author} endete am ${f.expires}, ${count(f.days, 'Tag', 'Tage')} vor dem ${f.asOf}; der Befund zählt wieder.`,
    advice: (f) =>
      `Beheben, was gefunden ist. Gilt der Grund noch (${f.reason}), in \`expires\` einen späteren Tag setzen.`,
  },
  'waiver-outgrown': {
    title: 'Ein Befund ist schlechter als das, was hingenommen wurde',
    why: 'Hingenommen wurde ein bestimmter Wert; ein schlechterer ist ein Risiko, das niemand angesehen hat.',
    remedy: 'Den Wert auf das Hingenommene zurückbringen oder den neuen hinnehmen.',
    limit: 'der Wert ist nicht schlechter als `raiseAbove`, oder als `accepted`, wo die Ausnahme keines hat',
    source: 'übliche Praxis, ohne Quelle; der Wert steht in der Ausnahme',
    message: (f) => {
      const covers = `Die Ausnahme für ${f.waived} von ${f.author} deckt den Wert (${f.quantity}) ${f.isFloor ? 'hinunter bis' : 'bis'} ${number(f.limit)} ${f.unit}`;
      return f.value === null
        ? `${covers}, aber ${f.incomparable}; sie gilt nicht.`
        : `${covers}; jetzt ist er ${shown(f.value, f.unit)}, und der Befund zählt wieder.`;
    },
    advice: (f) =>
      f.value === null
        ? '`accepted` in der Einheit schreiben, die der Wert des Befunds hat, oder weglassen, um jeden Wert hinzunehmen.'
        : `Den Wert zurückbringen oder den neuen hinnehmen, wenn der Grund noch gilt (${f.reason}).`,
  },
  'waiver-unused': {
    title: 'Eine Ausnahme gilt für nichts, was gefunden wurde',
    why: 'Eine liegengebliebene Ausnahme verdeckt denselben Befund, wenn er wiederkommt, und macht die Liste länger als die Wahrheit.',
    remedy: 'Den Eintrag löschen oder seinen Fingerabdruck und seine Regel berichtigen.',
    limit: 'Fingerabdruck und Regel einer Ausnahme sind die eines Befunds',
    source: 'übliche Praxis, ohne Quelle',
    message: (f) => `Die Ausnahme für ${f.waived} von ${f.author} gilt für nichts: ${f.because}.`,
    advice: (f) =>
      f.foundRule === null
        ? 'Den Eintrag löschen; gibt es den Befund noch, hat er einen anderen Fingerabdruck, der im Bericht steht.'
        : `Ist ${f.foundRule} gemeint, das als Regel eintragen; sonst den Eintrag löschen.`,
  },
};

/** Parts of the facts of these rules that are words. */
export const waiverFacts: Words['facts']['waivers'] = {
  waived: (rule, subject) => (subject === undefined ? rule : `${rule} zu ${subject}`),
  noFigure: 'der Befund hat keinen Wert',
  noShare: 'der Wert des Befunds ist kein Anteil von etwas',
  otherUnit: (unit) => `der Wert des Befunds hat die Einheit ${unit}`,
  ruleOff: 'die Regel ist in den Vorgaben abgeschaltet',
  otherRule: (rule) => `der Befund mit diesem Fingerabdruck gehört zur Regel ${rule}`,
  nothingFound: 'kein Befund hat diesen Fingerabdruck',
};

/** A share never reads as the limit that it exceeds. */
function shown(value: number, unit: string): string {
  return unit === '%' ? percent(value / 100) : `${number(value)} ${unit}`;
}
