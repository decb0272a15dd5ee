import type { FastifyRequest } from 'fastify';
import type { Share } from './gathered.js';

export const FORM_TYPE = 'multipart/form-data';

/** The files that a form of a route may hold, by field, with the limit that bounds each. */
export type Form = Readonly<Record<string, Share['limit']>>;

/** A body that is a file itself, and no form: its media types, and the field that it counts as. */
export interface BareFile {
  readonly field: string;
  readonly types: readonly string[];
}

/** What a request may send. */
export interface Sendable {
  readonly form: Form;
  /** Null where there has to be a form. */
  readonly bare: BareFile | null;
}

export const ARCHIVE_BODY = {
  field: 'archive',
  types: ['application/zip', 'application/x-zip-compressed', 'application/octet-stream'],
} as const satisfies BareFile;

export const PLAN_BODY = {
  field: 'plan',
  types: ['application/json', 'application/yaml', 'text/csv'],
} as const satisfies BareFile;

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

/** An archive, changes to it, and what both states of it are judged by. */
export const WHAT_IF_FORM = {
  archive: 'uploadBytes',
  changes: 'documentBytes',
  policy: 'documentBytes',
  products: 'documentBytes',
  site: 'documentBytes',
  waivers: 'documentBytes',
} as const satisfies Form;

/** A plan, and what it is judged by. */
export const PLAN_FORM = {
  plan: 'documentBytes',
  policy: 'documentBytes',
  products: 'documentBytes',
  site: 'documentBytes',
} as const satisfies Form;

/** What most requests send. */
export const AUDIT_SENDABLE: Sendable = { form: AUDIT_FORM, bare: ARCHIVE_BODY };

export function sendableOf({ routeOptions }: FastifyRequest): Sendable {
  const { form, bare = null } = routeOptions.config;
  return form === undefined ? AUDIT_SENDABLE : { form, bare };
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
    /** What else a body may be there. */
    readonly bare?: BareFile | null;
  }
}
