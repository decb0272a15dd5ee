import { XmlFault } from './fault.js';

/** XML 1.0, productions 23 to 32. A blank is no `\s`, which takes form feeds and more. */
const DECLARATION =
  /^<\?xml[ \t\r\n]+version[ \t\r\n]*=[ \t\r\n]*(["'])1\.[0-9]+\1(?:[ \t\r\n]+encoding[ \t\r\n]*=[ \t\r\n]*(["'])(?<encoding>[A-Za-z][\w.-]*)\2)?(?:[ \t\r\n]+standalone[ \t\r\n]*=[ \t\r\n]*(["'])(?:yes|no)\4)?[ \t\r\n]*\?>$/;

/**
 * The encoding that an XML declaration names; undefined if it names none.
 * @throws XmlFault where the declaration is malformed
 */
export function declaredEncoding(declaration: string): string | undefined {
  const match = DECLARATION.exec(declaration);
  if (match === null) throw new XmlFault('the XML declaration is malformed, or not of a version 1.x');
  return match.groups?.encoding;
}
