import type { FastifyRequest } from 'fastify';
import { quoted } from '../errors.js';
import { isDay } from '../policy/day.js';
import { isBuiltIn } from '../policy/effective.js';
import { BUILT_IN_NAMES, type BuiltInName } from '../policy/policy.js';
import { FORMAT_NAMES, FORMATS, type FormatName } from '../report/format/index.js';
import { RequestError } from './problems.js';

/** What a request for an audit asks for beside what it sends. */
export interface Asked {
  readonly format: FormatName;
  /** The built-in policy where no file is sent. */
  readonly policy: BuiltInName;
  /** The day on which waivers are judged, UTC. */
  readonly asOf: string;
  /** What the formats call the archive. */
  readonly archiveName: string;
}

const QUERY = ['format', 'policy', 'asOf', 'archiveName'] as const;

const LONGEST_NAME = 500;

/**
 * What the address and the header `Accept` ask for; the address goes before the header.
 * @param today the day where none is asked for
 * @throws RequestError `malformed-request` for a name or a value that there is not, `not-acceptable`
 */
export function askedOf(request: FastifyRequest, today: string): Asked {
  const query = request.query as Readonly<Record<string, string | string[]>>;
  for (const name of Object.keys(query)) {
    if (!QUERY.some((one) => one === name))
      throw malformed(`the address takes ${QUERY.join(', ')}, not ${quoted(name)}`);
  }
  const value = (name: (typeof QUERY)[number]) => single(name, query[name]);
  const policy = value('policy') ?? 'common-practice';
  if (!isBuiltIn(policy)) throw malformed(`policy takes ${BUILT_IN_NAMES.join(', ')}, not ${quoted(policy)}`);
  const asOf = value('asOf') ?? today;
  if (!isDay(asOf)) throw malformed(`asOf takes a day such as 2027-03-31, not ${quoted(asOf)}`);
  const archiveName = value('archiveName') ?? 'archive';
  if (!isName(archiveName)) throw malformed(`archiveName takes 1 to ${LONGEST_NAME} printable characters`);
  return { format: formatOf(value('format'), request), policy, asOf, archiveName };
}

function single(name: string, value: string | string[] | undefined): string | undefined {
  if (Array.isArray(value)) throw malformed(`${name} stands in the address more than once`);
  return value;
}

function isName(text: string): boolean {
  return text.length > 0 && text.length <= LONGEST_NAME && !/[\p{C}\p{Zl}\p{Zp}]/u.test(text);
}

function formatOf(wanted: string | undefined, request: FastifyRequest): FormatName {
  if (wanted === undefined) return acceptedFormat(request);
  const found = FORMAT_NAMES.find((name) => name === wanted);
  if (found === undefined) throw malformed(`format takes ${FORMAT_NAMES.join(', ')}, not ${quoted(wanted)}`);
  return found;
}

/** Of formats that share a media type the first is taken. */
function acceptedFormat(request: FastifyRequest): FormatName {
  const accepted = request.type(FORMAT_NAMES.map(contentType));
  const name = FORMAT_NAMES.find((one) => contentType(one) === accepted);
  if (name !== undefined) return name;
  const offered = [...new Set(FORMAT_NAMES.map((one) => FORMATS[one].mediaType))];
  throw new RequestError('not-acceptable', `the report comes as ${offered.join(', ')}`);
}

export function contentType(name: FormatName): string {
  return `${FORMATS[name].mediaType}; charset=utf-8`;
}

function malformed(detail: string): RequestError {
  return new RequestError('malformed-request', detail);
}
