import { z } from 'zod';
import { siteSheetSchema } from './sheet.js';

/** The JSON Schema (2020-12) of a site sheet, made from the shape that it is checked with; an editor can use it. */
export function siteSheetJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:site:1',
    title: 'Linebudget site sheet, version 1',
    ...z.toJSONSchema(siteSheetSchema, { target: 'draft-2020-12', io: 'input' }),
  };
}
