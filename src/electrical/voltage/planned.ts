import type { Device, Load, Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import type { PlannedDevices, SegmentSite } from '../../site/site.js';
import { fromMa } from '../../units.js';

/** A segment as it will be, and what the sheet says of it then. */
export interface Extended {
  readonly segment: Segment;
  readonly entry: SegmentSite;
}

/** The segment with what the site sheet plans for it, each at its point where the sheet says one; null if nothing is. */
export function withPlanned(segment: Segment, entry: SegmentSite, { assumedCurrentMa }: Policy): Extended | null {
  const planned = entry.planned.flatMap(each);
  if (planned.length === 0) return null;
  const assumedUa = fromMa(assumedCurrentMa);
  const loads = planned.map((one, at) => loadOf(one, at, assumedUa));
  return {
    segment: { ...segment, loads: [...segment.loads, ...loads] },
    entry: { ...entry, layout: entry.layout && withPlaces(entry.layout, planned, loads) },
  };
}

function each(planned: PlannedDevices): PlannedDevices[] {
  return Array.from({ length: planned.devices }, () => ({ ...planned, devices: 1 }));
}

function loadOf({ currentUa }: PlannedDevices, at: number, assumedUa: number): Load {
  const current = currentUa === null ? ({ ua: assumedUa, origin: 'assumed' } as const) : declared(currentUa);
  return { device: plannedDevice(at), chargedAs: 'participant', current };
}

function declared(ua: number): Load['current'] {
  return { ua, origin: 'declared' };
}

/** Stands for a device that is not there yet. An id of the archive has no blank in it. */
function plannedDevice(at: number): Device {
  return {
    id: `planned device ${at}`,
    address: null,
    name: '',
    product: null,
    productRef: null,
    role: 'consumer',
    joins: null,
    isIpEnabled: false,
    participates: true,
    location: null,
    additionalAddresses: [],
    override: null,
    isLoaded: null,
    sourceLine: 0,
  };
}

function withPlaces(
  layout: NonNullable<SegmentSite['layout']>,
  planned: readonly PlannedDevices[],
  loads: readonly Load[],
): NonNullable<SegmentSite['layout']> {
  const places = planned.flatMap(({ point }, at): [string, number][] =>
    point === null ? [] : [[loads[at]?.device.id ?? '', point]],
  );
  return { ...layout, pointOf: new Map([...layout.pointOf, ...places]) };
}
