import { z } from 'zod';
import { reportSchema } from './report.js';

/** The JSON Schema (2020-12) of the report, made from the shape that it is checked with. */
export function reportJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:report:1',
    title: 'Linebudget report, version 1',
    ...z.toJSONSchema(reportSchema, { target: 'draft-2020-12' }),
  };
}
