import type { FastifyReply, FastifyRequest } from 'fastify';
import { quoted } from '../errors.js';
import { isDay } from '../policy/day.js';
import { isBuiltIn } from '../policy/effective.js';
import { BUILT_IN_NAMES, type BuiltInName } from '../policy/policy.js';
import { LANGUAGES, type Language } from '../words/language.js';
import { EVENT_STREAM } from './events.js';
import { RequestError } from './problems.js';

/** What a request for an audit asks for beside what it sends. */
export interface Asked {
  /** One of the formats that there are of what is asked for. */
  readonly format: string;
  /** Whether progress is told meanwhile, and the answer comes as the last event of it. */
  readonly asEvents: boolean;
  /** The built-in policy where no file is sent; null where none is asked for. */
  readonly policy: BuiltInName | null;
  /** The day on which waivers are judged, UTC. */
  readonly asOf: string;
  /** What the formats call the archive. */
  readonly archiveName: string;
  /** Of formats for people. */
  readonly language: Language;
}

const QUERY = ['format', 'policy', 'asOf', 'archiveName', 'lang'] as const;

const LONGEST_NAME = 500;

/** The formats of what a route answers with, by name. */
export type Formats = Readonly<Record<string, OfferedFormat>>;

interface OfferedFormat {
  readonly mediaType: string;
  readonly fileName?: string;
  readonly isForPeople?: true;
  readonly pagePolicy?: () => Promise<string>;
}

/** What a route answers with. */
export interface Answers {
  readonly formats: Formats;
  /** Whether it tells its progress to whoever accepts that. */
  readonly tellsProgress: boolean;
}

/**
 * What the address and the header `Accept` ask for; the address goes before the header.
 * @param today the day where none is asked for
 * @param called the name of the archive or plan where none is asked for
 * @throws RequestError `malformed-request` for a name or a value that there is not, `not-acceptable`
 */
export function askedOf(request: FastifyRequest, answers: Answers, today: string, called = 'archive'): Asked {
  const query = request.query as Readonly<Record<string, string | string[]>>;
  for (const name of Object.keys(query)) {
    if (!QUERY.some((one) => one === name))
      throw malformed(`the address takes ${QUERY.join(', ')}, not ${quoted(name)}`);
  }
  const value = (name: (typeof QUERY)[number]) => single(name, query[name]);
  const policy = value('policy') ?? null;
  if (policy !== null && !isBuiltIn(policy))
    throw malformed(`policy takes ${BUILT_IN_NAMES.join(', ')}, not ${quoted(policy)}`);
  const asOf = value('asOf') ?? today;
  if (!isDay(asOf)) throw malformed(`asOf takes a day such as 2027-03-31, not ${quoted(asOf)}`);
  const lang = value('lang');
  if (lang !== undefined && namedLanguage(lang) === undefined)
    throw malformed(`lang takes ${LANGUAGES.join(', ')}, not ${quoted(lang)}`);
  const archiveName = value('archiveName') ?? called;
  if (!isName(archiveName)) throw malformed(`archiveName takes 1 to ${LONGEST_NAME} printable characters`);
  return {
    ...formOf(value('format'), request, answers),
    policy,
    asOf,
    archiveName,
    language: languageAsked(request),
  };
}

/** The language of that name, if there are texts in it. */
function namedLanguage(name: unknown): Language | undefined {
  return LANGUAGES.find((one) => one === name);
}

function single(name: string, value: string | string[] | undefined): string | undefined {
  if (Array.isArray(value)) throw malformed(`${name} stands in the address more than once`);
  return value;
}

function isName(text: string): boolean {
  return text.length > 0 && text.length <= LONGEST_NAME && !/[\p{C}\p{Zl}\p{Zp}]/u.test(text);
}

/**
 * The header can name events or a format, so where it names events the address alone names the format. Of formats that
 * share a media type the first is taken, which is JSON where nothing is named.
 */
function formOf(
  wanted: string | undefined,
  request: FastifyRequest,
  { formats, tellsProgress }: Answers,
): Pick<Asked, 'format' | 'asEvents'> {
  const names = Object.keys(formats);
  if (wanted !== undefined && !names.includes(wanted))
    throw malformed(`format takes ${names.join(', ')}, not ${quoted(wanted)}`);
  const types = names.map((name) => contentType(name, formats));
  const accepted = request.type(tellsProgress ? [...types, EVENT_STREAM] : types);
  const asEvents = accepted === EVENT_STREAM;
  const format = wanted ?? names[asEvents ? 0 : types.indexOf(String(accepted))];
  if (format !== undefined) return { format, asEvents };
  const offered = new Set(Object.values(formats).map(({ mediaType }) => mediaType));
  if (tellsProgress) offered.add(EVENT_STREAM);
  throw new RequestError('not-acceptable', `the answer comes as ${[...offered].join(', ')}`);
}

/**
 * The language that the header `Accept-Language` asks for. It is a wish: where nothing fits, the answer is in English
 * (RFC 9110, 12.5.4).
 */
function acceptedLanguage(request: FastifyRequest): Language {
  return namedLanguage(request.language([...LANGUAGES])) ?? LANGUAGES[0];
}

/** The language of a page or a problem: what the address names, if there are texts in it, goes before what is accepted. */
export function languageAsked(request: FastifyRequest): Language {
  const { lang } = (request.query ?? {}) as Readonly<Record<string, unknown>>;
  return namedLanguage(lang) ?? acceptedLanguage(request);
}

/** The headers of an answer whose language depends on what the client accepts. */
export function languageHeaders(reply: FastifyReply, language: Language): Record<string, string> {
  const vary = reply.getHeader('vary');
  return {
    'content-language': language,
    vary: vary === undefined ? 'accept-language' : `${vary}, accept-language`,
  };
}

export function contentType(name: string, formats: Formats): string {
  const { mediaType, fileName } = formats[name] ?? {};
  return fileName === undefined ? `${mediaType}; charset=utf-8` : `${mediaType}`;
}

/** What an answer is to be saved as, where it is no text (RFC 6266). The name is ours, never a client's. */
export function disposition(name: string, formats: Formats): Record<string, string> {
  const fileName = formats[name]?.fileName;
  return fileName === undefined ? {} : { 'content-disposition': `attachment; filename="${fileName}"` };
}

/**
 * What a browser may let an answer that is a page do: what the page says of itself, in no frame, and apart from
 * everything else that is here (`sandbox`: as of an origin of its own, its script allowed).
 */
export async function pageHeaders(name: string, formats: Formats): Promise<Record<string, string>> {
  const policy = await formats[name]?.pagePolicy?.();
  if (policy === undefined) return {};
  return { 'content-security-policy': `${policy}; frame-ancestors 'none'; sandbox allow-scripts` };
}

function malformed(detail: string): RequestError {
  return new RequestError('malformed-request', detail);
}
