/** The way data goes: a folder imports only from folders to its left, and from the shared leaves. */
const WAY = ['words', 'documents', 'archive', 'interchange', 'policy', 'tender', 'plant', 'site', 'changes', 'electrical', 'sizing', 'rules', 'report', 'given', 'audit', 'compare', 'what-if', 'http', 'cli'];

/** What composes folders stands beside them, as a file. */
const COMPOSED = ['given', 'audit', 'compare', 'what-if'];

const place = (name) => (COMPOSED.includes(name) ? `^src/${name}\\.ts$` : `^src/${name}/`);

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    ...WAY.map((name, index) => ({
      name: `${name}-looks-left`,
      severity: 'error',
      from: { path: place(name) },
      to: { path: WAY.slice(index + 1).map(place) },
    })).filter(({ to }) => to.path.length > 0),
    {
      name: 'leaves-import-nothing-of-ours',
      severity: 'error',
      from: { path: '^src/(errors|units|limits|progress|version)\\.ts$' },
      to: { path: '^src/' },
    },
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'only-archive-inflates',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/archive/' },
      to: { path: '^(node:)?zlib$' },
    },
    {
      name: 'only-interchange-knows-xml',
      severity: 'error',
      from: { pathNot: '^src/interchange/' },
      to: { path: '^src/interchange/xml/' },
    },
    {
      name: 'nothing-of-the-tests-ships',
      severity: 'error',
      from: { path: '^src/' },
      to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['type-only'] },
    },
    { name: 'nothing-unresolved', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'node', 'default'] },
    doNotFollow: { path: 'node_modules' },
  },
};
