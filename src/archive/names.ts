import { isAscii, isUtf8 } from 'node:buffer';
import { InputError, quoted } from '../errors.js';
import { type Extra, unicodeName } from './extra.js';
import { FLAG_UTF8 } from './format.js';

/** Code page 437 from 128 on, which is how a name is written that does not say it is UTF-8 (APPNOTE, appendix D). */
const CP437 =
  'ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0';

/**
 * The name of an entry: UTF-8 where the flag says so, else a unicode path in an extra field, else code page 437.
 * @throws InputError `unsafe-name`, or `ambiguous-part` where the entry has a second, different name
 */
export function readName(bytes: Buffer, flags: number, { unicodePath }: Extra): string {
  const isSaidUtf8 = (flags & FLAG_UTF8) !== 0;
  const isPlain = isSaidUtf8 || isAscii(bytes);
  const second = unicodeName(unicodePath, bytes);
  if (isPlain && second !== undefined && !second.equals(bytes)) throw secondName(bytes.toString());
  const name = isPlain ? utf8(bytes) : second === undefined ? codePage437(bytes) : utf8(second);
  const why = whyUnsafe(name);
  if (why !== undefined) throw unsafe(why, name);
  return name;
}

export function secondName(name: string): InputError {
  const detail = 'the entry has a second, different name in an extra field; pack the archive without it';
  return new InputError('ambiguous-part', detail, { part: name });
}

function utf8(bytes: Buffer): string {
  const name = bytes.toString();
  if (!isUtf8(bytes)) throw unsafe('is not valid UTF-8, as it claims to be', name);
  return name;
}

function codePage437(bytes: Buffer): string {
  return Array.from(bytes, (byte) => (byte < 128 ? String.fromCharCode(byte) : CP437.charAt(byte - 128))).join('');
}

function unsafe(why: string, name: string): InputError {
  return new InputError('unsafe-name', `the name of the entry ${why}; rename it, or export the project again`, {
    part: name,
  });
}

function whyUnsafe(name: string): string | undefined {
  if (/\p{Cc}/u.test(name)) return 'holds a control character';
  if (/^[/\\]/.test(name)) return 'is an absolute path';
  if (/^[a-z]:/i.test(name)) return 'begins with a drive';
  if (/(?:^|[/\\])\.\.(?:[/\\]|$)/.test(name)) return 'leads out of its folder';
  return /^[/\\.]*$/.test(name) && segmentsOf(name).length === 0 ? 'is empty' : undefined;
}

/** Some packers write backslashes. */
function segmentsOf(name: string): string[] {
  return name
    .replaceAll('\\', '/')
    .split('/')
    .filter((segment) => segment !== '' && segment !== '.');
}

/** A backslash, or a segment that is empty or `.`. */
const UNEVEN = /\\|(?:^|\/)\.?(?:\/|$)/;

/** One spelling of a path: forward slashes, no empty segments nor `.`, composed Unicode, no difference of case. */
export function normalisedPath(name: string): string {
  const path = UNEVEN.test(name) ? segmentsOf(name).join('/') : name;
  return /^\p{ASCII}*$/u.test(path) ? path.toLowerCase() : caseFolded(path);
}

/** Full case folding. Lower case alone keeps ß from ss and a final sigma from others; capital ẞ is lower case first. */
function caseFolded(text: string): string {
  return text.normalize('NFD').toLowerCase().toUpperCase().toLowerCase().normalize('NFC');
}

interface Named {
  readonly name: string;
  readonly path: string;
  readonly isDirectory: boolean;
}

/** No two entries have one name, and no file is a folder to another entry. */
export function refuseSharedNames(entries: readonly Named[]): void {
  const byPath = new Map<string, Named>();
  for (const entry of entries) {
    const other = byPath.get(entry.path);
    if (other !== undefined) throw shared('another entry has the same name', other, entry);
    byPath.set(entry.path, entry);
  }
  const folders = new Set<string>();
  for (const entry of entries) {
    for (let folder = folderOf(entry.path); folder !== '' && !folders.has(folder); folder = folderOf(folder)) {
      const other = byPath.get(folder);
      if (other?.isDirectory === false) throw shared('a file has the name of a folder of the entry', other, entry);
      folders.add(folder);
    }
  }
}

/** Empty for what stands at the top. */
function folderOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf('/')));
}

function shared(what: string, other: Named, { name }: Named): InputError {
  const detail = `${what}: ${quoted(other.name)}; export the project again`;
  return new InputError('ambiguous-part', detail, { part: name });
}
