import type { Words } from '../../words.js';

export const plant: Words['page']['plant'] = {
  heading: 'Die Anlage',
  intro:
    'Ein Streifen je Linie, der schlechteste zuerst, alle im selben Maßstab: der Rahmen ist so lang, wie die Versorgungen hergeben, der gefüllte Teil ist die Last nach der Herkunft der Ströme. Der gestrichelte Strich ist der Zielwert.',
  scale: (most) => `Der längste Streifen steht für ${most}.`,
  legend: 'Zeichenerklärung',
  parts: {
    declared: 'vom Produkt angegeben',
    overridden: 'in den Vorgaben überschrieben',
    assumed: 'angenommen',
    auxiliary: 'neben dem Bus entnommen',
    others: 'Last anderer an denselben Versorgungen',
    beyond: 'mehr, als die Versorgungen hergeben',
    planned: 'geplant',
  },
  strip: (f) => `${f.segment}: ${f.figures}`,
  carried: (f) => `${f.load} von ${f.capacity}`,
  unrated: (load) => `${load}, Nennstrom nicht bekannt`,
  rated: (f) => `${f.load}, Nennströme ${f.ratings}`,
  noSupply: (load) => `${load}, keine Versorgung`,
  feedUnknown: (load) => `${load}, Speisung nicht bekannt`,
  together: (load) => `${load} mit anderen`,
  line: (f) => `Linie ${f.line}${f.name === '' ? '' : ` ${f.name}`}`,
  table: 'Die Streifen als Tabelle',
};

export const chart: Words['page']['chart'] = {
  heading: 'Auslastung',
  title: (f) => `Auslastung ${f.first === f.last ? f.first : `${f.first} bis ${f.last}`}`,
  description: (target) =>
    `Eine Säule je Segment: die Last als Anteil an dem, was die Versorgungen hergeben. Die gestrichelte Linie ist der Zielwert von ${target}, die durchgezogene der ganze Nennstrom. Die Tabelle darunter enthält die Zahlen.`,
  intro:
    'Last als Anteil an dem, was die Versorgungen hergeben, in der Reihenfolge der Anlage. Ein Kreuz steht für ein Segment ohne Versorgung, ein Fragezeichen für eines, dessen Anteil niemand kennt, ein Strich für eines, das keine braucht.',
  target: (share) => `Ziel ${share}`,
  rating: 'Nennstrom',
  table: 'Die Säulen als Tabelle',
};
