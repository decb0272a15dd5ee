import { describe, expect, it } from 'vitest';
import { schemaNotKnown } from '../../src/rules/schema-not-known.js';
import { consumer } from '../support/plants.js';
import { said } from '../support/rules.js';

const inSchema = (schema: number) => ({ schema, lines: [{ line: '1.1', devices: [consumer(1, 10)] }] });

describe('schema-not-known', () => {
  it.each([10, 11, 12, 13, 14, 20, 21, 22, 23])('passes schema %i', (schema) => {
    expect(said(schemaNotKnown, inSchema(schema))).toEqual({
      found: [],
      coverage: { '1.1': 'passed', '*': 'passed' },
    });
  });

  it.each([9, 15, 19, 24])('finds schema %i, on the project as a whole', (schema) => {
    expect(said(schemaNotKnown, inSchema(schema))).toMatchObject({
      found: [
        {
          about: 'project Test',
          severity: 'note',
          restsOn: 'declared',
          segments: [],
          facts: { schema },
          message: expect.stringContaining(`schema ${schema}, which is not known here`),
          remedy: expect.stringContaining('Check'),
        },
      ],
      coverage: { '1.1': 'passed', '*': 'found' },
    });
  });
});
