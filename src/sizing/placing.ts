import type { Layout } from '../site/site.js';
import type { Choice, Placing } from './choice.js';
import type { Demand } from './demand.js';
import { isDecentral } from './demand.js';
import { homeOf, placesApart } from './places.js';
import { compareOutlooks, type Outlook, type VoltageTrials } from './voltages.js';

/** Where what is bought sits, and the voltages then. */
export interface Placed {
  readonly placings: readonly Placing[];
  /** Null where no site sheet tells of the cable. */
  readonly outlook: Outlook | null;
}

/**
 * Puts what is bought where the first present supply sits. A second central supply is tried at every place far enough
 * from the other, and put where the lowest voltage is the best; where there is none, it shares the other's choke.
 * @param trials null where there is no site sheet
 */
export function placed(choice: Choice, demand: Demand, trials: VoltageTrials | null): Placed {
  const unknown = choice.added.map((): Placing => ({ at: null, sharesChoke: null }));
  if (trials === null) return { placings: unknown, outlook: null };
  const along = cableAlong(choice, demand, trials);
  if (along === null) return { placings: unknown, outlook: trials.outlookOf(choice, []) };
  const { layout, home, anchor } = along;
  const nameOf = (point: number | null) => (point === null ? null : (layout.points[point] ?? null));
  const atHome = choice.added.map((): Placing => ({ at: nameOf(home), sharesChoke: null }));
  if (anchor === null) return { placings: atHome, outlook: trials.outlookOf(choice, []) };
  const last = choice.added.length - 1;
  const points = (point: number) => choice.added.map((_, at) => (at === last ? point : home));
  const apart = placesApart(layout, anchor, trials.policy.chokesApartM);
  const [first, ...others] = apart.flatMap((point) => {
    const outlook = trials.outlookOf(choice, points(point));
    return outlook === null ? [] : [{ point, outlook }];
  });
  if (first === undefined) {
    const placings = atHome.map((one, at) => (at === last ? { at: nameOf(anchor), sharesChoke: true } : one));
    return { placings, outlook: trials.outlookOf(choice, points(anchor)) };
  }
  const best = others.reduce((a, b) => (compareOutlooks(a.outlook, b.outlook) >= 0 ? a : b), first);
  const placings = atHome.map((one, at) => (at === last ? { at: nameOf(best.point), sharesChoke: false } : one));
  return { placings, outlook: best.outlook };
}

/** The cable of the only segment, and the place of the other central supply where one that is bought is the second. */
interface Along {
  readonly layout: Layout;
  readonly home: number | null;
  readonly anchor: number | null;
}

/** Of segments that share their supplies no place is tried: far along one of them is nowhere on the other. */
function cableAlong({ kept, added }: Choice, { segments, fixed }: Demand, { site }: VoltageTrials): Along | null {
  const [segment, ...others] = segments;
  const layout = segment === undefined ? null : (site.segments.get(segment.id)?.layout ?? null);
  if (segment === undefined || others.length > 0 || layout === null) return null;
  const home = homeOf(segment, layout);
  if (added.length === 0) return { layout, home, anchor: null };
  const [other] = [...fixed.filter((supply) => !isDecentral(supply)), ...kept];
  const ofOther = other === undefined ? home : (layout.pointOf.get(other.device.id) ?? null);
  return { layout, home, anchor: other === undefined && added.length === 1 ? null : ofOther };
}
