import type { Limits } from '../limits.js';
import type { Share } from './gathered.js';

/** The files that a form of a route may hold, by field, with the limit that bounds each. */
export type Form = Readonly<Record<string, Share['limit']>>;

/** An archive, and what may go along with it. */
export const AUDIT_FORM = {
  archive: 'uploadBytes',
  policy: 'documentBytes',
  products: 'documentBytes',
  waivers: 'documentBytes',
  baseline: 'baselineBytes',
} as const satisfies Form;

/** The most bytes that the files of a form have together. */
export function mostBytes(form: Form, limits: Limits): number {
  return Object.values(form).reduce((sum, limit) => sum + limits[limit], 0);
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** What the route's forms hold. */
    readonly form?: Form;
  }
}
