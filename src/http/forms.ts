import type { FastifyRequest } from 'fastify';
import type { Share } from './gathered.js';

export const FORM_TYPE = 'multipart/form-data';

/** The files that a form of a route may hold, by field, with the limit that bounds each. */
export type Form = Readonly<Record<string, Share['limit']>>;

/** An archive, and what may go along with it. */
export const AUDIT_FORM = {
  archive: 'uploadBytes',
  policy: 'documentBytes',
  products: 'documentBytes',
  site: 'documentBytes',
  measured: 'documentBytes',
  waivers: 'documentBytes',
  baseline: 'uploadBytes',
} as const satisfies Form;

/** Two archives or reports, and what they are judged by. */
export const COMPARISON_FORM = {
  old: 'uploadBytes',
  new: 'uploadBytes',
  policy: 'documentBytes',
  oldPolicy: 'documentBytes',
  newPolicy: 'documentBytes',
  site: 'documentBytes',
  waivers: 'documentBytes',
} as const satisfies Form;

export function formOf({ routeOptions }: FastifyRequest): Form {
  return routeOptions.config.form ?? AUDIT_FORM;
}

/** The media type of the body, without parameters. */
export function typeOf({ headers }: FastifyRequest): string {
  const [type = ''] = (headers['content-type'] ?? '').split(';');
  return type.trim().toLowerCase();
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** What the route's forms hold. */
    readonly form?: Form;
  }
}
