import { zip } from './archives.js';
import { topologyXml } from './xml.js';

/** An archive that is small to send and costly to audit: a segment of very many devices (10,000 cost about 15 MB of heap). */
export function heavyArchive(devices: number): Promise<Buffer> {
  const all = Array.from(
    { length: devices },
    (_, index) => `<DeviceInstance Id="D-${index}" Address="${index % 256}"/>`,
  );
  const segment = `<Segment Id="S" Number="0" MediumTypeRefId="MT-0">${all.join('')}</Segment>`;
  return zip({
    'P-0001/0.xml': topologyXml(`<Area Id="A" Address="1"><Line Id="L" Address="1">${segment}</Line></Area>`),
  });
}
