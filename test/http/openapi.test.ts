import { execFile } from 'node:child_process';
import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import { describe, expect, it } from 'vitest';
import { INPUT_FAULTS } from '../../src/errors.js';
import { EVERYBODY } from '../../src/http/access/access.js';
import { createToken, ROLES } from '../../src/http/access/tokens.js';
import { buildApp } from '../../src/http/app.js';
import { EVENT_STREAM } from '../../src/http/events.js';
import { ARCHIVE_BODY, AUDIT_FORM, COMPARISON_FORM, PLAN_BODY, PLAN_FORM, WHAT_IF_FORM } from '../../src/http/forms.js';
import { REQUEST_FAULTS } from '../../src/http/problems.js';
import { BUILT_IN_NAMES } from '../../src/policy/policy.js';
import { STAGES } from '../../src/progress.js';
import { COMPARISON_FORMATS } from '../../src/report/compare/formats.js';
import { FORMATS } from '../../src/report/format/index.js';
import { LANGUAGES } from '../../src/words/language.js';
import { type JsonObject, OPENAPI, OPENAPI_FILE, responsesOf } from '../support/openapi.js';
import { withSchemas } from '../support/readme.mjs';
import { stubRunner } from '../support/server.js';

const audits = stubRunner(() => Promise.reject(new Error('no audits here')));
/** One token for each role. */
const TOKENS = ROLES.map((role) => createToken(role, [role]));
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const { paths, components } = OPENAPI;
const documented = Object.entries(paths).flatMap(([path, methods]) =>
  Object.keys(methods).map((method) => ({ path, method })),
);

/** All routes that the service registers, in the way that the document writes them. */
async function routes(): Promise<string[]> {
  const found: string[] = [];
  const listen = (message: unknown) => {
    const { fastify } = message as { fastify: FastifyInstance };
    fastify.addHook('onRoute', ({ method, url }) => {
      for (const one of [method].flat()) found.push(`${one} ${url.replace(/:(\w+)/g, '{$1}')}`);
    });
  };
  subscribe('fastify.initialization', listen);
  const app = await buildApp({ audits, logger: false });
  unsubscribe('fastify.initialization', listen);
  await app.ready();
  await app.close();
  return found.filter((route) => !route.startsWith('HEAD ')); // which every GET route has by itself
}

/** What answers of a status carry beside the request id. */
const MORE_HEADERS: Record<number, string[]> = {
  401: ['www-authenticate'],
  403: ['www-authenticate'],
  405: ['allow'],
  429: ['retry-after'],
  503: ['retry-after'],
};

/** What answers with texts in the language that the client accepts, whatever it asks for. */
const IN_LANGUAGE = ['/', '/v1/rules', '/v1/rules/{id}'];
const LANGUAGE_HEADERS = ['content-language', 'vary'];

describe('openapi.yaml', () => {
  it('documents every route, and no other', async () => {
    const found = await routes();
    expect(found.length).toBeGreaterThan(5);
    expect(documented.map(({ path, method }) => `${method.toUpperCase()} ${path}`).sort()).toEqual(found.sort());
  });

  it('has the version of the package', () => {
    const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
    expect(OPENAPI.info.version).toBe(version);
  });

  it.each([
    { path: '/v1/audits', raw: ARCHIVE_BODY.types, form: AUDIT_FORM, formats: FORMATS, more: [EVENT_STREAM] },
    { path: '/v1/plans', raw: PLAN_BODY.types, form: PLAN_FORM, formats: FORMATS, more: [EVENT_STREAM] },
    { path: '/v1/comparisons', raw: [], form: COMPARISON_FORM, formats: COMPARISON_FORMATS, more: [] },
    { path: '/v1/what-ifs', raw: [], form: WHAT_IF_FORM, formats: COMPARISON_FORMATS, more: [] },
  ])('names what $path reads, and what it writes', ({ path, raw, form, formats, more }) => {
    const post = paths[path]?.post as unknown as WorkOperation;
    const bodies = post.requestBody.content;
    expect(Object.keys(bodies).sort()).toEqual([...raw, 'multipart/form-data'].sort());
    expect(Object.keys(bodies['multipart/form-data']?.schema.properties ?? {})).toEqual(Object.keys(form));
    const types = new Set<string>(Object.values(formats).map(({ mediaType }) => mediaType));
    expect(Object.keys(responsesOf(path, 'post').get(200)?.content ?? {})).toEqual([...types, ...more]);
    const named = post.parameters.find(({ name }) => name === 'format');
    expect(named?.schema?.enum).toEqual(Object.keys(formats));
  });

  it('names the stages and languages that events tell of', () => {
    const content = responsesOf('/v1/audits', 'post').get(200)?.content as unknown as EventContent;
    const { progress, report } = content[EVENT_STREAM].schema.contentSchema.properties;
    expect(progress.properties.stage.enum).toEqual(STAGES);
    expect(report.properties.language.enum).toEqual(LANGUAGES);
  });

  it('names the built-in policies', () => {
    expect(components.parameters.Policy?.schema).toEqual({ type: 'string', enum: BUILT_IN_NAMES });
  });

  it('names the languages', () => {
    const { ContentLanguage } = components.headers;
    expect(ContentLanguage?.schema).toEqual({ type: 'string', enum: LANGUAGES });
  });

  it('names every schema that is served', async () => {
    const get = paths['/v1/schemas/{name}']?.get as unknown as WorkOperation | undefined;
    const name = get?.parameters[0];
    const app = await buildApp({ audits, logger: false });
    const { detail } = (await app.inject('/v1/schemas/none')).json();
    expect(detail).toBe(`there are: ${name?.schema?.enum?.join(', ')}`);
    await app.close();
  });

  it('gives every answer a request id, and tells what a refused client needs to know', () => {
    for (const { path, method } of documented) {
      for (const [status, { headers, content }] of responsesOf(path, method)) {
        const file = FORMATS['xlsx-schedule'].mediaType in (content ?? {}) ? ['content-disposition'] : [];
        const language = status === 200 && IN_LANGUAGE.includes(path) ? LANGUAGE_HEADERS : [];
        const wanted = ['request-id', ...language, ...file, ...(MORE_HEADERS[status] ?? [])];
        expect([path, status, Object.keys(headers)]).toEqual([path, status, wanted]);
      }
    }
  });

  it('demands of every address the role that the service demands', async () => {
    const app = await buildApp({
      audits,
      logger: false,
      access: { ...EVERYBODY, tokens: TOKENS.map(({ entry }) => entry) },
    });
    for (const { path, method } of documented) {
      const security = (paths[path]?.[method] as JsonObject | undefined)?.security ?? OPENAPI.security;
      const url = path.replace('{id}', 'low-headroom').replace('{name}', 'report');
      const ask = (headers: Record<string, string>) => app.inject({ method: method as 'get', url, headers });
      const opened = TOKENS.map(async ({ token, entry }) => {
        const { statusCode } = await ask({ authorization: `Bearer ${token}` });
        return statusCode === 403 ? [] : entry.roles;
      });
      const isOpen = (await ask({})).statusCode !== 401;
      const roles = isOpen ? [] : [{}, { bearerToken: (await Promise.all(opened)).flat() }];
      expect([path, security]).toEqual([path, roles]);
    }
    await app.close();
  });

  it('passes the linter', { timeout: 120_000 }, async () => {
    const env = { ...process.env, REDOCLY_TELEMETRY: 'off', REDOCLY_SUPPRESS_UPDATE_NOTICE: 'true' };
    const output = await new Promise((resolve) => {
      const options = { cwd: ROOT, env, shell: process.platform === 'win32' };
      execFile('npx', ['--no-install', 'redocly', 'lint', 'openapi.yaml'], options, (error, stdout, stderr) =>
        resolve(`${error === null ? 'passed' : 'failed'}\n${stdout}${stderr}`),
      );
    });
    expect(output).toMatch(/^passed\n/);
    expect(output).not.toMatch(/\d+ (warning|error)/i);
  });
});

