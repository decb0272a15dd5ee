import { execFileSync, spawnSync } from 'node:child_process';

/** What some tests hold the service against, by its name as a program and as a package of Debian's. */
const PROGRAMS = ['chromium', 'ngspice'];

/** Installs what is missing where this may be done; else says what to install, and the tests that need it are skipped. */
export default function installPrograms(): void {
  const missing = PROGRAMS.filter((program) => !isThere(program));
  if (missing.length === 0) return;
  if (isThere('apt-get') && process.getuid?.() === 0 && installed(missing)) return;
  console.warn(`Tests that need them are skipped; to run them, install the packages ${missing.join(' and ')}.`);
}

function isThere(program: string): boolean {
  return spawnSync('which', [program], { stdio: 'ignore' }).status === 0;
}

function installed(packages: readonly string[]): boolean {
  const options = ['-o', 'DPkg::Lock::Timeout=300', '-qq'];
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    execFileSync('apt-get', [...options, 'update'], { stdio: 'inherit', env });
    execFileSync('apt-get', [...options, 'install', '-y', '--no-install-recommends', ...packages], {
      stdio: 'inherit',
      env,
    });
    return true;
  } catch {
    return false;
  }
}
