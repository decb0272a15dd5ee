import { z } from 'zod';
import { changesSchema } from './shapes.js';

/** The JSON Schema (2020-12) of changes, made from the shape that they are checked with; an editor can use it. */
export function changesJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:changes:1',
    title: 'Linebudget changes, version 1',
    ...z.toJSONSchema(changesSchema, { target: 'draft-2020-12', io: 'input' }),
  };
}
