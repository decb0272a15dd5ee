import { spawn } from 'node:child_process';
import { expect, test } from 'vitest';
import { NAMESPACE } from '../support/xml.js';

/**
 * Memory does not grow with a document: 100 MiB of one construct are read, or refused for a limit, in a process that has
 * 48 MiB of heap. A reader that collects the construct first ends there with "out of memory".
 */
const HEAP_MIB = 48;
const DOCUMENT_MIB = 100;

const CONSTRUCTS = {
  'text between elements': ['<a>', 'text ', '</a>'],
  'blanks in a tag': ['<a ', '     ', '/>'],
  'an attribute value': ['<a b="', 'value', '"/>'],
  'the name of an attribute': ['<a ', 'names', '="1"/>'],
  'many attributes': ['<a ', 'a%n="" ', '/>'],
  'the name of an element': ['<', 'names', '/>'],
  'the name of an end tag': ['<a></', 'names', '>'],
  'a reference': ['<a>&', 'names', ';</a>'],
  'a comment': ['<!--', 'text ', '-->'],
  'a CDATA section': ['<a><![CDATA[', 'text ', ']]></a>'],
  'an instruction': ['<?print ', 'text ', '?>'],
} as const;

const BUILT = new URL('../../dist/', import.meta.url).href;

/** Reads a document of one construct; prints how it ended. */
const program = ([before, again, after]: readonly string[]) => `
  import { readXml } from ${JSON.stringify(`${BUILT}interchange/xml/reader.js`)};
  import { DEFAULT_LIMITS } from ${JSON.stringify(`${BUILT}limits.js`)};
  const again = ${JSON.stringify(again)};
  let count = 0;
  const piece = () => Buffer.from(again.repeat(12_800).replace(/%n/g, () => count++));
  function* document() {
    yield Buffer.from(${JSON.stringify(`<KNX xmlns="${NAMESPACE}">${before}`)});
    for (let bytes = 0; bytes < ${DOCUMENT_MIB} * 1024 * 1024; ) {
      const next = piece();
      bytes += next.length;
      yield next;
    }
    yield Buffer.from(${JSON.stringify(`${after}</KNX>`)});
  }
  readXml(document(), 'part.xml', DEFAULT_LIMITS, { wanted: new Map(), open() {} }).then(() => console.log('read'), (e) => console.log(e.code));
`;

test.each(Object.entries(CONSTRUCTS))(
  '%s',
  async (_name, construct) => {
    const parameters = [`--max-old-space-size=${HEAP_MIB}`, '--input-type=module', '-e', program(construct)];
    const child = spawn(process.execPath, parameters, { stdio: ['ignore', 'pipe', 'ignore'] });
    let answer = '';
    child.stdout.on('data', (data) => {
      answer += data;
    });
    await new Promise((resolve) => child.on('close', resolve));
    expect(['read\n', 'limit-exceeded\n', 'malformed-xml\n']).toContain(answer);
  },
  120_000,
);
