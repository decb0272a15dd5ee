import type { Installation, Line, Project, Segment, Supply } from '../plant/plant.js';

/** Which supplies feed a segment, where the sheet says so; null where one that it names is gone. */
export type Feeds = ReadonlyMap<Segment, readonly Supply[] | null>;

/** The plant with the supplies that the sheet names for segments, and where each segment of before is in it. */
export interface FedPlant {
  readonly projects: readonly Project[];
  readonly segmentOf: ReadonlyMap<Segment, Segment>;
  readonly installationOf: ReadonlyMap<Installation, Installation>;
}

/** A line that its segments can point back to before it has them. */
interface LoadLine extends Line {
  readonly segments: Segment[];
}

/**
 * A segment with a stated feed has the supplies of that, wherever they stand, and no other; the rest stay as they are.
 * Where a stated supply is gone, nobody knows what took its place, and what stands there is no better answer.
 */
export function withFeeds(projects: readonly Project[], feeds: Feeds): FedPlant {
  const segmentOf = new Map<Segment, Segment>();
  const installationOf = new Map<Installation, Installation>();
  const lineOf = (before: Line): Line => {
    const line: LoadLine = { ...before, segments: [] };
    for (const segment of before.segments) {
      const fed: Segment = { ...segment, line, ...feedOf(feeds.get(segment)) };
      segmentOf.set(segment, fed);
      line.segments.push(fed);
    }
    return line;
  };
  const fed = projects.map((project) => ({
    ...project,
    installations: project.installations.map((before) => {
      const installation = { ...before, lines: before.lines.map(lineOf) };
      installationOf.set(before, installation);
      return installation;
    }),
  }));
  return { projects: fed, segmentOf, installationOf };
}

function feedOf(stated: readonly Supply[] | null | undefined): Partial<Segment> {
  if (stated === undefined) return {};
  return stated === null ? { supplies: [], feed: 'unknown' } : { supplies: stated, feed: 'stated' };
}
