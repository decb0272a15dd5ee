import { parseArgs } from 'node:util';
import { createToken, ROLES, TOKEN_NAME, TOKEN_NAME_IS } from '../http/access/tokens.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { oneOf, UsageError } from './usage.js';

/** `linebudget token`: the token to standard output, so that it can be put away unseen; what to configure beside it. */
export function tokenCommand(args: readonly string[]): ExitCode {
  const { values } = parseArgs({
    args: [...args],
    options: { name: { type: 'string' }, role: { type: 'string', multiple: true, default: ['audit'] } },
  });
  const { name } = values;
  if (name === undefined) throw new UsageError('name the client that gets the token, with --name');
  if (!TOKEN_NAME.test(name)) throw new UsageError(`--name takes ${TOKEN_NAME_IS}`);
  const roles = values.role.map((role) => oneOf('role', role, ROLES));
  const { token, entry } = createToken(name, [...new Set(roles)]);
  process.stdout.write(`${token}\n`);
  console.error(
    [
      'The line above is the token. It is kept nowhere: hand it to the client now. Under "tokens:" of the configuration:',
      `  - name: ${entry.name}`,
      `    sha256: ${entry.sha256}`,
      `    roles: [${entry.roles.join(', ')}]`,
    ].join('\n'),
  );
  return EXIT.fine;
}
