import type { Balance } from '../electrical/balance.js';
import { toMm } from '../electrical/cable-bounds.js';
import { centralSupplies } from '../electrical/on-site.js';
import { deviceLabel, type Segment, type Supply, segmentLabel } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import { noBoundaries } from './judged.js';
import { noCableSaid, unknownFeed, wantedText } from './on-site.js';
import { type RuleContext, segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const suppliesTooClose = segmentRule({
  id: 'supplies-too-close',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) =>
    noBoundaries(balance, context) ??
    noCableSaid(balance, context) ??
    unknownFeed(balance, context) ??
    openDistance(balance, context),
  *check({ segment, onSite }, { policy, site, words }) {
    const { leastM = null, mostM = null } = onSite?.cable.chokesApartM ?? {};
    const limitM = policy.chokesApartM;
    if (mostM === null || mostM >= limitM) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.cableBetweenSupplies,
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
});

/** Null where the distance is enough, or certainly too little between what certainly has two chokes. */
function openDistance({ segment, onSite }: Balance, { policy, site, words }: RuleContext): string | null {
  const apart = onSite?.cable.chokesApartM ?? null;
  if (onSite === null || apart === null || (apart.leastM ?? 0) >= policy.chokesApartM) return null;
  const supplies = choked(segment, site);
  const isStated = supplies.every(({ device }) => site?.supplies.get(device.id)?.choke === 'own');
  if (apart.mostM === null || apart.mostM >= policy.chokesApartM) return wantedText(onSite.cable, apart, words);
  if (!isStated) return words.missing.sharedChoke;
  // It may be a decentral one, for which the distance is none of its business.
  return supplies.some(({ ratingUa }) => ratingUa === null) ? words.missing.rating : null;
}

/** Central supplies that are not said to share a choke. */
function choked(segment: Segment, site: Site | null): Supply[] {
  const central = new Set(centralSupplies(segment));
  return segment.supplies.filter(
    ({ device }) => central.has(device.id) && site?.supplies.get(device.id)?.choke !== 'shared',
  );
}
