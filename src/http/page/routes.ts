import type { FastifyInstance } from 'fastify';
import type { Limits } from '../../limits.js';
import { htmlDigests } from '../../report/format/html.js';
import { wordsOf } from '../../words/language.js';
import { languageAsked, languageHeaders } from '../asked.js';
import { RequestError } from '../problems.js';
import { ASSETS } from './assets.js';
import { uploadPage } from './upload.js';

export interface PageOptions {
  readonly limits: Limits;
  /** Whether the service asks for a token. */
  readonly asksToken: boolean;
}

/** The page where an archive is sent, and what it loads. It takes no token, as there is nothing of anybody in it. */
export function addPages(app: FastifyInstance, { limits, asksToken }: PageOptions): void {
  const config = { isOpen: true } as const;
  app.get('/', { config }, async (request, reply) => {
    const language = languageAsked(request);
    reply.headers({ ...languageHeaders(reply, language), 'content-security-policy': await policy() });
    const page = uploadPage({ language, words: await wordsOf(language), limits, asksToken });
    return reply.type('text/html; charset=utf-8').send(page);
  });
  app.get<{ Params: { file: string } }>('/page/:file', { config }, async ({ params }, reply) => {
    const asset = ASSETS.get(params.file);
    if (asset === undefined) throw new RequestError('not-found', `there are: ${[...ASSETS.keys()].join(', ')}`);
    return reply.type(asset.mediaType).send(asset.body);
  });
}

/**
 * What a browser lets the page do (Content Security Policy Level 3): nothing but what comes from the service. A report
 * that the page opens is under the same policy, as it comes from the page; so its own style and script are allowed by
 * their digests.
 */
async function policy(): Promise<string> {
  const { style, script } = await htmlDigests();
  return [
    "default-src 'none'",
    `style-src 'self' ${style}`,
    `script-src 'self' ${script}`,
    "connect-src 'self'",
    "img-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
  ].join('; ');
}
