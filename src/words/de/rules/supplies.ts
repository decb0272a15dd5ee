import type { Words } from '../../words.js';
import { assumedRemark, chargedText, count, figures, line } from '../sentences.js';

const { milliamps, list } = figures;

/** Rules about which supplies stand where, and what they may do together. */
export const supplyRules: Pick<
  Words['rules'],
  | 'supply-rating-unknown'
  | 'feed-unknown'
  | 'too-many-supplies'
  | 'short-circuit-sum'
  | 'supply-not-redundant'
  | 'supply-not-reporting'
  | 'supply-on-unpowered-medium'
> = {
  'supply-rating-unknown': {
    title: 'Das Produkt einer Versorgung gibt keinen Nennstrom an',
    why: 'Was eine Versorgung liefern kann, ist die halbe Bilanz; ohne das kann niemand sagen, ob das Segment versorgt ist.',
    remedy: 'Den Nennstrom aus dem Datenblatt der Versorgung entnehmen.',
    limit: 'jede Versorgung gibt einen Nennstrom von 25 mA oder mehr an',
    source: 'Band 9/2 §6: 25 mA ist die kleinste Versorgung; ein kleinerer Wert gilt als nicht angegeben',
    message: (f) =>
      `Die Versorgung ${f.supply} auf ${line(f.segment)} (${f.product}) gibt ${f.declared === null ? 'keinen Nennstrom' : `„${f.declared}“ an, also keinen Nennstrom`}${f.declared === null ? ' an' : ''}; das Segment braucht ${milliamps(f.loadMa)}${f.verdict === 'sufficient' ? ', die von den anderen Versorgungen getragen werden' : ''}.`,
    advice: (f) =>
      `Den Nennstrom von ${f.product} aus dem Datenblatt entnehmen und gegen ${milliamps(f.loadMa)} halten.`,
  },
  'feed-unknown': {
    title: 'Es ist nicht bekannt, welche Versorgung das Segment speist',
    why: 'Eine Drossel wird vom unverdrosselten Ausgang einer Versorgung an anderer Stelle gespeist; beide Segmente teilen sich dann deren Nennstrom. Der Export sagt nicht, welche Versorgung das ist.',
    remedy:
      'Die Versorgung suchen, an der die Drossel angeschlossen ist, und sie im Anlagenblatt nennen (fedBy); beide Lasten werden dann zusammen gegen ihren Nennstrom gehalten.',
    limit: 'Buslast + Hilfslast ≤ Nennstrom der Versorgung',
    source: 'übliche Praxis, ohne Quelle: der unverdrosselte Ausgang teilt sich den Nennstrom',
    message: (f) => {
      if (f.cause === 'tangled') {
        return `${line(f.segment)} teilt sich ihre Versorgungen mit anderen, die ihre wiederum teilen: mehr als 10 Versorgungen in einer Gruppe, mehr als sich auseinanderhalten lassen.`;
      }
      if (f.cause === 'supply gone') {
        return `Das Anlagenblatt nennt für ${line(f.segment)} eine Versorgung, die es nicht mehr gibt; was ihre ${milliamps(f.loadMa)} jetzt speist, ist nicht bekannt.`;
      }
      return `${line(f.segment)} bezieht ${milliamps(f.loadMa)} über ${list(f.chokes)}, und keine Versorgung steht auf ihr; welche Versorgung die Drossel speist, ist nicht bekannt.`;
    },
    advice: (f) => {
      if (f.cause === 'tangled') {
        return 'Das Anlagenblatt prüfen (fedBy): eine Versorgung speist ein Segment, über ihre Ausgänge auch zwei. Ist es wirklich so, die Gruppe aufteilen.';
      }
      if (f.cause === 'supply gone') {
        return `Im Anlagenblatt nennen, was ${line(f.segment)} jetzt speist (fedBy), oder fedBy entfernen, wenn es die Versorgungen auf ihr sind.`;
      }
      return `Den Adern der Drossel bis zu ihrer Versorgung folgen und diese im Anlagenblatt als Speisung der ${line(f.segment)} nennen (fedBy): ${milliamps(f.loadMa)} und das eigene Segment der Versorgung werden dann gegen ihren Nennstrom gehalten.`;
    },
  },
  'too-many-supplies': {
    title: 'Mehr Versorgungen, als ein Segment haben darf',
    why: 'Jede zentrale Versorgung bringt eine Drossel mit; mehr als zwei belasten die Signale so, dass Telegramme verloren gehen, und ihre Nennströme addieren sich nicht.',
    remedy: 'Höchstens zwei zentrale Versorgungen behalten oder das Segment teilen.',
    limit: 'höchstens 2 zentrale Versorgungen, höchstens 8 dezentrale (bis 80 mA)',
    source: 'Band 3/2/2; Band 9/2 §2.11 und §6',
    message: (f) =>
      `${line(f.segment)} hat ${f.central} zentrale und ${f.decentral} dezentrale Versorgungen (${list(f.supplies)}); erlaubt sind 2 und 8.`,
    advice: () => 'Überzählige Versorgungen vom Segment nehmen oder ihnen hinter einem Koppler eigene Segmente geben.',
  },
  'short-circuit-sum': {
    title: 'Die Kurzschlussströme der Versorgungen sind zusammen zu hoch',
    why: 'Geräte und Leitung sind für einen begrenzten Fehlerstrom gebaut; darüber kann ein Kurzschluss Schaden anrichten, bevor die Versorgungen abschalten.',
    remedy:
      'Versorgungen verwenden, deren Kurzschlussströme in der Summe bleiben, etwa zwei mit 640 mA, oder das Segment teilen.',
    limit: 'Kurzschlussströme auf einem elektrischen Segment zusammen ≤ 3 A',
    source: 'Band 9/2 Bild 3 und §2.11, auf das elektrische Segment angewandt (hier abgeleitet)',
    message: (f) =>
      `Die Versorgungen der ${line(f.segment)} (${f.ratingsMa.map((ma) => (ma === null ? 'ohne Nennstrom' : milliamps(ma))).join(' + ')}) können bis zu ${milliamps(f.sumMa)} in einen Kurzschluss treiben; erlaubt sind 3000 mA.`,
    advice: () =>
      'Zwei Versorgungen bis 640 mA bleiben in der Summe, größere stehen allein: Versorgungen tauschen oder Segment teilen. Maßgeblich sind die Kurzschlussströme der Datenblätter.',
  },
  'supply-not-redundant': {
    title: 'Ein kritisches Segment übersteht den Ausfall einer Versorgung oder eines Netzstromkreises nicht',
    why: 'Was beim Ausfall einer Versorgung weiterlaufen muss, braucht eine zweite, die die ganze Last trägt und die derselbe ausgelöste Schutzschalter nicht mitnimmt.',
    remedy:
      'Das Segment aus zwei Versorgungen speisen, die jede die Last tragen, an zwei Netzstromkreisen oder mit Batterie.',
    limit:
      'Last ≤ was ohne eine beliebige Versorgung bleibt, und ohne einen beliebigen Netzstromkreis, wenn keine Batterie ihn ersetzt; mindestens 2 Netzstromkreise',
    source: 'übliche Praxis, ohne Quelle: redundant ist an zwei Netzstromkreisen oder mit Batterie',
    message: (f) => {
      if (f.leftMa === null) {
        return `Alle Versorgungen der ${line(f.segment)} hängen an einem Netzstromkreis, und keine Batterie trägt sie: mindestens zwei Stromkreise sind nötig, da das Segment kritisch ist.`;
      }
      const circuit = f.without === 'supply' ? '' : ', an einem Netzstromkreis,';
      const without = f.supplies === 1 ? 'ihre einzige Versorgung' : `${list(f.failed)}${circuit}`;
      return `${chargedText(f)}; ohne ${without} bleiben ${milliamps(f.leftMa)}: ${milliamps(f.lackingMa ?? 0)} zu wenig für ein kritisches Segment.${assumedRemark(f)}`;
    },
    advice: (f) => {
      if (f.leftMa === null)
        return 'Eine der Versorgungen an einen anderen Netzstromkreis legen oder sie mit einer Batterie stützen.';
      return f.without === 'supply'
        ? `Die Versorgungen so wählen, dass ${milliamps(f.loadMa)} bleiben, welche auch ausfällt; die Summe der Kurzschlussströme und den Abstand der Drosseln beachten.`
        : `Die Versorgungen so auf die Netzstromkreise verteilen, dass ${milliamps(f.loadMa)} bleiben, welcher auch ausfällt, oder sie mit einer Batterie stützen.`;
    },
  },
  'supply-not-reporting': {
    title: 'Eine Versorgung meldet ihren Zustand nicht, obwohl sie soll',
    why: 'Eine Versorgung, die am Bus teilnimmt, meldet Spannung, Strom und Temperatur, bevor das Segment ausfällt; jede andere schweigt bis dahin.',
    remedy: 'Eine meldende Versorgung einbauen oder die Anforderung zurücknehmen.',
    limit: 'jede Versorgung eines Segments meldet, wo das Anlagenblatt es verlangt',
    source: 'übliche Praxis, ohne Quelle: meldende Versorgungen für große oder überwachte Gebäude',
    message: (f) => {
      const some = f.reporting === 1 ? 'meldet nur 1' : `melden nur ${f.reporting}`;
      const quiet = f.silent.length === 1 ? 'nimmt' : 'nehmen';
      return `${line(f.segment)} soll meldende Versorgungen haben, aber von ${count(f.supplies, 'Versorgung', 'Versorgungen')} ${f.reporting === 0 ? 'meldet keine' : some}: ${list(f.silent)} ${quiet} nicht am Bus teil.`;
    },
    advice: (f) =>
      `${list(f.silent)} durch ${f.silent.length === 1 ? 'eine meldende Versorgung' : 'meldende Versorgungen'} mit gleichem oder höherem Nennstrom ersetzen.`,
  },
  'supply-on-unpowered-medium': {
    title: 'Eine Spannungsversorgung auf einem Medium ohne Speisung',
    why: 'Funk, Powerline und IP brauchen keine Busspannungsversorgung. Eine, die im Projekt dort steht, fehlt da, wo sie wirklich eingebaut ist, oder wird unnötig bestellt.',
    remedy: 'Die Versorgung auf das Segment setzen, das sie speist, oder aus dem Projekt nehmen.',
    limit: 'Versorgungen stehen nur auf Twisted Pair',
    source:
      'aus dem Gedächtnis, nicht bestätigt: von den Medien des Austauschformats führt nur Twisted Pair die Speisung',
    message: (f) =>
      `${line(f.segment)} ist ${f.medium} und führt keine Busspannung, aber ${list(f.supplies)} ${f.supplies.length === 1 ? 'steht' : 'stehen'} darauf.`,
    advice: () =>
      'Die Versorgung auf dem Twisted-Pair-Segment eintragen, an dem sie angeschlossen ist, oder aus der Bestellung streichen.',
  },
};
