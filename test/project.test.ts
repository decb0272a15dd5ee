import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { cruise } from 'dependency-cruiser';
import JSZip from 'jszip';
import { describe, expect, it } from 'vitest';
import { AUDIT_FORM, COMPARISON_FORM, PLAN_FORM, WHAT_IF_FORM } from '../src/http/forms.js';
import { FORMATS } from '../src/report/format/index.js';
import { FIXTURES, fixtureParts } from './support/archives.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const read = (name: string) => readFileSync(join(ROOT, name), 'utf8');

describe('the project', () => {
  it('holds the demo archive equal to its folder', async () => {
    const archive = await JSZip.loadAsync(readFileSync(join(FIXTURES, 'demo.zip')));
    const parts = fixtureParts('school');
    expect(Object.keys(archive.files).sort(), 'run npm run pack-demo').toEqual(Object.keys(parts));
    for (const [name, data] of Object.entries(parts)) {
      expect((await archive.files[name]?.async('nodebuffer'))?.equals(data), `${name}: run npm run pack-demo`).toBe(
        true,
      );
    }
  });

  it('has the rules and limits of the code in the README', async () => {
    const { withTables } = await import('./support/readme.mjs');
    expect(read('README.md'), 'run npm run readme').toBe(withTables(read('README.md')));
  });

  it('has the formats and form fields of the code in the README', () => {
    const rows = read('README.md')
      .split('\n')
      .filter((line) => line.startsWith('| '));
    for (const [name, { mediaType }] of Object.entries(FORMATS)) {
      const row = rows.find((line) => line.includes(`\`${name}\``) && line.includes(`\`${mediaType}\``));
      expect(row, `the table of formats lacks ${name} as ${mediaType}`).toBeDefined();
    }
    const fieldsOf = (path: string) => rows.find((line) => line.startsWith(`| form fields of \`${path}\``)) ?? '';
    for (const field of Object.keys(AUDIT_FORM)) expect(fieldsOf('/v1/audits')).toContain(`\`${field}\``);
    for (const field of Object.keys(PLAN_FORM)) expect(fieldsOf('/v1/plans')).toContain(`\`${field}\``);
    for (const field of Object.keys(COMPARISON_FORM)) expect(fieldsOf('/v1/comparisons')).toContain(`\`${field}\``);
    for (const field of Object.keys(WHAT_IF_FORM)) expect(fieldsOf('/v1/what-ifs')).toContain(`\`${field}\``);
  });

  it('names no download address in the lock file', () => {
    expect(read('package-lock.json')).not.toMatch(/"resolved"/);
    expect(read('.npmrc')).toMatch(/^omit-lockfile-registry-resolved=true$/m);
  });

  it('has nothing else at the top', () => {
    const allowed = ['Dockerfile', 'README.md', 'DEVELOPERS.md', 'LICENSE', 'openapi.yaml', 'package.json'];
    const more = ['package-lock.json', 'tsconfig.json', 'src', 'test', 'fixtures', 'dist', 'node_modules', 'coverage'];
    const found = readdirSync(ROOT).filter((name) => !name.startsWith('.'));
    expect(found.filter((name) => ![...allowed, ...more].includes(name))).toEqual([]);
  });

  it('lets data go one way', async () => {
    const { default: config } = await import('../.dependency-cruiser.cjs');
    const { output } = await cruise([join(ROOT, 'src')], {
      ruleSet: { forbidden: config.forbidden ?? [] },
      validate: true,
      baseDir: ROOT,
      ...config.options,
      tsConfig: { fileName: join(ROOT, 'tsconfig.json') },
    });
    if (typeof output === 'string') throw new Error(output);
    expect(output.summary.violations).toEqual([]);
    expect(output.summary.totalCruised).toBeGreaterThan(50);
  });
});
