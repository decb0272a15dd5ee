import { readFileSync } from 'node:fs';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import { parse } from 'yaml';

export type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };
export type JsonObject = { readonly [name: string]: Json };

export const OPENAPI_FILE = new URL('../../openapi.yaml', import.meta.url);
export const OPENAPI = parse(readFileSync(OPENAPI_FILE, 'utf8')) as Document;

interface Document extends JsonObject {
  readonly info: { readonly version: string };
  readonly security: Json;
  readonly paths: { readonly [path: string]: { readonly [method: string]: Operation } };
  readonly components: {
    readonly parameters: { readonly [name: string]: JsonObject };
    readonly headers: { readonly [name: string]: JsonObject };
    readonly responses: { readonly [name: string]: DocumentedResponse };
    readonly schemas: { readonly [name: string]: JsonObject };
  };
}

interface Operation extends JsonObject {
  readonly responses: { readonly [status: string]: DocumentedResponse | { readonly $ref: string } };
}

export interface DocumentedResponse extends JsonObject {
  readonly headers: { readonly [name: string]: JsonObject };
  readonly content: { readonly [type: string]: JsonObject };
}

const ajv = new Ajv2020({ strict: false, allErrors: true });
formats.default(ajv);
ajv.addSchema(OPENAPI, 'openapi');

/** A JSON pointer into the document: of the steps given, or where a reference there leads. */
function pointer(...steps: readonly string[]): string {
  return `#${steps.map((step) => `/${step.replaceAll('~', '~0').replaceAll('/', '~1')}`).join('')}`;
}

function at(place: string): Json | undefined {
  const steps = place.slice(2).split('/');
  let found: Json | undefined = OPENAPI;
  for (const step of steps) found = (found as JsonObject)?.[step.replaceAll('~1', '/').replaceAll('~0', '~')];
  return found;
}

function followed(place: string): string {
  const found = at(place);
  return typeof (found as JsonObject | undefined)?.$ref === 'string' ? String((found as JsonObject).$ref) : place;
}

/** The check of what stands at a place of the document as a schema. */
function schemaAt(place: string): ValidateFunction {
  const check = ajv.getSchema(`openapi${place}`);
  if (check === undefined) throw new Error(`openapi.yaml has no schema at ${place}`);
  return check;
}

/** The responses of an operation by status, references followed. */
export function responsesOf(path: string, method: string): Map<number, DocumentedResponse> {
  const statuses = Object.keys(OPENAPI.paths[path]?.[method]?.responses ?? {});
  const place = (status: string) => followed(pointer('paths', path, method, 'responses', status));
  return new Map(statuses.map((status) => [Number(status), at(place(status)) as DocumentedResponse]));
}

/** What is wrong with an answer by the document; empty if nothing is. */
export function objections(
  path: string,
  method: string,
  answer: { readonly status: number; readonly headers: Headers; readonly body: string },
): string[] {
  const place = followed(pointer('paths', path, method, 'responses', String(answer.status)));
  const documented = at(place) as DocumentedResponse | undefined;
  if (documented === undefined) return [`${method} ${path} documents no ${answer.status}`];
  const type = answer.headers.get('content-type')?.split(';')[0] ?? 'none';
  if (documented.content[type] === undefined) return [`the ${answer.status} documents no ${type}`];
  const body = /[/+]json$/.test(type) ? JSON.parse(answer.body) : answer.body;
  return [
    ...Object.keys(documented.headers).flatMap((name) => {
      const header = followed(`${place}/headers/${name}`);
      const value = answer.headers.get(name);
      if (value === null && (at(header) as JsonObject).required !== true) return [];
      return errorsOf(schemaAt(`${header}/schema`), value, `the header ${name}`);
    }),
    ...errorsOf(schemaAt(`${place}${pointer('content', type, 'schema').slice(1)}`), body, 'the body'),
  ];
}

/** What is wrong with the data of an event of an audit by the document; empty if nothing is. */
export function objectionsToEvent(name: string, data: unknown): string[] {
  const place = followed(pointer('paths', '/v1/audits', 'post', 'responses', '200'));
  const stream = pointer('content', 'text/event-stream', 'schema', 'contentSchema', 'properties', name).slice(1);
  return errorsOf(schemaAt(followed(`${place}${stream}`)), data, `the event ${name}`);
}

function errorsOf(check: ValidateFunction, value: unknown, what: string): string[] {
  return check(value) ? [] : [`${what}: ${ajv.errorsText(check.errors)}`];
}

/** The check of a JSON Schema of its own. */
export function checkOf(schema: object): (value: unknown) => string[] {
  const check = new Ajv2020({ strict: false, allErrors: true });
  formats.default(check);
  const validate = check.compile(schema);
  return (value) => errorsOf(validate, value, 'the report');
}
