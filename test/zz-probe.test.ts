import { test } from 'vitest';
import { audit } from '../src/audit.js';
import { zip } from './support/archives.js';
const NS='http://knx.org/xml/project/23';
const topo = (dev: string) => `<?xml version="1.0" encoding="utf-8"?>\n<KNX xmlns="${NS}"><Project Id="P-0001"><Installations><Installation><Topology><Area Id="a" Address="1"><Line Id="l" Address="1"><Segment Id="s" Number="0" MediumTypeRefId="MT-0">${dev}</Segment></Line></Area></Topology></Installation></Installations></Project></KNX>`;
const dev = '<DeviceInstance Id="d" Address="1" ProductRefId="p"/>';
const hw = (inner: string, attrs='', root='') => `<KNX xmlns="${NS}"${root}><ManufacturerData><Manufacturer RefId="M-0001"><Hardware><Hardware Id="h" BusCurrent="5"${attrs}>${inner || '<Products><Product Id="p" Text="t"/></Products>'}</Hardware></Hardware></Manufacturer></ManufacturerData></KNX>`;
async function run(h: string|Buffer, extra: Record<string,string> = {}) {
  try { const r = await audit(await zip({ 'P-0001/0.xml': topo(dev), 'M-0001/Hardware.xml': h, ...extra }));
    const s = r.segments[0]!; return JSON.stringify([s.load.totalMa, s.devices[0]!.product, s.devices[0]!.currentMa, s.devices[0]!.assumedBecause, r.projects[0]!.name]);
  } catch (e) { return ((e as any).code ?? 'OTHER')+' '+(e as Error).message+((e as any).code?'':(e as Error).stack?.slice(0,300)); }
}
test('p', async () => {
  const P='<Products><Product Id="p" Text="t"/></Products>';
  const t: Record<string, string> = {
    plain: hw(''),
    foreignEl: hw(P+'<x:Products><x:Product Id="q"/></x:Products>', '', ' xmlns:x="urn:x"'),
    foreignHw: `<KNX xmlns="${NS}" xmlns:x="urn:x"><ManufacturerData><Manufacturer RefId="M-0001"><Hardware><Hardware Id="h" BusCurrent="5">${P}</Hardware><x:Hardware BusCurrent="9"><x:Products><x:Product Id="p" Text="t"/></x:Products></x:Hardware></Hardware></Manufacturer></ManufacturerData></KNX>`,
    foreignAttr: hw('', ' x:BusCurrent="99"', ' xmlns:x="urn:x"'),
    foreignDefault: `<KNX xmlns="${NS}"><ManufacturerData><Manufacturer RefId="M-0001"><Hardware><Hardware Id="h" BusCurrent="5">${P}</Hardware><Hardware xmlns="urn:x" Id="h2" BusCurrent="9"><Products><Product Id="p" Text="t"/></Products></Hardware></Hardware></Manufacturer></ManufacturerData></KNX>`,
    proto: hw(P+'<__proto__ a="1"/>'),
    constructor: hw(P+'<constructor a="1"/>'),
    toString: hw(P+'<toString a="1"/><hasOwnProperty/><valueOf>x</valueOf>'),
    protoAttr: hw('', ' __proto__="1" constructor="x" toString="y"'),
    protoId: hw('<Products><Product Id="__proto__" Text="t"/><Product Id="p" Text="t"/></Products>'),
    lang: hw(P+'<Languages><Language Identifier="de"><TranslationUnit/></Language></Languages>'),
    langProto: hw(P+'<Languages><__proto__/></Languages>'),
    manyAmp: hw('<Products>'+Array.from({length: 3000}, (_,i)=>`<Product Id="p${i}" Text="a &amp; b &#xFC;"/>`).join('')+'<Product Id="p" Text="t"/></Products>'),
    amps: hw('<Products><Product Id="p" Text="&amp;lt; &amp;#x41; &amp;copy; &#x20AC; &#65; &lt;&gt;&quot;&apos;"/></Products>'),
    cdata: hw(P+'<![CDATA[ <Products><Product Id="p" Text="evil"/></Products> ]]>'),
    comment: hw(P+'<!-- <Product Id="p" Text="evil"/> > -->'),
    pi: hw(P+'<?pi <Product Id="p" Text="evil"/> ?>'),
    gtAttr: hw('<Products><Product Id="p" Text="a > b /> c"/></Products>'),
    nlAttr: hw('<Products><Product Id="p" Text="a\n\tb"/></Products>'),
    badbool: hw('', ' IsCoupler="yes"'),
    emptyManu: `<KNX xmlns="${NS}"><ManufacturerData><Manufacturer RefId="M-0001"><Hardware/></Manufacturer></ManufacturerData></KNX>`,
    noData: `<KNX xmlns="${NS}"/>`,
    textData: `<KNX xmlns="${NS}">text<ManufacturerData>t</ManufacturerData></KNX>`,
    noRef: `<KNX xmlns="${NS}"><ManufacturerData><Manufacturer><Hardware/></Manufacturer></ManufacturerData></KNX>`,
    prefixed: hw('').replace('xmlns=','xmlns:k=').replace(/<(\/?)([A-Z])/g,'<$1k:$2'),
    deep: hw(P+'<a>'.repeat(55)+'</a>'.repeat(55)),
    singleQuote: hw(`<Products><Product Id='p' Text='say "hi"'/></Products>`),
    spaced: hw(`<Products><Product Id = "p"\n Text = 't' ></Product ></Products >`),
    xmllang: hw(P+'<Foo xml:lang="de"/>'),
    attrDup: hw('', ' k:BusCurrent="77"', ` xmlns:k="${NS}"`),
    bigattr: hw(`<Products><Product Id="p" Text="${'x'.repeat(60000)}"/></Products>`),
    attrText: hw('<Products><Product Id="p" Text="t">#text</Product></Products>'),
    upperBool: hw('', ' IsCoupler="FALSE" IsCable=" 0 "'),
    elementNamedText: hw(P+'<_text/><a.b/><a-b/>'),
    unicodeEl: hw(P+'<ä/>'),
    emoji: hw('<Products><Product Id="p" Text="😀&#x1F600;"/></Products>'),
    nbsp: hw('<Products><Product Id="p" Text="a&nbsp;b"/></Products>'),
  };
  for (const [k, b] of Object.entries(t)) console.log(k.padEnd(14), (await run(b)).slice(0,300));
  console.log('projname', await run(hw(''), {'P-0001/project.xml': `<KNX xmlns="${NS}" xmlns:x="urn:x"><Project Id="P-0001"><ProjectInformation x:Name="no" Name="N &amp; M"/></Project></KNX>`}));
  console.log('projname2', await run(hw(''), {'P-0001/project.xml': `<KNX xmlns="${NS}" xmlns:x="urn:x"><Project Id="P-0001"><x:ProjectInformation Name="no"/><ProjectInformation Name="N"/></Project></KNX>`}));
  console.log('xmllangroot', await run(`<KNX xml:lang="de"/>`));
  console.log('xmlns empty prefix', await run(`<KNX xmlns="${NS}" xmlns:p=""/>`));
  console.log('double ns attr', await run(`<KNX xmlns="${NS}" xmlns:a="urn:x" xmlns:b="urn:x"><z a:q="1" b:q="2"/></KNX>`));
  console.log('colons', await run(`<KNX xmlns="${NS}" xmlns:a="urn:x"><a:b:c/></KNX>`));
  console.log('colons2', await run(`<KNX xmlns="${NS}"><:c/></KNX>`));
});
