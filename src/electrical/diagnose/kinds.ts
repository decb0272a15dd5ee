/** What may be the case on a segment, in the order in which causes that fit alike are told. */
export const CAUSE_KINDS = [
  'as planned',
  'everything connected',
  'one supply out',
  'all supplies out',
  'devices not connected',
  'cable open',
  'cable longer than said',
  'device draws more',
  'short on the segment',
  'another segment on this supply',
  'fed from elsewhere',
] as const;

export type CauseKind = (typeof CAUSE_KINDS)[number];
