import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import {
  archive,
  area,
  device,
  HARDWARE,
  line,
  MASTER,
  products,
  SUPPLY_ON_LINE,
  segment,
  TOPOLOGY,
} from '../plant.js';

const typed = (document: string, doctype: string) => document.replace('?>', `?>${doctype}`);

/** A lamp of this name, as it is written. */
const named = (name: string) =>
  archive({ [TOPOLOGY]: area(line(`${SUPPLY_ON_LINE}<DeviceInstance Id="lamp" ProductRefId="lp" Name="${name}"/>`)) });

const doctype = (what: string, text: string): Case =>
  bad(what, 422, 'malformed-xml', () => archive({ [TOPOLOGY]: typed(segment(), text) }), TOPOLOGY);

const reference = (what: string, text: string): Case => bad(what, 422, 'malformed-xml', () => named(text), TOPOLOGY);

const LAUGHS = Array.from({ length: 10 }, (_, level) => `<!ENTITY l${level + 1} "${`&l${level};`.repeat(10)}">`).join(
  '',
);

export const ENTITIES: Group = {
  name: 'entities and references',
  cases: [
    doctype('a billion laughs', `<!DOCTYPE KNX [<!ENTITY l0 "ha">${LAUGHS}]>`),
    doctype('one long entity, called often', `<!DOCTYPE KNX [<!ENTITY a "${'a'.repeat(50_000)}">]>`),
    doctype('an entity that calls itself', '<!DOCTYPE KNX [<!ENTITY a "&b;"><!ENTITY b "&a;">]>'),
    doctype('a file of the machine', '<!DOCTYPE KNX [<!ENTITY a SYSTEM "file:///etc/passwd">]>'),
    doctype('an address of the network', '<!DOCTYPE KNX SYSTEM "http://127.0.0.1:1/a.dtd">'),
    doctype('a parameter entity', '<!DOCTYPE KNX [<!ENTITY % a SYSTEM "http://127.0.0.1:1/a">%a;]>'),
    doctype('a default value', '<!DOCTYPE KNX [<!ATTLIST DeviceInstance Address CDATA "1">]>'),
    doctype('a document type and nothing in it', '<!DOCTYPE KNX>'),
    doctype('a document type in small letters', '<!doctype KNX>'),
    bad(
      'a document type in product data',
      422,
      'malformed-xml',
      () => archive({ [HARDWARE]: typed(products(), '<!DOCTYPE KNX>') }),
      HARDWARE,
    ),
    bad(
      'a document type in the master data',
      422,
      'malformed-xml',
      () => archive({ [MASTER]: typed(segment(), '<!DOCTYPE KNX>') }),
      MASTER,
    ),
    reference('an entity that is not declared', '&nobody;'),
    reference('an entity of another language', '&nbsp;'),
    reference('a parameter entity’s reference', '&%a;'),
    reference('a reference to a NUL', '&#0;'),
    reference('a reference to a control character', '&#x1;'),
    reference('a reference to half of a pair', '&#xD800;'),
    reference('a reference beyond the last character', '&#x110000;'),
    reference('a reference of many digits', '&#99999999999999999999;'),
    reference('a reference of very many digits', `&#${'9'.repeat(50_000)};`),
    reference('a reference of very many zeros', `&#${'0'.repeat(50_000)}65;`),
    reference('a negative reference', '&#-65;'),
    reference('a reference without a number', '&#;'),
    reference('a hexadecimal reference without a number', '&#x;'),
    reference('a reference with a large X', '&#X41;'),
    reference('a reference without its end', '&amp'),
    reference('an ampersand', 'light & shade'),
    reference('a reference named as a word of the language', '&constructor;'),
    reference('a reference named __proto__', '&__proto__;'),
    fine(
      'the references that every document has',
      () => named('&amp;&lt;&gt;&quot;&apos;&#65;&#x20AC;'),
      (report) => device('lamp')(report)?.name,
      `&<>"'A€`,
    ),
    fine(
      'four thousand references',
      () => named('&amp;'.repeat(4000)),
      (report) => device('lamp')(report)?.name,
      '&'.repeat(4000),
    ),
    fine(
      'a reference to a reference',
      () => named('&amp;lt;'),
      (report) => device('lamp')(report)?.name,
      '&lt;',
    ),
  ],
};
