import { KNOWN_SCHEMAS } from '../interchange/read.js';
import { greatest } from '../units.js';
import { installationRule } from './rule.js';

export const schemaNotKnown = installationRule({
  id: 'schema-not-known',
  severity: 'note',
  basis: 'from memory',
  *check({ project, words }) {
    if (project.schemaKnown || project.schema === null) return;
    yield {
      subject: { kind: 'project', id: project.id, label: project.name ?? project.id, place: { line: 1 } },
      segments: [],
      measure: {
        quantity: words.facts.quantities.schema,
        unit: 'schema number',
        value: project.schema,
        limit: nearestKnown(project.schema),
        holds: 'at most',
      },
      restsOn: 'declared',
      facts: { schema: project.schema },
    };
  },
});

/** The greatest known number up to a schema, or the least of all. */
function nearestKnown(schema: number): number {
  const below = [...KNOWN_SCHEMAS].filter((known) => known < schema);
  return below.length === 0 ? Math.min(...KNOWN_SCHEMAS) : greatest(below);
}
