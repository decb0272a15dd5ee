import { XMLParser } from 'fast-xml-parser';
import { z } from 'zod';
import type { Archive, Part } from '../archive/archive.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { Decoder } from './decode.js';
import { ROOT } from './namespace.js';
import { readXml } from './xml.js';

/** Attributes come under this prefix, so that no name of a document can be mistaken for one of ours. */
const PREFIX = '@';

const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: PREFIX,
  removeNSPrefix: true,
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  htmlEntities: true,
  ignoreDeclaration: true,
  ignorePiTags: true,
  isArray: (_name, _path, _isLeaf, isAttribute) => !isAttribute,
  // Translations are the bulk of product data and hold nothing for the audit.
  updateTag: (name) => name !== 'Languages',
});

/**
 * Reads a small document into a checked shape. The strict stream reader goes over it first, because the tree parser
 * accepts what is no XML.
 * @param shape of the root element; every element in it is an array, see {@link children} and {@link attribute}
 * @throws InputError as {@link readXml}, and `invalid-value` where the shape does not fit
 */
export async function readTree<T>(archive: Archive, part: Part, limits: Limits, shape: z.ZodType<T>): Promise<T> {
  const bytes = await archive.read(part);
  await readXml([bytes], part.name, limits, { open() {} });
  const decoder = new Decoder(part.name);
  const document = parser.parse(decoder.decode(bytes) + decoder.end()) as Record<string, unknown[]>;
  const result = shape.safeParse(document[ROOT]?.[0]);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  const path = issue?.path.filter((step) => typeof step === 'string').join('/');
  throw new InputError('invalid-value', `${path}: ${issue?.message}`, { part: part.name });
}

/** An element: its attributes and children. One that holds only text (or nothing) has neither. */
export function element<T extends z.ZodRawShape>(shape: T) {
  return z.preprocess((value) => (typeof value === 'string' ? {} : value), z.object(shape));
}

/** All children of one name, in order; none if there are none. */
export function children<T extends z.ZodType>(shape: T) {
  return z.array(shape).default([]);
}

/** An attribute as text, undefined if it is missing or empty. */
export const text = z
  .string()
  .optional()
  .transform((value) => (value === undefined || value.trim() === '' ? undefined : value.trim()));

/** An attribute that has to be there. */
export const requiredText = z.string().trim().min(1, 'the attribute is empty');

/** A boolean attribute: `1`, `true`, `0`, `false`; undefined if it is missing or empty. */
export const flag = text.transform((value, context) => {
  if (value === undefined) return undefined;
  const known = { '1': true, true: true, '0': false, false: false }[value.toLowerCase()];
  if (known === undefined) context.addIssue({ code: 'custom', message: `"${value.slice(0, 40)}" is not a boolean` });
  return known;
});
