import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['test/**/*.test.ts'],
    globalSetup: ['test/support/build.ts', 'test/support/programs.ts'],
    testTimeout: 30_000,
    // As many files at once as there are cores: most wait for programs that they have started.
    maxWorkers: '100%',
  },
});
