import { ROLES } from '../http/access/tokens.js';
import { FORMAT_NAMES, type FormatName } from '../report/format/index.js';
import { EXIT, FAIL_ON } from './exit-code.js';

/** The formats of the list of rules. */
export const RULE_FORMATS = ['json', 'text'] as const;

/** The formats that several reports can be put together in; each of the others is a whole document. */
export const FORMATS_OF_SEVERAL: readonly FormatName[] = ['json', 'text'];

/** What is asked for cannot be done, though the call is well formed. */
export class CallError extends Error {
  override readonly name = 'CallError';
}

/** The call is wrong; the text says how it should be. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

export const USAGE = `Usage:
  linebudget audit FILE…      audit project archives
      --format NAME           ${FORMAT_NAMES.join(', ')} (default text); of several archives ${FORMATS_OF_SEVERAL.join(' or ')}
      --out FILE              write the report there instead of to standard output
      --fail-on SEVERITY      ${FAIL_ON.join(', ')}: exit ${EXIT.findings} from this severity on (default error)
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget rules [ID]       list the rules, or explain one
      --format NAME           ${RULE_FORMATS.join(' or ')} (default text)
  linebudget serve            start the HTTP service
      --config FILE           settings, tokens and limits, in YAML or JSON; the options below go before it
      --host ADDRESS          default 127.0.0.1; any that others reach needs tokens or --open
      --port NUMBER           default 8080; 0 takes a free one
      --open                  let everybody in who reaches the address
      --limit NAME=VALUE      set a limit, as GET /v1/limits lists them; may be repeated
  linebudget token            make a token for a client of the service
      --name NAME             names the client in the configuration and in the log
      --role ROLE             ${ROLES.join(' or ')} (default audit); give it twice for both
  linebudget --version | --help

Exit: ${EXIT.fine} nothing to object to, ${EXIT.findings} findings, ${EXIT.badInput} unreadable input or wrong call, ${EXIT.fault} incomplete audit or a fault of this tool.
`;

/** The value of an option that takes one of a few names. */
export function oneOf<T extends string>(option: string, value: string, allowed: readonly T[]): T {
  const found = allowed.find((name) => name === value);
  if (found === undefined) throw new UsageError(`--${option} takes ${allowed.join(', ')}, not "${value}"`);
  return found;
}
