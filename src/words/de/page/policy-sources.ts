/** Where the values of the built-in policies are from, by their key; English has them beside the values. */
export const POLICY_SOURCES = {
  targetLoad:
    'übliche Praxis, ohne Quelle: etwa 80 % sind ein guter Arbeitspunkt (70 % nehmen die vorsichtigen Vorgaben)',
  assumedCurrentMa: 'übliche Praxis, ohne Quelle: die Faustregel sind 10 mA; Gateways ziehen etwa 20 mA',
  assumedLowMa: 'Band 3/2/2: ein Standardgerät zieht 3 bis 12 mA',
  assumedHighMa:
    'Band 3/2/2: ein Standardgerät zieht 3 bis 12 mA (60 mA der vorsichtigen Vorgaben sind übliche Praxis: eine Anzeige, die nur der Bus speist)',
  stock: 'übliche Praxis, ohne Quelle: die gängigen Nennströme',
  couplerUpperSide: 'übliche Praxis, ohne Quelle: ein Koppler kann aus beiden Seiten Strom ziehen',
  devicesClassic: 'Band 3/2/2: 64 Geräte des klassischen Typs je Segment',
  devicesGreatest: 'Band 3/2/2: 256 Geräte des neueren Typs je Segment',
  leastRatingMa: 'Band 9/2 §6: 25 mA hat die kleinste (dezentrale) Versorgung',
  implausibleAboveMa: 'übliche Praxis, ohne Quelle: wirkliche Geräte ziehen 2,5 bis 60 mA',
  typicalSupplyV: 'Band 9/2 §2.2: 28–31 V, üblich 30 V',
  leastSupplyV: 'Band 9/2 §2.2: 28–31 V, üblich 30 V',
  leastDeviceV: 'Band 3/2/2 §1.2.2: 21 V im eingebauten Zustand',
  hardDeviceV: 'Band 3/2/2 §1.2.2: bei 20 V müssen Geräte noch arbeiten',
  deviceModel: 'übliche Praxis, ohne Quelle: Geräte werden mit dem Strom geplant, den sie angeben',
  loopOhmPerKm: 'VDE 0816: 73,2 Ω/km größter Schleifenwiderstand eines Paars mit 0,8 mm',
  supplyToDeviceM: 'Band 9/2 §2.11: 350 m von einer Versorgung zu einem Gerät',
  cablePerSegmentM: 'Band 3/2/2: höchstens 1000 m Leitung je Segment',
  deviceToDeviceM: 'Band 3/2/2: höchstens 700 m Leitung zwischen zwei Geräten',
  chokesApartM: 'Band 9/2 §2.11: Drosseln mindestens 200 m Leitung auseinander',
  measuredShare:
    'übliche Praxis, ohne Quelle: Datenblätter nennen, was ein Gerät höchstens zieht; Messgeräte und Leitung kommen etwas dazu',
  measuredV: 'übliche Praxis, ohne Quelle: Versorgungen unterscheiden sich um einige Zehntel Volt, Messgeräte ebenso',
  growth: 'nichts ist geplant, solange die Vorgaben nichts sagen',
  severities: 'die Schwere der Regel selbst, solange die Vorgaben nichts anderes sagen',
  products: 'die Werte des Archivs, solange die Vorgaben nichts anderes sagen',
};