/** What is read here of an operation that takes files. */
interface WorkOperation {
  readonly parameters: readonly { readonly name?: string; readonly schema?: { readonly enum?: readonly string[] } }[];
  readonly requestBody: {
    readonly content: { readonly [type: string]: { readonly schema: { readonly properties: object } } };
  };
}

/** What is read here of the data of events. */
interface EventContent {
  readonly [EVENT_STREAM]: {
    readonly schema: {
      readonly contentSchema: {
        readonly properties: {
          readonly progress: { readonly properties: { readonly stage: { readonly enum: readonly string[] } } };
          readonly report: { readonly properties: { readonly language: { readonly enum: readonly string[] } } };
        };
      };
    };
  };
}

interface ProblemSchema {
  readonly properties: { readonly status: { readonly const: number }; readonly type: { readonly enum: string[] } };
}

interface ProblemResponse {
  readonly content: {
    readonly 'application/problem+json': { readonly schema: { readonly allOf: readonly [JsonObject, ProblemSchema] } };
  };
}

describe('the problems', () => {
  const faults = Object.entries({ ...INPUT_FAULTS, ...REQUEST_FAULTS });
  const urn = (code: string) => `urn:linebudget:problem:${code}`;

  /** The types that the document allows under each status of its problem answers. */
  const byStatus = new Map(
    (Object.values(components.responses) as unknown as ProblemResponse[]).map(({ content }) => {
      const [, { properties }] = content['application/problem+json'].schema.allOf;
      return [properties.status.const, properties.type.enum] as const;
    }),
  );

  it('are documented each under its status, and no other', () => {
    const expected = new Map<number, string[]>();
    for (const [code, { status }] of faults) expected.set(status, [...(expected.get(status) ?? []), urn(code)]);
    const sorted = (map: ReadonlyMap<number, readonly string[]>) =>
      Object.fromEntries([...map].map(([status, types]) => [status, [...types].sort()]));
    expect(sorted(byStatus)).toEqual(sorted(expected));
  });

  it('are all in the schema of a problem', () => {
    const { properties } = components.schemas.Problem as unknown as ProblemSchema;
    expect([...properties.type.enum].sort()).toEqual(faults.map(([code]) => urn(code)).sort());
  });

  it.each(['/v1/audits', '/v1/plans', '/v1/comparisons'])(
    'of an archive are all answers to an upload at %s',
    (path) => {
      const statuses = new Set(Object.values(INPUT_FAULTS).map(({ status }) => status));
      expect([...responsesOf(path, 'post').keys()]).toEqual(expect.arrayContaining([...statuses]));
    },
  );
});

it('has the shapes of the code; npm run readme writes them', () => {
  const text = readFileSync(OPENAPI_FILE, 'utf8');
  expect(withSchemas(text)).toBe(text);
  expect(components.schemas.Report).toMatchObject({
    properties: { segments: { items: { $ref: expect.any(String) } } },
  });
});

it('GET /openapi.yaml has its bytes', async () => {
  const app = await buildApp({ audits, logger: false });
  const { rawPayload, headers } = await app.inject('/openapi.yaml');
  expect(rawPayload.equals(readFileSync(OPENAPI_FILE))).toBe(true);
  expect(headers['content-type']).toBe('application/yaml; charset=utf-8');
  await app.close();
});
