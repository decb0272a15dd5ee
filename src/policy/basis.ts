/**
 * Where a value is from: the bus standard's published volumes, a handbook or other published standard, common practice
 * without a source, memory without confirmation, or derived here from those.
 */
export const BASES = ['standard', 'handbook', 'common practice', 'from memory', 'derived'] as const;

export type Basis = (typeof BASES)[number];
