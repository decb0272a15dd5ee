import type { problems as english } from '../en/problems.js';

const NEU = 'Das Archiv neu exportieren und so senden, wie es exportiert wurde.';
const SCHADEN = 'Die Datei ist beschädigt: noch einmal kopieren oder herunterladen, oder neu exportieren.';
const WENIGER =
  'Weniger auf einmal exportieren, oder den genannten Grenzwert vom Betreiber des Dienstes anheben lassen.';

/** What is wrong with a request, and what to do, in German. */
export const problems: typeof english = {
  'not-a-zip': {
    title: 'Die gesendete Datei ist kein ZIP-Archiv',
    remedy:
      'Die Datei wählen, die die Inbetriebnahmesoftware exportiert hat, so wie sie ist: nicht entpackt und keine andere.',
  },
  'limit-exceeded': {
    title: 'Die Eingabe überschreitet einen Grenzwert dieses Dienstes',
    remedy:
      'Weniger auf einmal senden, oder prüfen, ob die richtigen Dateien gewählt sind; der Betreiber des Dienstes kann den genannten Grenzwert anheben.',
  },
  'archive-cut-off': {
    title: 'Das ZIP-Archiv ist abgeschnitten',
    remedy: 'Das Archiv noch einmal kopieren oder herunterladen, oder neu exportieren: Das Ende fehlt.',
  },
  'archive-split': {
    title: 'Das ZIP-Archiv ist eines von mehreren Teilarchiven',
    remedy: 'Das Projekt in eine einzige Datei exportieren.',
  },
  'archive-gap': { title: 'Das ZIP-Archiv enthält Bytes, die zu nichts gehören', remedy: NEU },
  'ambiguous-directory': { title: 'Das ZIP-Archiv lässt sich mit zwei Verzeichnissen lesen', remedy: NEU },
  'directory-misplaced': { title: 'Das Verzeichnis des ZIP-Archivs steht nicht an seiner Stelle', remedy: NEU },
  'directory-contradictory': { title: 'Das Verzeichnis des ZIP-Archivs widerspricht sich', remedy: NEU },
  'entry-misplaced': { title: 'Ein Eintrag des ZIP-Archivs steht nicht an seiner Stelle', remedy: NEU },
  'entry-contradictory': { title: 'Ein Eintrag des ZIP-Archivs widerspricht sich', remedy: NEU },
  'entries-overlap': {
    title: 'Zwei Einträge des ZIP-Archivs teilen sich Bytes',
    remedy:
      'Dieses Archiv nicht verwenden: Kein Export erzeugt ein solches. Aus vertrauenswürdiger Quelle neu exportieren.',
  },
  'unsafe-name': {
    title: 'Ein Eintrag des ZIP-Archivs hat einen Namen, der nicht erlaubt ist',
    remedy: 'Das Archiv neu exportieren; ein von Hand gepacktes ohne den genannten Eintrag packen.',
  },
  'ambiguous-part': {
    title: 'Zwei Teile des Archivs beanspruchen denselben Namen',
    remedy: 'Das Archiv neu exportieren; in einem von Hand gepackten nur einen der beiden behalten.',
  },
  'unsupported-packing': {
    title: 'Ein Teil des Archivs ist mit einem Verfahren gepackt, das nicht gelesen wird',
    remedy:
      'Das Archiv ohne Kennwort neu exportieren; ein von Hand gepacktes mit dem üblichen Verfahren (Deflate) packen.',
  },
  'inflate-failed': { title: 'Ein Teil des Archivs lässt sich nicht entpacken', remedy: SCHADEN },
  'size-mismatch': { title: 'Ein Teil des Archivs hat eine andere Größe als angegeben', remedy: SCHADEN },
  'checksum-mismatch': { title: 'Ein Teil des Archivs passt nicht zu seiner Prüfsumme', remedy: SCHADEN },
  'protected-project': {
    title: 'Das Projekt ist mit einem Kennwort geschützt',
    remedy: 'Das Kennwort in der Inbetriebnahmesoftware vom Projekt nehmen und es noch einmal exportieren.',
  },
  'no-project': {
    title: 'Das Archiv enthält kein Projekt',
    remedy: 'Das Projekt selbst exportieren; ein Archiv nur mit Produkten lässt sich nicht prüfen.',
  },
  'malformed-xml': {
    title: 'Ein XML-Dokument des Archivs ist nicht wohlgeformt',
    remedy: 'Das Archiv neu exportieren; ein von Hand geändertes Dokument an der genannten Stelle berichtigen.',
  },
  'unreadable-encoding': {
    title: 'Die Zeichenkodierung eines Dokuments ist nicht lesbar',
    remedy: 'Das Archiv neu exportieren; ein von Hand geändertes Dokument als UTF-8 speichern.',
  },
  'wrong-namespace': {
    title: 'Ein Dokument steht nicht im Namensraum des Austauschformats',
    remedy: 'Das Archiv eines Projekts wählen, exportiert im XML-Austauschformat der Norm.',
  },
  'invalid-value': {
    title: 'Ein Dokument enthält einen Wert, den das Austauschformat nicht erlaubt',
    remedy:
      'Den Wert in der Inbetriebnahmesoftware oder im genannten Dokument berichtigen und noch einmal exportieren.',
  },
  'invalid-policy': {
    title: 'Die Vorgabendatei ist nicht verwendbar',
    remedy: 'Die Vorgabendatei an der genannten Stelle berichtigen oder weglassen.',
  },
  'invalid-product-list': {
    title: 'Die Produktliste ist nicht verwendbar',
    remedy: 'Die Liste an der genannten Stelle berichtigen oder weglassen.',
  },
  'invalid-waivers': {
    title: 'Die Ausnahmenliste ist nicht verwendbar',
    remedy: 'Die Liste an der genannten Stelle berichtigen oder weglassen.',
  },
  'invalid-baseline': {
    title: 'Der Bericht zum Vergleich ist nicht verwendbar',
    remedy:
      'Den JSON-Bericht einer früheren Prüfung senden, wie er gespeichert wurde, von dieser Version; oder ihn weglassen.',
  },
  'invalid-site-sheet': {
    title: 'Das Anlagenblatt ist nicht verwendbar',
    remedy: 'Das Anlagenblatt an der genannten Stelle berichtigen oder weglassen.',
  },
  'invalid-measured-values': {
    title: 'Die Liste der Messwerte ist nicht verwendbar',
    remedy: 'Die Liste an der genannten Stelle berichtigen oder weglassen.',
  },
  'invalid-plan': {
    title: 'Die Planung ist nicht verwendbar',
    remedy: 'Die Planung an der genannten Stelle berichtigen.',
  },
  'invalid-changes': {
    title: 'Die Änderungen sind nicht möglich',
    remedy: 'Die Änderungen an der genannten Stelle berichtigen.',
  },
  'no-segments': {
    title: 'Das Projekt enthält kein Liniensegment',
    remedy: 'Das Projekt mit seiner Topologie exportieren: Bereiche, Linien und die Teilnehmer darauf.',
  },
  'malformed-request': {
    title: 'Die Anfrage ist fehlerhaft',
    remedy: 'Das Genannte ändern und noch einmal senden.',
  },
  'token-missing': {
    title: 'Der Anfrage fehlt ein Zugriffsschlüssel',
    remedy: 'Einen Zugriffsschlüssel mitsenden; der Betreiber des Dienstes gibt ihn aus.',
  },
  'token-not-valid': {
    title: 'Der Zugriffsschlüssel ist nicht gültig',
    remedy: 'Auf Schreibfehler prüfen, oder beim Betreiber des Dienstes einen neuen erfragen.',
  },
  'role-missing': {
    title: 'Der Zugriffsschlüssel reicht hierfür nicht',
    remedy: 'Beim Betreiber des Dienstes einen mit der genannten Rolle erfragen.',
  },
  'not-found': {
    title: 'Unter dieser Adresse gibt es nichts',
    remedy: 'Die Adresse prüfen; die erste Seite des Dienstes steht unter /.',
  },
  'rule-not-known': {
    title: 'Diese Regel gibt es nicht',
    remedy: 'Eine der Regeln nehmen, die /v1/rules aufzählt.',
  },
  'schema-not-known': {
    title: 'Dieses Schema gibt es nicht',
    remedy: 'Eines der genannten Schemas nehmen.',
  },
  'method-not-allowed': {
    title: 'Diese Methode gibt es unter der Adresse nicht',
    remedy: 'Eine der genannten Methoden nehmen.',
  },
  'not-acceptable': {
    title: 'Den Bericht gibt es nicht in der gewünschten Form',
    remedy: 'Einen der genannten Medientypen verlangen.',
  },
  'request-timeout': {
    title: 'Die Anfrage kam nicht rechtzeitig an',
    remedy: 'Noch einmal senden, nötigenfalls über eine schnellere Verbindung.',
  },
  'audit-too-long': { title: 'Die Prüfung dauert länger, als dieser Dienst erlaubt', remedy: WENIGER },
  'audit-too-large': { title: 'Die Prüfung braucht mehr Speicher, als dieser Dienst erlaubt', remedy: WENIGER },
  'unsupported-media-type': {
    title: 'Inhalte dieser Art werden hier nicht gelesen',
    remedy: 'Als einen der genannten Medientypen senden.',
  },
  'expectation-failed': {
    title: 'Die Anfrage erwartet etwas, was dieser Dienst nicht kann',
    remedy: 'Ohne die Kopfzeile Expect senden.',
  },
  'too-many-requests': {
    title: 'Es wird zu oft angefragt',
    remedy: 'So lange warten wie genannt, dann noch einmal senden.',
  },
  'headers-too-large': {
    title: 'Die Kopfzeilen der Anfrage sind zu groß',
    remedy: 'Weniger oder kürzere Kopfzeilen senden.',
  },
  busy: {
    title: 'Zu viele Prüfungen warten',
    remedy: 'In einigen Sekunden noch einmal senden.',
  },
  starting: {
    title: 'Der Dienst startet gerade',
    remedy: 'In einigen Sekunden noch einmal senden.',
  },
  stopping: {
    title: 'Der Dienst wird gerade beendet',
    remedy: 'In einer Minute noch einmal senden, wenn der Dienst wieder läuft.',
  },
  'internal-fault': {
    title: 'Der Dienst ist an einem eigenen Fehler gescheitert',
    remedy: 'Noch einmal senden; hilft das nicht, dem Betreiber des Dienstes die request-id nennen.',
  },
};
