import { z } from 'zod';
import { planSchema } from './plan-shape.js';

/** The JSON Schema (2020-12) of a plan, made from the shape that it is checked with; an editor can use it. */
export function planJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:plan:1',
    title: 'Linebudget plan, version 1',
    ...z.toJSONSchema(planSchema, { target: 'draft-2020-12', io: 'input' }),
  };
}
