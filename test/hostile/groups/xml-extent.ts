import { hardwareXml, knx, NAMESPACE } from '../../support/xml.js';
import type { Case, Group } from '../cases.js';
import { bad, fine, slow } from '../cases.js';
import { archive, area, balance, device, HARDWARE, line, SOUND, SUPPLY_ON_LINE, segment, TOPOLOGY } from '../plant.js';

const KIB = 1024;
const MIB = 1024 * KIB;
/** Elements around what stands in an area. */
const DEPTH_OF_AREA = 6;

const nested = (depth: number) => area(`${line(SUPPLY_ON_LINE)}${'<x>'.repeat(depth)}${'</x>'.repeat(depth)}`);
const attributes = (count: number) => Array.from({ length: count }, (_, index) => ` a${index}=""`).join('');
/** The plant with something at the end of its area. */
const withMore = (more: string) => archive({ [TOPOLOGY]: segment().replace('</Area>', `${more}</Area>`) });
/** Something in fifty elements of 250 prefixes each. */
function within12500(more: string): string {
  const declarations = (depth: number) =>
    Array.from({ length: 250 }, (_, index) => ` xmlns:p${depth}_${index}="urn:a"`).join('');
  return Array.from({ length: 50 }, (_, depth) => depth).reduce(
    (all, depth) => `<x${declarations(depth)}>${all}</x>`,
    more,
  );
}

/** Text that does not pack as well as one letter. */
const prose = (bytes: number) =>
  Array.from({ length: bytes / 8 }, (_, index) => index.toString(36).padStart(8)).join('');

const over = (what: string, more: () => string): Case =>
  bad(what, 413, 'limit-exceeded', () => withMore(more()), TOPOLOGY);
const audited = (what: string, more: () => string): Case => fine(what, () => withMore(more()), balance, SOUND);
const malformed = (what: string, document: () => string): Case =>
  bad(what, 422, 'malformed-xml', () => archive({ [TOPOLOGY]: document() }), TOPOLOGY);

