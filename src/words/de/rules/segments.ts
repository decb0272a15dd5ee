import type { Words } from '../../words.js';
import { names } from '../names.js';
import { count, figures, line } from '../sentences.js';

const { milliamps, list } = figures;

/** Rules about segments, lines and addresses. */
export const segmentRules: Pick<
  Words['rules'],
  | 'assumption-decides'
  | 'segment-boundaries-unknown'
  | 'duplicate-address'
  | 'too-many-devices'
  | 'coupler-missing'
  | 'device-unplaced'
  | 'schema-not-known'
> = {
  'assumption-decides': {
    title: 'Das Urteil hängt an Strömen, die niemand angibt',
    why: 'Mit dem, was solche Geräte mindestens ziehen, fällt das Urteil über das Segment anders aus als mit dem, was sie höchstens ziehen. Die Faustregel entscheidet, und niemand hat nachgesehen.',
    remedy:
      'Die Ströme in den Datenblättern nachschlagen und in die Vorgaben eintragen; die Liste unbekannter Produkte sagt, welche.',
    limit: 'das Urteil ist an beiden Grenzen der angenommenen Ströme dasselbe',
    source: 'Band 3/2/2: ein übliches Gerät zieht 3 bis 12 mA; die Grenzen stehen in den Vorgaben',
    message: (f) => {
      const { verdicts } = names;
      const low = `mit je ${milliamps(f.lowMa)} wäre sie ${verdicts[f.atLow]} (${milliamps(f.loadAtLowMa)})`;
      const high = `mit je ${milliamps(f.highMa)} ${verdicts[f.atHigh]} (${milliamps(f.loadAtHighMa)})`;
      const turn = f.turnsAtMa === null ? '' : `; es kippt über einem Mittel von ${milliamps(f.turnsAtMa)}`;
      return `${line(f.segment)} ist ${verdicts[f.verdict]}, aber ${f.assumedItems === 1 ? 'der Strom von 1 Teilnehmer ist' : `die Ströme von ${f.assumedItems} Teilnehmern sind`} angenommen: ${low}, ${high}${turn}.`;
    },
    advice: (f) =>
      `${f.assumedItems === 1 ? 'Den angenommenen Strom' : `Die ${f.assumedItems} angenommenen Ströme`} auf ${line(f.segment)} nachschlagen.`,
  },
  'segment-boundaries-unknown': {
    title: 'Der Export sagt nicht, welche Geräte auf welchem elektrischen Segment hängen',
    why: 'Linienverstärker teilen eine Linie in elektrische Segmente, jedes mit eigener Versorgung. Diese Form des Exports führt die Linie als eines, daher kann kein Segment als in Ordnung gelten.',
    remedy:
      'Die Geräte in der Inbetriebnahme-Software auf Segmente setzen und das Projekt in einem Schema mit Segmenten (21 oder höher) exportieren, oder im Anlagenblatt sagen, welches Gerät auf welchem hängt (lines).',
    limit: 'jedes Gerät hängt auf einem bekannten elektrischen Segment',
    source: 'Band 3/2/2 §1.3.2: bis zu vier Segmente je Linie, jedes mit eigener Versorgung',
    message: (f) => {
      if (f.cause === 'beside the segments') {
        return `${count(f.items, 'Teilnehmer', 'Teilnehmer')} ${f.items === 1 ? 'steht' : 'stehen'} auf Linie ${f.line} selbst, neben ihren Segmenten: ${list(f.stray)}; auf welchem Segment, ist nicht bekannt.`;
      }
      if (f.cause === 'devices beside') {
        return `Auf Linie ${f.line} selbst, neben ihren Segmenten, ${f.stray.length === 1 ? 'steht' : 'stehen'} ${list(f.stray)}; was davon auf ${line(f.segment)} hängt, ist nicht bekannt, und damit auch deren Bilanz nicht.`;
      }
      return `${count(f.repeaters.length, 'Linienverstärker', 'Linienverstärker')} (${list(f.repeaters)}) ${f.repeaters.length === 1 ? 'teilt' : 'teilen'} ${line(f.segment)} in elektrische Segmente; der Export sagt nicht, auf welchem davon ${count(f.items, 'Teilnehmer', 'Teilnehmer')} und ${count(f.supplies, 'Versorgung', 'Versorgungen')} stehen.`;
    },
    advice: () =>
      'Das Projekt in einer Fassung der Inbetriebnahme-Software öffnen, die Segmente kennt, die Geräte darauf setzen und neu exportieren; oder im Anlagenblatt sagen, welches Gerät auf welchem Segment hängt (lines).',
  },
  'duplicate-address': {
    title: 'Zwei Geräte belegen eine physikalische Adresse',
    why: 'Nur eines davon lässt sich ansprechen und laden; das andere ist vielleicht gar nicht eingebaut, und dann wird sein Strom unnötig gerechnet.',
    remedy: 'Einem davon eine andere Adresse geben oder das Gerät löschen, das es nicht gibt.',
    limit: 'eine physikalische Adresse gehört einem Gerät',
    source: 'Band 3/2/2 §1.3: 16 Bereiche × 16 Linien × 256 Adressen',
    message: (f) => `Die Adresse ${f.address} belegen ${list(f.takers)}.`,
    advice: () => 'Ein Gerät auf der Adresse lassen und den anderen freie geben; löschen, was nicht vorhanden ist.',
  },
  'too-many-devices': {
    title: 'Mehr Teilnehmer, als ein Segment haben darf',
    why: 'Jeder Teilnehmer belastet die Linie mit seinem Transceiver. Der klassische Gerätetyp erlaubt 64 auf einem Segment, der neuere 256.',
    remedy: 'Segment teilen oder anhand der Datenblätter sichern, dass jedes Gerät darauf vom neueren Typ ist.',
    limit:
      '64 Teilnehmer des klassischen Typs (darüber ein Hinweis), 256 des neueren (darüber ein Fehler), wenn die Vorgaben nichts anderes sagen',
    source: 'Band 3/2/2',
    message: (f) =>
      `${line(f.segment)} hat ${f.participants} Teilnehmer; ${f.isImpossible ? `kein Gerätetyp erlaubt mehr als ${f.most}` : `mit einem Gerät des klassischen Typs darauf sind ${f.most} erlaubt`}.`,
    advice: (f) =>
      f.isImpossible
        ? `Segment so teilen, dass kein Teil mehr als ${f.most} Teilnehmer hat.`
        : 'In den Datenblättern prüfen, ob jedes Gerät vom neueren Typ ist, oder das Segment teilen.',
  },
  'coupler-missing': {
    title: 'Eine Linie hat Geräte, aber keinen Koppler zur Linie darüber',
    why: 'Ohne Koppler ist die Linie eine Insel; kommt einer dazu, belastet er diese Linie und, wenn sie Twisted Pair ist, auch die Linie darüber.',
    remedy:
      'Koppler bestellen und auf Geräteadresse 0 eintragen, oder prüfen, ob die Linie für sich allein stehen soll.',
    limit: 'eine Linie einer Anlage mit mehreren Linien hat einen Koppler auf Geräteadresse 0',
    source: 'Band 3/2/2 §1.3; dass Adresse 0 dem Koppler gehört, ist übliche Praxis',
    message: (f) => `Linie ${f.line} hat keinen Koppler auf ${f.line}.0, obwohl die Anlage weitere Linien hat.`,
    advice: (f) => {
      const above = `Linie ${f.lineAbove ?? ''} darüber`;
      const charged = {
        powered: ` und ${above}`,
        IP: `; ${above} ist IP, es muss also ein IP-Koppler sein`,
        unpowered: `, da ${above} keine Busspannung führt`,
        'not in the export': `; ${above} steht nicht im Export`,
      };
      return `Den Koppler ${f.line}.0 eintragen oder einen bestellen; er belastet Linie ${f.line}${charged[f.above]}.`;
    },
  },
  'device-unplaced': {
    title: 'Ein Gerät steht auf keiner Linie',
    why: 'Was es zieht, lässt sich keinem Segment zurechnen; wird es irgendwo angeschlossen, ändert sich dessen Bilanz.',
    remedy: 'Das Gerät auf seine Linie setzen oder aus dem Projekt löschen.',
    limit: 'jedes Gerät steht auf einer Linie',
    source: 'übliche Praxis, ohne Quelle',
    message: (f) =>
      `${f.device} (${f.product}) steht auf keiner Linie; sein Strom (${f.declared === null ? 'nicht angegeben' : `${f.declared.replace('.', ',')} mA`}) wird nirgends gerechnet.`,
    advice: () => 'Auf die Linie setzen, an die es angeschlossen wird, und neu prüfen, oder löschen.',
  },
  'schema-not-known': {
    title: 'Die Schemanummer des Exports ist hier nicht bekannt',
    why: 'Das Dokument wurde wie die nächste bekannte Form gelesen. Hat sich die Form dazwischen geändert, kann etwas falsch gelesen sein.',
    remedy: 'Einige Segmente des Berichts gegen das Projekt prüfen oder eine neuere Fassung dieses Dienstes verwenden.',
    limit: 'Schemata 10 bis 14 und 20 bis 23',
    source: 'aus dem Gedächtnis, nicht bestätigt: die Schemanummern, die in der Praxis vorkommen',
    message: (f) =>
      `Der Export hat Schema ${f.schema}, das hier nicht bekannt ist; er wurde wie das nächste bekannte gelesen.`,
    advice: () => 'Geräte und Versorgungen einiger Segmente gegen die Inbetriebnahme-Software prüfen.',
  },
};
