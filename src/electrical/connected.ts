import type { Load, Segment } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import type { FeedGroup } from './feed-group.js';

/** How it is known which devices are connected: the site sheet says so, the archive marks them as loaded, or nobody. */
export type ConnectedBy = 'site sheet' | 'loaded' | 'nobody';

export interface Connected {
  readonly by: ConnectedBy;
  /** Only what is connected; all of it where nobody says so. */
  readonly loads: readonly Load[];
}

/**
 * What draws from a segment today. An archive that marks some of a segment's devices as loaded leaves the mark out where
 * it is not so.
 */
export function connectedOn({ id, loads }: Segment, site: Site): Connected {
  const stated = site.segments.get(id)?.connected ?? null;
  if (stated !== null) return { by: 'site sheet', loads: loads.filter(({ device }) => stated.has(device.id)) };
  const isMarked = loads.some(({ device }) => device.isLoaded !== null);
  if (!isMarked) return { by: 'nobody', loads };
  return { by: 'loaded', loads: loads.filter(({ device }) => device.isLoaded === true) };
}

/** A feed group with only what is connected; a segment that is connected as a whole is the same one. */
export function connectedGroup({ segments, supplies }: FeedGroup, site: Site): FeedGroup {
  return {
    supplies,
    segments: segments.map((one) => {
      const { loads } = connectedOn(one, site);
      return loads.length === one.loads.length ? one : { ...one, loads };
    }),
  };
}
