import type { Installation, Line, Project, Segment, Supply } from '../plant/plant.js';

/** Which supplies feed a segment, where the sheet says so. */
export type Feeds = ReadonlyMap<Segment, readonly Supply[]>;

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

/** A segment with a stated feed has the supplies of that, wherever they stand, and no other; the rest stay as they are. */
export function withFeeds(projects: readonly Project[], feeds: Feeds): FedPlant {
  const segmentOf = new Map<Segment, Segment>();
  const installationOf = new Map<Installation, Installation>();
  const lineOf = (before: Line): Line => {
    const line: LoadLine = { ...before, segments: [] };
    for (const segment of before.segments) {
      const stated = feeds.get(segment);
      const fed: Segment =
        stated === undefined ? { ...segment, line } : { ...segment, line, supplies: stated, feed: 'stated' };
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
