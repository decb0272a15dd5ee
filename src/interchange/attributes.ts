import { z } from 'zod';
import { InputError, type InputPlace, quoted } from '../errors.js';
import type { Attributes } from './xml/reader.js';

/** An attribute as text without blanks around it, undefined if it is missing or empty. */
export const text = z
  .string()
  .optional()
  .transform((value) => value?.trim() || undefined);

/** An attribute that has to be there. */
export const requiredText = text.pipe(z.string('is missing or empty'));

const BOOLEANS: ReadonlyMap<string, boolean> = new Map([
  ['1', true],
  ['true', true],
  ['0', false],
  ['false', false],
]);

/** A boolean attribute, undefined if it is missing or empty. */
export const flag = text.transform((value, context) => {
  if (value === undefined) return undefined;
  const known = BOOLEANS.get(value.toLowerCase());
  if (known === undefined)
    context.addIssue({ code: 'custom', message: `is ${quoted(value)}, not 1, 0, true or false` });
  return known;
});

/** A boolean attribute that is false if it is missing or empty. */
export const isSet = flag.transform((value) => value ?? false);

/**
 * The attributes of an element in a checked shape.
 * @throws InputError `invalid-value` naming element, attribute, part and line
 */
export function checked<T>(shape: z.ZodType<T>, attributes: Attributes, element: string, place: InputPlace): T {
  const result = shape.safeParse(attributes);
  if (result.success) return result.data;
  const [issue] = result.error.issues;
  throw new InputError('invalid-value', `${issue?.path.join('.')} of ${element} ${issue?.message}`, place);
}
