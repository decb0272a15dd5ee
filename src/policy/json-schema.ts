import { z } from 'zod';
import { policyFileSchema } from './policy.js';
import { waiversFileSchema } from './waivers.js';

/** The JSON Schema (2020-12) of a policy file, made from the shape that it is checked with; an editor can use it. */
export function policyJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:policy:1',
    title: 'Linebudget policy, version 1',
    ...z.toJSONSchema(policyFileSchema, { target: 'draft-2020-12', io: 'input' }),
  };
}

/** The same of a list of waivers. */
export function waiversJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:waivers:1',
    title: 'Linebudget waivers, version 1',
    ...z.toJSONSchema(waiversFileSchema, { target: 'draft-2020-12', io: 'input' }),
  };
}
