import { KNOWN_SCHEMAS } from '../interchange/read.js';
import { greatest } from '../units.js';
import { installationRule } from './rule.js';

export const schemaNotKnown = installationRule({
  id: 'schema-not-known',
  title: 'The schema number of the export is not known here',
  severity: 'note',
  why: 'The document was read as the nearest known form. If the form changed in between, something may have been read wrongly.',
  remedy: 'Check a few segments of the report against the project, or use a newer version of this service.',
  limit: 'schemas 10 to 14 and 20 to 23',
  basis: 'from memory',
  source: 'from memory, not confirmed: the schema numbers met in practice',
  *check({ project }) {
    if (project.schemaKnown || project.schema === null) return;
    yield {
      subject: { kind: 'project', id: project.id, label: project.name ?? project.id, place: { line: 1 } },
      segments: [],
      measure: {
        quantity: 'schema',
        unit: 'schema number',
        value: project.schema,
        limit: nearestKnown(project.schema),
        holds: 'at most',
      },
      restsOn: 'declared',
      facts: { schema: project.schema },
    };
  },
  message: (f) => `The export is in schema ${f.schema}, which is not known here; it was read as the nearest known one.`,
  advice: () => 'Check devices and supplies of a few segments against the commissioning software.',
});

/** The greatest known number up to a schema, or the least of all. */
function nearestKnown(schema: number): number {
  const below = [...KNOWN_SCHEMAS].filter((known) => known < schema);
  return below.length === 0 ? Math.min(...KNOWN_SCHEMAS) : greatest(below);
}
