import type { Report } from '../../../src/report/report.js';
import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import {
  and,
  archive,
  area,
  balance,
  HARDWARE,
  line,
  products,
  SOUND,
  SUPPLY_ON_LINE,
  segment,
  TOPOLOGY,
} from '../plant.js';

/** Names that mean something to the language of the service, used for everything that has a name. */
const WORDS = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'prototype', '__defineGetter__'];

/** A lamp whose id, product and place are all called so. */
function called(word: string): Buffer {
  const lamp = `<DeviceInstance Id="${word}" Name="${word}" Address="1" ProductRefId="${word}"/>`;
  const place = `<Locations><Space Type="Room" Name="${word}"><DeviceInstanceRef RefId="${word}"/></Space></Locations>`;
  const topology = area(line(SUPPLY_ON_LINE + lamp)).replace('</Topology>', `</Topology>${place}`);
  return archive({ [TOPOLOGY]: topology, [HARDWARE]: products().replace('"lp"', `"${word}"`) });
}

const lamp = ({ segments: [only] }: Report) => {
  const { id, name, productId, product, location, currentMa, origin } = only?.devices.at(-1) ?? {};
  return { id, name, productId, product, location, currentMa, origin };
};

const everywhere = (word: string): Case =>
  fine(`${word}, as id, name, product and place`, () => called(word), lamp, {
    id: word,
    name: word,
    productId: word,
    product: 'Lamp',
    location: word,
    currentMa: 5,
    origin: 'declared',
  });

const dangling = (word: string): Case =>
  fine(
    `${word}, as a product that is not there`,
    () => archive({ [TOPOLOGY]: segment(`${SUPPLY_ON_LINE}<DeviceInstance Id="lamp" ProductRefId="${word}"/>`) }),
    (report) => lamp(report).product,
    null,
  );

const marked = (word: string): Case =>
  fine(
    `${word}, as element and attribute`,
    () => archive({ [TOPOLOGY]: segment().replace('</Area>', `<${word} ${word}="1"><${word}/></${word}></Area>`) }),
    balance,
    SOUND,
  );

const packed = (word: string): Case =>
  fine(`${word}, as a part and a folder`, () => and({ name: word }, { name: `${word}s/0.xml` }), balance, SOUND);

export const LANGUAGE_WORDS: Group = {
  name: 'words of the language',
  cases: [
    ...WORDS.map(everywhere),
    ...WORDS.map(dangling),
    ...WORDS.map(marked),
    ...WORDS.map(packed),
    bad(
      '__proto__ as an Id twice',
      422,
      'invalid-value',
      () => archive({ [TOPOLOGY]: segment('<DeviceInstance Id="__proto__"/>'.repeat(2)) }),
      TOPOLOGY,
    ),
    bad(
      'constructor as a flag',
      422,
      'invalid-value',
      () => archive({ [HARDWARE]: products().replace('IsPowerSupply="1"', 'IsPowerSupply="constructor"') }),
      HARDWARE,
    ),
  ],
};
