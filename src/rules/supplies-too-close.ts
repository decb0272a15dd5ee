import type { Balance } from '../electrical/balance.js';
import { toMm } from '../electrical/cable-bounds.js';
import { centralSupplies } from '../electrical/on-site.js';
import { deviceLabel, type Segment, type Supply, segmentLabel } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import { noBoundaries } from './judged.js';
import { noCableSaid, unknownFeed, wantedText } from './on-site.js';
import { type RuleContext, segmentRule } from './rule.js';
import { list, segmentSubject } from './words.js';

export const suppliesTooClose = segmentRule({
  id: 'supplies-too-close',
  title: 'Two supplies with chokes of their own are too close together',
  severity: 'error',
  why: 'Two chokes near each other load the signals of the devices around them twice, and telegrams are lost there.',
  remedy: 'Move the supplies apart, let them share one choke, or use one larger supply.',
  limit:
    'cable between two central supplies with chokes of their own ≥ 200 m unless the policy says otherwise; none where they share one',
  basis: 'standard',
  source: 'volume 9/2 §2.11 and §5.11',
  missing: (balance, context) =>
    noBoundaries(balance) ?? noCableSaid(balance, context) ?? unknownFeed(balance) ?? openDistance(balance, context),
  *check({ segment, onSite }, { policy, site }) {
    const { leastM = null, mostM = null } = onSite?.cable.chokesApartM ?? {};
    const limitM = policy.chokesApartM;
    if (mostM === null || mostM >= limitM) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'cable between supplies',
        unit: 'm',
        value: mostM,
        limit: limitM,
        holds: 'at least',
        setBy: 'chokesApartM',
      },
      restsOn: 'declared',
      facts: {
        segment: segmentLabel(segment),
        supplies: choked(segment, site).map(({ device }) => deviceLabel(device)),
        distanceM: mostM,
        isExact: leastM === mostM,
        limitM,
        missingM: toMm(limitM - mostM),
      },
    };
  },
  message: (f) =>
    `Supplies of line ${f.segment} with chokes of their own (${list(f.supplies)}) have ${f.isExact ? '' : 'at most '}${f.distanceM} m of cable between them; at least ${f.limitM} m are wanted: ${f.missingM} m too little.`,
  advice: (f) =>
    `Move one of the supplies ${f.missingM} m of cable or more away, let both share one choke where the makers allow it, or fit one supply for the whole load.`,
});

/** Null where the distance is enough, or certainly too little between what certainly has two chokes. */
function openDistance({ segment, onSite }: Balance, { policy, site }: RuleContext): string | null {
  const apart = onSite?.cable.chokesApartM ?? null;
  if (onSite === null || apart === null || (apart.leastM ?? 0) >= policy.chokesApartM) return null;
  const supplies = choked(segment, site);
  const isStated = supplies.every(({ device }) => site?.supplies.get(device.id)?.choke === 'own');
  if (apart.mostM === null || apart.mostM >= policy.chokesApartM) return wantedText(onSite.cable, apart);
  if (!isStated) return 'whether the supplies share a choke';
  // It may be a decentral one, for which the distance is none of its business.
  return supplies.some(({ ratingUa }) => ratingUa === null) ? 'the rating of a supply is not declared' : null;
}

/** Central supplies that are not said to share a choke. */
function choked(segment: Segment, site: Site | null): Supply[] {
  const central = new Set(centralSupplies(segment));
  return segment.supplies.filter(
    ({ device }) => central.has(device.id) && site?.supplies.get(device.id)?.choke !== 'shared',
  );
}