export const XML_EXTENT: Group = {
  name: 'documents that are deep, wide, long or broken',
  cases: [
    bad('65 elements deep', 413, 'limit-exceeded', () => archive({ [TOPOLOGY]: nested(65 - DEPTH_OF_AREA) }), TOPOLOGY),
    bad(
      'a million elements deep',
      413,
      'limit-exceeded',
      () => archive({ [TOPOLOGY]: '<x>'.repeat(1_000_000) }),
      TOPOLOGY,
    ),
    over('257 attributes', () => `<x${attributes(257)}/>`),
    over('50,000 attributes', () => `<x${attributes(50_000)}/>`),
    over('a value of 64 KiB and a character', () => `<x a="${'a'.repeat(64 * KIB + 1)}"/>`),
    over('a value of 8 MiB', () => `<x a="${prose(8 * MIB)}"/>`),
    over('a value that does not end', () => `<x a="${prose(4 * MIB)}`),
    over(
      'a tag of over a mebibyte',
      () => `<x${Array.from({ length: 200 }, (_, index) => ` a${index}="${'b'.repeat(6000)}"`).join('')}/>`,
    ),
    over('a name of 3 MiB', () => `<${prose(3 * MIB).replaceAll(' ', '_')}/>`),
    over('two mebibytes of blanks in a tag', () => `<x${' '.repeat(2 * MIB)}/>`),
    over('a declaration of 2 MiB in the midst of names', () => `<x xmlns:a="${prose(2 * MIB)}"/>`),
    bad(
      '65 deep in product data',
      413,
      'limit-exceeded',
      () => archive({ [HARDWARE]: hardwareXml(`${'<x>'.repeat(61)}${'</x>'.repeat(61)}`) }),
      HARDWARE,
    ),
    malformed('a tag that does not end', () => segment().slice(0, -1)),
    malformed('a document that ends in a value', () => segment().slice(0, segment().indexOf('lamp') + 2)),
    malformed('crossed tags', () => knx('<a><b></a></b>')),
    malformed('an end tag without a name', () => knx('<a><b></b><b></></a>')),
    malformed('an attribute twice', () => knx('<a b="1" b="2"/>')),
    malformed('an attribute twice, by two prefixes', () => knx('<a xmlns:x="urn:a" xmlns:y="urn:a" x:b="" y:b=""/>')),
    malformed('a prefix that nobody declared', () => knx('<a:b/>')),
    malformed('a value without quotes', () => knx('<a b=1/>')),
    malformed('a less-than sign in a value', () => knx('<a b="<"/>')),
    malformed('two roots', () => knx('') + knx('').replace(/<\?xml.*?\?>/, '')),
    malformed('text behind the root', () => `${segment()}more`),
    malformed('text before the root', () => `more${segment()}`),
    malformed('a blank before the declaration', () => ` ${segment()}`),
    malformed('a comment that does not end', () => knx('<!-- ').replace('</KNX>', '')),
    malformed('two dashes in a comment', () => knx('<!-- a -- b -->')),
    malformed('a CDATA section that does not end', () => knx('<![CDATA[ a').replace('</KNX>', '')),
    malformed('the end of a CDATA section without its start', () => knx(']]>')),
    malformed('a version that is not 1', () => segment().replace('version="1.0"', 'version="2.0"')),
    malformed('an instruction called xml', () => knx('<?xml version="1.0"?>')),
    malformed('nothing', () => ''),
    malformed('blanks', () => ' '.repeat(1000)),
    malformed('JSON', () => '{"KNX": {}}'),
    fine('64 elements deep', () => archive({ [TOPOLOGY]: nested(64 - DEPTH_OF_AREA) }), balance, ['idle 0']),
    audited('256 attributes', () => `<x${attributes(256)}/>`),
    audited('a value of 64 KiB', () => `<x a="${'a'.repeat(64 * KIB)}"/>`),
    audited('100,000 elements beside each other', () => '<x/>'.repeat(100_000)),
    audited('100,000 names', () => Array.from({ length: 100_000 }, (_, index) => `<x${index}/>`).join('')),
    audited('a name of 1 KiB', () => `<${'n'.repeat(KIB)}/>`),
    over('a name of a byte more', () => `<${'n'.repeat(KIB + 1)}/>`),
    audited('8 MiB of comment', () => `<!--${prose(8 * MIB)}-->`),
    audited('8 MiB of CDATA', () => `<![CDATA[${prose(8 * MIB)}]]>`),
    audited('8 MiB of text', () => prose(8 * MIB)),
    audited('8 MiB of instruction', () => `<?x ${prose(8 * MIB)}?>`),
    audited('20,000 prefixes', () =>
      Array.from({ length: 20_000 }, (_, index) => `<p${index}:x xmlns:p${index}="urn:a"/>`).join(''),
    ),
    audited(
      'the namespace in elements of another one',
      () => `<y xmlns="urn:other"><Line xmlns="${NAMESPACE}" Id="L" Address="1"/></y>`,
    ),
    // 3 to 7 s of a thread by the machine, as each of them is looked for among those around it.
    slow(audited('100,000 prefixes within 12,500 others', () => within12500(`<x xmlns:p="urn:a"/>`.repeat(100_000)))),
    fine(
      'a name of 4,096 letters',
      () => archive({ [TOPOLOGY]: segment(`<DeviceInstance Id="lamp" Name="${'n'.repeat(4096)}"/>`) }),
      (report) => device('lamp')(report)?.name.length,
      4096,
    ),
    bad(
      'a name of 4,097 letters',
      413,
      'limit-exceeded',
      () => archive({ [TOPOLOGY]: segment(`<DeviceInstance Id="lamp" Name="${'n'.repeat(4097)}"/>`) }),
      TOPOLOGY,
    ),
  ],
};
