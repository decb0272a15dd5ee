import { ROLES } from '../http/access/tokens.js';
import { BUILT_IN_NAMES } from '../policy/policy.js';
import { COMPARISON_FORMAT_NAMES } from '../report/compare/formats.js';
import { FORMAT_NAMES, type FormatName, isForPeople } from '../report/format/index.js';
import { SYMPTOMS } from '../site/site.js';
import { LANGUAGES } from '../words/language.js';
import { EXIT, FAIL_ON, FAIL_ON_CHANGE, FAIL_ON_FOUND } from './exit-code.js';

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

export const RULES_FORMATS = ['json', 'text'] as const;

export const DIAGNOSE_FORMATS = ['json', 'text'] as const;

export const UNKNOWNS_FORMATS = ['csv', 'json', 'text'] as const;

const FOR_PEOPLE = FORMAT_NAMES.filter(isForPeople).join(' and ');

export const USAGE = `Usage:
  linebudget audit FILE…      audit project archives
      --policy NAME           judge by it: a policy file, or ${BUILT_IN_NAMES.join(', ')}
      --products FILE         what data sheets say, as a list that "unknowns" made, filled in
      --site FILE             what the site is like, as a sheet that "site-sheet" began
      --measured FILE         what was measured, as a list that --format csv-site-check made, filled in
      --waivers FILE          findings that are accepted
      --as-of DATE            the day on which waivers are judged, YYYY-MM-DD, UTC (default today)
      --baseline REPORT       an earlier report in JSON; findings are marked by it
      --format NAME           ${FORMAT_NAMES.join(', ')} (default text); of several archives ${FORMATS_OF_SEVERAL.join(' or ')}
      --out FILE              write the report there instead of to standard output
      --fail-on SEVERITY      ${FAIL_ON.join(', ')}: exit ${EXIT.findings} from this severity on (default error)
      --lang LANGUAGE         ${LANGUAGES.join(' or ')} (default ${LANGUAGES[0]}), of ${FOR_PEOPLE}; the other formats are English
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget plan FILE        audit a plan before there is an export: lines with counts of devices, in YAML, JSON or CSV
      --policy, --products, --site, --format, --lang, --out, --limit
                              as of audit
      --fail-on SEVERITY      ${FAIL_ON_FOUND.join(', ')}: exit ${EXIT.findings} from this severity on (default error)
  linebudget unknowns FILE…   list the products whose data sheet has to be looked up, over all the archives
      --format NAME           ${UNKNOWNS_FORMATS.join(', ')} (default text); csv has columns to be filled in
      --out FILE              write the list there instead of to standard output
      --policy, --products, --site, --measured
                              as of audit
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget site-sheet ARCHIVE
                              print a site sheet to begin with, to be filled in
      --out FILE              write it there instead; a file that is there already stays as it is
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget compare OLD NEW  compare two project archives, or JSON reports of such
      --format NAME           ${COMPARISON_FORMAT_NAMES.join(' or ')} (default text)
      --out FILE              write the comparison there instead of to standard output
      --policy NAME           judge archives by it: a policy file, or ${BUILT_IN_NAMES.join(', ')}
      --old-policy NAME       the same for OLD only
      --new-policy NAME       the same for NEW only
      --site FILE             the site sheet, for both archives
      --waivers, --as-of      as of audit
      --fail-on CHANGE        ${FAIL_ON_CHANGE.join(', ')}: exit ${EXIT.findings} if such a
                              finding is new or worsened (default new:error)
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget what-if ARCHIVE  tell the verdicts before and after changes to the plant of an archive
      --add 'N of WHAT on LINE'
                              N devices come: WHAT is a product by order number, id or name, or a current such as
                              "12 mA"; LINE is such as "1.1" or "1.1 segment 2"; may be repeated
      --remove 'N of PRODUCT on LINE'
                              N devices go; may be repeated
      --supply 'RATING on LINE'
                              a supply comes, such as "640 mA on 1.1"; may be repeated
      --changes FILE          the same and more, in YAML or JSON
      --policy, --products, --site, --waivers, --as-of
                              as of audit
      --format, --out, --fail-on, --limit
                              as of compare
  linebudget waive ARCHIVE FINGERPRINT
                              accept a finding; the first 6 digits of its fingerprint may do
      --reason TEXT           why
      --author NAME           who answers for it
      --expires DATE          the last day on which it counts, YYYY-MM-DD, UTC
      --raise-above 'N UNIT'  the figure beyond which it counts again (default the one it has now)
      --waivers FILE          add the entry to this list instead of printing it
      --policy, --products    as of audit
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget diagnose ARCHIVE list the causes that fit what was measured or seen on site, best first
      --site FILE             the site sheet; without the options below what it says was measured is looked at
      --segment NAME          the segment, as texts call it or by its id
      --current SUPPLY=VALUE  measured at a supply, such as "1.1.0=320 mA"; may be repeated
      --voltage POINT=VALUE   measured at a point of the site sheet, such as "hall=27.9 V"; at the far end without a point
      --symptom NAME          ${SYMPTOMS.map((one) => `"${one}"`).join(', ')}
      --format NAME           ${DIAGNOSE_FORMATS.join(' or ')} (default text)
      --out FILE              write it there instead of to standard output
      --lang LANGUAGE         as of audit
      --policy NAME           as of audit
      --limit NAME=VALUE      set a limit on archives; may be repeated
  linebudget policy [NAME]    print a policy (default ${BUILT_IN_NAMES[0]}) with who set each value
      --format NAME           ${RULES_FORMATS.join(' or ')} (default text)
  linebudget rules [ID]       list the rules, or explain one
      --format NAME           ${RULES_FORMATS.join(' or ')} (default text)
      --lang LANGUAGE         as of audit
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
