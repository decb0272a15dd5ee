/**
 * Where a value is from: the bus standard's published volumes, a handbook or other published standard, common practice
 * without a source, memory without confirmation, derived here from those, or set
 * by hand in a policy file.
 */
export const BASES = ['standard', 'handbook', 'common practice', 'from memory', 'derived', 'set by hand'] as const;

export type Basis = (typeof BASES)[number];
