import type { ReportChoice, ReportPiece } from '../../src/report/proposal-shape.js';
import type { Report } from '../../src/report/report.js';
import { zip } from './archives.js';
import { hardwareXml, knx } from './xml.js';

/** An installation as a test writes it down, to be made an archive of, changed as a report proposes, and made one again. */
export interface Built {
  readonly lines: readonly BuiltLine[];
}

export interface BuiltLine {
  /** area.line */
  readonly line: string;
  readonly medium: 'MT-0' | 'MT-5';
  /** By number; devices on each. */
  readonly segments: readonly (readonly BuiltDevice[])[];
}

export interface BuiltDevice {
  readonly id: string;
  readonly is: 'device' | 'coupler' | 'IP coupler' | 'supply' | 'reporting supply';
  /** Number on the line; left out: none. */
  readonly address?: number | undefined;
  /** mA; null: not declared. */
  readonly ma: number | null;
  readonly board?: string | undefined;
}

const PARTS: { readonly [is in BuiltDevice['is']]: string } = {
  device: 'HasIndividualAddress="1" HasApplicationProgram="1"',
  coupler: 'IsCoupler="1" HasIndividualAddress="1" HasApplicationProgram="1"',
  'IP coupler': 'IsCoupler="1" IsIPEnabled="1" HasIndividualAddress="1" HasApplicationProgram="1"',
  supply: 'IsPowerSupply="1" HasIndividualAddress="0"',
  'reporting supply': 'IsPowerSupply="1" HasIndividualAddress="1" HasApplicationProgram="1"',
};

/** An export of it, written without any of the service's code. */
export function archiveOfBuilt({ lines }: Built): Promise<Buffer> {
  const products = new Map<string, string>();
  const boards = new Map<string, string[]>();
  const areas = lines.map(({ line, medium, segments }, index) => {
    const [area, number] = line.split('.');
    const inner = segments.map((devices, at) => {
      const all = devices.map((device) => deviceXml(device, products, boards)).join('');
      return `<Segment Id="S-${line}-${at + 1}" Number="${at + 1}" MediumTypeRefId="${medium}">${all}</Segment>`;
    });
    return `<Area Id="A-${index}" Address="${area}"><Line Id="L-${line}" Address="${number}">${inner.join('')}</Line></Area>`;
  });
  const spaces = [...boards].map(([board, ids], at) => {
    const refs = ids.map((id) => `<DeviceInstanceRef RefId="${id}"/>`).join('');
    return `<Space Type="DistributionBoard" Id="B-${at}" Name="${board}">${refs}</Space>`;
  });
  const building = `<Locations><Space Type="Building" Id="B" Name="House">${spaces.join('')}</Space></Locations>`;
  const topology = `<Installation Name="House"><Topology>${areas.join('')}</Topology>${building}</Installation>`;
  return zip({
    'P-0001/0.xml': knx(`<Project Id="P-0001"><Installations>${topology}</Installations></Project>`),
    'M-F0A1/Hardware.xml': hardwareXml([...products.values()].join('')),
  });
}

function deviceXml(
  { id, is, address, ma, board }: BuiltDevice,
  products: Map<string, string>,
  boards: Map<string, string[]>,
) {
  const product = `${is.replace(' ', '-')}-${ma}`;
  const current = ma === null ? '' : ` BusCurrent="${ma}"`;
  products.set(
    product,
    `<Hardware Id="H-${product}" ${PARTS[is]}${current}><Products><Product Id="${product}"/></Products></Hardware>`,
  );
  if (board !== undefined) boards.set(board, [...(boards.get(board) ?? []), id]);
  const at = address === undefined ? '' : ` Address="${address}"`;
  return `<DeviceInstance Id="${id}"${at} ProductRefId="${product}"/>`;
}

/** What the report proposes, carried out; from the report alone. */
export function carriedOut(built: Built, { segments, newMainLines }: Report): { built: Built; touched: string[] } {
  const lines = new Map(
    built.lines.map((line) => [line.line, { ...line, segments: line.segments.map((list) => [...list]) }]),
  );
  const touched = new Set<string>();
  const done = new Set<string>();
  let made = 0;
  const buy = ({ added }: ReportChoice): BuiltDevice[] =>
    added.map(({ ratedMa, kind }) => ({
      id: `NEW-${++made}`,
      is: kind === 'reporting' ? 'reporting supply' : 'supply',
      ma: ratedMa,
    }));
  for (const { id, line, number, proposal } of segments) {
    if (done.has(id)) continue;
    for (const other of [id, ...proposal.with]) done.add(other);
    const list = lines.get(line)?.segments[number - 1];
    if (list === undefined) throw new Error(`no segment ${id}`);
    const exchange = (choice: ReportChoice) => {
      const removed = new Set(choice.removed.map((unit) => unit.id));
      list.splice(0, list.length, ...list.filter((device) => !removed.has(device.id)), ...buy(choice));
      touched.add(id);
    };
    if (proposal.choice !== null) exchange(proposal.choice);
    for (const piece of proposal.plan?.pieces ?? []) split(piece, list, exchange);
    const beside = proposal.plan?.beside ?? null;
    if (beside !== null) {
      lines.get(line)?.segments[0]?.push(couplerOf(beside.coupler));
      touched.add(beside.segment);
    }
  }
  for (const { line, choice } of newMainLines) {
    if (choice === null) throw new Error('a main line without supplies');
    lines.set(line, { line, medium: 'MT-0', segments: [buy(choice)] });
    touched.add(`S-${line}-1`);
  }
  return { built: { lines: [...lines.values()] }, touched: [...touched] };

  function couplerOf({ isIpEnabled, like, lowerMa }: NonNullable<ReportPiece['coupler']>): BuiltDevice {
    const is = isIpEnabled ? 'IP coupler' : 'coupler';
    return { id: `NEW-${++made}`, is, address: 0, ma: like === null ? null : lowerMa };
  }

  function split(piece: ReportPiece, own: BuiltDevice[], exchange: (choice: ReportChoice) => void) {
    const coupler = piece.coupler && couplerOf(piece.coupler);
    if (!piece.isNew) {
      exchange(piece.choice);
      if (coupler !== null) own.push(coupler);
      return;
    }
    const moved = piece.devices.map(({ id, proposedAddress }) => {
      const at = own.findIndex((device) => device.id === id);
      const [device] = own.splice(at, 1);
      if (at < 0 || device === undefined) throw new Error(`no device ${id}`);
      const number = proposedAddress?.split('.').at(-1);
      return { ...device, address: number === undefined ? undefined : Number(number) };
    });
    if (lines.has(piece.line)) throw new Error(`line ${piece.line} is there already`);
    const devices = [...(coupler === null ? [] : [coupler]), ...moved, ...buy(piece.choice)];
    lines.set(piece.line, { line: piece.line, medium: 'MT-0', segments: [devices] });
    touched.add(`S-${piece.line}-1`);
  }
}
