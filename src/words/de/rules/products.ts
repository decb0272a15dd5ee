import type { TurnFacts } from '../../facts.js';
import { MOST_LISTED } from '../../figures.js';
import type { Words } from '../../words.js';
import { count, figures, line, placesText } from '../sentences.js';

const { milliamps, list } = figures;

/** Rules about what products declare. */
export const productRules: Pick<
  Words['rules'],
  'current-not-declared' | 'current-implausible' | 'product-not-in-archive'
> = {
  'current-not-declared': {
    title: 'Ein Produkt gibt seinen Strom nicht an',
    why: 'Nichts von dem, was geprüft wird, sagt, was das Gerät zieht; die Bilanz ruht daher auf einer Faustregel. Displays und Gateways ziehen ein Mehrfaches davon.',
    remedy: 'Den Strom im Datenblatt des Produkts nachschlagen.',
    limit:
      'jeder Teilnehmer auf Twisted Pair gibt seinen Strom an; wo nicht, sind 10 mA angenommen (wenn die Vorgaben nichts anderes sagen)',
    source: 'übliche Praxis, ohne Quelle: die Faustregel',
    message: (f) =>
      f.isUpperSide
        ? `${f.product}, Versorgung und Koppler in einem, gibt den Nennstrom an, aber nicht, was es von der Linie darüber zieht; je ${milliamps(f.assumedMa)} sind angenommen (${placesText(f.places)}).`
        : `${f.product} gibt seinen Strom nicht an; angenommen sind ${milliamps(f.assumedMa)} für ${f.devices === 1 ? '1 Gerät' : `jedes von ${f.devices} Geräten`} (${placesText(f.places)}).`,
    advice: (f, source = 'archive') =>
      source === 'plan'
        ? `Den Busstrom von ${f.product} aus dem Datenblatt dessen nehmen, was bestellt werden soll, und in die Planung eintragen.`
        : `Den Busstrom von ${f.product} aus dem Datenblatt nehmen.`,
  },
  'current-implausible': {
    title: 'Ein Produkt gibt einen Strom an, der kaum zu glauben ist',
    why: 'Manche Produkte geben 0 an, weil eine andere Quelle sie speist, manche, weil niemand den Wert eingetragen hat; ein negativer oder sehr hoher Wert ist ein Versehen. Ein Urteil kann daran hängen.',
    remedy: 'Den angegebenen Strom mit dem Datenblatt des Produkts vergleichen.',
    limit: 'ein Teilnehmer mit Adresse zieht mehr als 0 und höchstens 100 mA (wenn die Vorgaben nichts anderes sagen)',
    source:
      'übliche Praxis, ohne Quelle: wirkliche Geräte ziehen 2,5 bis 60 mA; der größte glaubhafte Strom steht in den Vorgaben',
    message: (f) => {
      const doubts = {
        zero: 'an, dass es nichts vom Bus zieht',
        negative: 'einen negativen Strom an',
        unreadable: 'einen Strom an, der keine brauchbare Zahl ist',
        'too high': 'einen ungewöhnlich hohen Strom an',
      };
      return `${f.product} gibt ${doubts[f.doubt]} („${f.declared}“ mA); ${count(f.devices, 'Gerät', 'Geräte')} (${placesText(f.places)}), gerechnet mit ${f.devices === 1 ? '' : 'je '}${milliamps(f.chargedMa)}.`;
    },
    advice: (f) => `Im Datenblatt nachprüfen.${turnsText(f.turns, f.devices)}`,
  },
  'product-not-in-archive': {
    title: 'Das Archiv enthält das Produkt eines Geräts nicht',
    why: 'Ohne Produktdaten ist von dem Gerät nichts bekannt: weder was es zieht, noch ob es eine Versorgung ist.',
    remedy: 'Das Projekt samt Produktdaten neu exportieren oder das Gerät nachschlagen.',
    limit:
      'jedes Gerät auf Twisted Pair hat sein Produkt im Archiv; wo nicht, sind 10 mA angenommen (wenn die Vorgaben nichts anderes sagen)',
    source: 'übliche Praxis, ohne Quelle: die Faustregel',
    message: (f) =>
      `${f.productId === '' ? 'Kein Produkt genannt' : `Das Produkt ${f.productId} steht nicht im Archiv`}, betroffen: ${count(f.devices, 'Gerät', 'Geräte')} (${placesText(f.places)}); ${f.devices === 1 ? '' : 'je '}${milliamps(f.assumedMa)} sind angenommen.`,
    advice: () =>
      'Das Projekt zusammen mit seinen Produktdaten neu exportieren. Fehlt das Produkt weiter, die Geräte vor Ort bestimmen und ihren Strom aus dem Datenblatt nehmen.',
  },
};

function turnsText(turns: readonly TurnFacts[], devices: number): string {
  const each = devices === 1 ? '' : 'je ';
  const known = turns.filter(({ toTightMa, toInsufficientMa }) => toTightMa !== null || toInsufficientMa !== null);
  if (known.length === 0) return '';
  const parts = known.map(({ segment, toTightMa, toInsufficientMa }) => {
    const bounds = [
      toTightMa === null ? '' : `bis ${each}${milliamps(toTightMa)} im Zielwert`,
      toInsufficientMa === null ? '' : `bis ${each}${milliamps(toInsufficientMa)} im Nennstrom`,
    ];
    return `${line(segment)} bleibt ${bounds.filter(Boolean).join(', ')}`;
  });
  return ` Was das Urteil kippen würde: ${list(parts, MOST_LISTED, (n) => count(n, 'weitere Linie', 'weitere Linien'))}.`;
}
