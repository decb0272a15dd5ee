import { readFileSync } from 'node:fs';
import { z } from 'zod';

const manifest = z
  .object({ name: z.string(), version: z.string() })
  .parse(JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8')));

/** This tool, as it names itself in reports, logs and on the command line. */
export const TOOL = { name: manifest.name, version: manifest.version } as const;
