import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';
import type { TestContext } from 'vitest';

/** A browser of its own; set this where its absence has to be a failure. */
const REQUIRE = 'LINEBUDGET_REQUIRE_CHROMIUM';

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const PROGRAM = PLACES.find((path) => existsSync(path));

/** Skips a test, with the reason, where Chromium is not on the machine. */
export function needsChromium(context: TestContext): void {
  if (PROGRAM !== undefined) return;
  if (process.env[REQUIRE]) {
    throw new Error(`${REQUIRE} is set, and Chromium is not on this machine: install the package chromium`);
  }
  context.skip('Chromium is not on this machine: install the package chromium');
}

/** Chromium without a window; undefined where it is not on the machine. */
export async function startChromium(): Promise<Browser | undefined> {
  if (PROGRAM === undefined) return undefined;
  return chromium.launch({ executablePath: PROGRAM, args: ['--no-sandbox', '--disable-background-networking'] });
}
