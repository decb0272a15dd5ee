import { zip } from './archives.js';
import { hardwareXml, topologyXml } from './xml.js';

/** What a test lets a plan say of one line, in a form that an archive can be made of as well. */
export interface PlanSpec {
  readonly line: string;
  readonly supplyMa: readonly number[];
  readonly devices: readonly { readonly count: number; readonly what: string; readonly ma: number | null }[];
}

/** The plan as its document says it. */
export function planOf(lines: readonly PlanSpec[]): object {
  return {
    lines: lines.map(({ line, supplyMa, devices }) => ({
      line,
      supply: supplyMa.map((ma) => `${ma} mA`),
      devices: devices.map(({ count, what, ma }) => ({ count, what, ...(ma !== null && { current: `${ma} mA` }) })),
    })),
  };
}

/** An export of what is planned, with a coupler at address 0 of every line under a main line where there are several, written by hand. */
export function archiveOf(lines: readonly PlanSpec[]): Promise<Buffer> {
  const products = new Map<string, string>();
  const hasCoupler = ({ line }: PlanSpec) => lines.length > 1 && !line.endsWith('.0');
  const areas = lines.map((spec, index) => areaXml(spec, index, hasCoupler(spec), products));
  return zip({
    'P-0001/0.xml': topologyXml(areas.join('')),
    'M-F0A1/Hardware.xml': hardwareXml([...products.values()].join('')),
  });
}

function areaXml(
  { line, supplyMa, devices }: PlanSpec,
  index: number,
  hasCoupler: boolean,
  products: Map<string, string>,
) {
  const [area, number] = line.split('.');
  let made = 0;
  const device = (product: string, xml: string, address?: number) => {
    products.set(
      product,
      `<Hardware Id="H-${product}" ${xml}><Products><Product Id="${product}"/></Products></Hardware>`,
    );
    const at = address === undefined ? '' : ` Address="${address}"`;
    return `<DeviceInstance Id="D-${index}-${made++}"${at} ProductRefId="${product}"/>`;
  };
  const all = [
    ...(hasCoupler ? [device('coupler', 'IsCoupler="1" HasIndividualAddress="1" HasApplicationProgram="1"', 0)] : []),
    ...supplyMa.map((ma) => device(`ps-${ma}`, `BusCurrent="${ma}" IsPowerSupply="1" HasIndividualAddress="0"`)),
    ...devices.flatMap(({ count, what, ma }) => {
      const current = ma === null ? '' : `BusCurrent="${ma}" `;
      const xml = `${current}HasIndividualAddress="1" HasApplicationProgram="1"`;
      return Array.from({ length: count }, () => device(`${what}-${ma}`, xml));
    }),
  ];
  const segment = `<Segment Id="S-${index}" Number="1" MediumTypeRefId="MT-0">${all.join('')}</Segment>`;
  return `<Area Id="A-${index}" Address="${area}"><Line Id="L-${index}" Address="${number}">${segment}</Line></Area>`;
}
