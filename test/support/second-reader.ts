import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readDirectory } from '../../src/archive/directory.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import type { Report, ReportDevice, ReportSegment } from '../../src/report/report.js';
import { python } from './python.js';

/**
 * What the audit and a second reading of the same archives can both say of them. The second one was written from the
 * description of the interchange form alone and shares no code with this service. Its sources are those of the Python
 * standard library: zipfile and expat.
 */
const READER = fileURLToPath(new URL('../outside/independent_reader.py', import.meta.url));

interface Drawing {
  readonly id: string;
  readonly address: string | null;
  readonly product: string | null;
  /** Null where the current is not declared. */
  readonly currentUa: number | null;
}

/** What both readers can say of a segment on twisted pair. */
interface SegmentRead {
  readonly id: string;
  readonly line: string;
  readonly number: number;
  readonly participants: readonly Drawing[];
  readonly supplies: readonly { readonly id: string; readonly ratingUa: number | null }[];
  /** Couplers from below and bridges. */
  readonly reaching: readonly Drawing[];
}

export interface ArchiveRead {
  readonly entries: readonly { readonly name: string; readonly size: number; readonly crc32: number }[];
  readonly devices: number;
  readonly unassigned: number;
  readonly segments: readonly SegmentRead[];
}

/** The archive cannot be read; the text says why. */
export interface Refused {
  readonly refused: string;
}

interface PythonResult {
  readonly refused?: string;
  readonly entries: ArchiveRead['entries'];
  readonly installations: readonly {
    readonly deviceCount: number;
    readonly unassigned: readonly string[];
    readonly segments: readonly (SegmentRead & { readonly medium: string | null })[];
  }[];
}

/** What the independent reader says of some archives: all at once, as starting python costs more than reading them. */
export function readByPython(files: readonly Buffer[]): (ArchiveRead | Refused)[] {
  const folder = mkdtempSync(join(tmpdir(), 'second-reader-'));
  try {
    const paths = files.map((file, index) => {
      const path = join(folder, `${index}.zip`);
      writeFileSync(path, file);
      return path;
    });
    const output = JSON.parse(python(READER, ...paths).toString()) as PythonResult | PythonResult[];
    return [output].flat().map(ofPython);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function ofPython({ refused, entries, installations }: PythonResult): ArchiveRead | Refused {
  if (refused !== undefined) return { refused };
  return {
    entries,
    devices: installations.reduce((sum, { deviceCount }) => sum + deviceCount, 0),
    unassigned: installations.reduce((sum, { unassigned }) => sum + unassigned.length, 0),
    segments: installations.flatMap(({ segments }) =>
      segments.filter(({ medium }) => medium === null || medium === 'MT-0').map(({ medium, ...segment }) => segment),
    ),
  };
}

/** The same out of the directory of the archive and the report of the audit. */
export function readByAudit(file: Buffer, { segments, summary }: Report): ArchiveRead {
  return {
    entries: readDirectory(file, DEFAULT_LIMITS)
      .filter(({ isDirectory }) => !isDirectory)
      .map(({ name, bytes, crc32 }) => ({ name, size: bytes, crc32 })),
    devices: summary.devicesPlaced + summary.devicesUnplaced,
    unassigned: summary.devicesUnplaced,
    segments: segments.filter(({ medium }) => medium.id === 'MT-0').map(ofReport),
  };
}

const toUa = (ma: number | null) => (ma === null ? null : Math.round(ma * 1000));

function ofReport({ id, line, number, devices, supply }: ReportSegment): SegmentRead {
  const drawing = ({ currentMa, origin, ...device }: ReportDevice): Drawing => ({
    id: device.id,
    address: device.address,
    product: device.productId,
    currentUa: origin === 'declared' ? toUa(currentMa) : null,
  });
  return {
    id,
    line,
    number,
    participants: devices.filter(({ chargedAs }) => chargedAs === 'participant').map(drawing),
    supplies: supply.units.map((unit) => ({ id: unit.id, ratingUa: toUa(unit.ratedMa) })),
    reaching: devices
      .filter(({ chargedAs }) => chargedAs === 'coupler from below' || chargedAs === 'bridge')
      .map(drawing),
  };
}
