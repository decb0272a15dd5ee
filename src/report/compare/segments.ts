import { withoutInstallation } from '../fingerprint.js';
import type { Report, ReportSegment } from '../report.js';
import type { Comparison, SegmentChange, SegmentSide } from './comparison.js';
import { compareDevices } from './devices.js';
import { type Pair, type Paired, pairUp, passBy } from './pair-up.js';

/**
 * Which segment of the old report is which of the new one: by the archive's id; where that has changed, by address and
 * number. Ids are told apart by their project only where there are several, as a re-import gives the project a new one.
 */
export function matchSegments(old: Report, fresh: Report): Paired<ReportSegment> {
  const several = old.projects.length > 1 || fresh.projects.length > 1;
  return pairUp(old.segments, fresh.segments, [
    passBy('identity', ({ id, installation, project }) =>
      JSON.stringify([withoutInstallation(id), installation, several ? project : null]),
    ),
    passBy('line number', ({ installation, line, number }) => JSON.stringify([installation, line, number])),
  ]);
}

/** What changed about the segments and their devices. */
export function compareSegments({
  pairs,
  onlyOld,
  onlyNew,
}: Paired<ReportSegment>): Pick<Comparison, 'segments' | 'segmentsAdded' | 'segmentsRemoved' | 'segmentsUnchanged'> {
  const segments = pairs.map(changeOf).filter(isChanged);
  return {
    segments,
    segmentsAdded: onlyNew.map(segmentSide),
    segmentsRemoved: onlyOld.map(segmentSide),
    segmentsUnchanged: pairs.length - segments.length,
  };
}

function changeOf({ old, new: fresh, matchedBy }: Pair<ReportSegment>): SegmentChange {
  return {
    matchedBy,
    old: segmentSide(old),
    new: segmentSide(fresh),
    ...compareDevices(old.devices, fresh.devices),
  };
}

const COMPARED = ['label', 'verdict', 'loadMa', 'capacityMa', 'utilisation'] as const;

function isChanged({ old, new: fresh, devicesAdded, devicesRemoved, devicesChanged }: SegmentChange): boolean {
  const devices = devicesAdded.length + devicesRemoved.length + devicesChanged.length;
  return devices > 0 || COMPARED.some((name) => old[name] !== fresh[name]);
}

function segmentSide({
  id,
  project,
  installation,
  label,
  verdict,
  load,
  supply,
  utilisation,
  headroomMa,
}: ReportSegment): SegmentSide {
  return {
    id,
    project,
    installation,
    label,
    verdict,
    loadMa: load.totalMa,
    capacityMa: supply.capacityMa,
    utilisation,
    headroomMa,
  };
}
