import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Command line and workers are tested as they ship: compiled. */
export default function build(): void {
  execFileSync('npm', ['run', '--silent', 'build'], {
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
    stdio: ['ignore', 'inherit', 'inherit'],
  });
}
