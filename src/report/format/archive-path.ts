/** Half of a character beyond the basic plane, which no encoding can carry. */
const LONE_SURROGATE = /\p{Cs}/gu;

/** The archive's path as reviewers' tools expect it: forward slashes, from the top of the repository, never empty. */
export function archivePath(archive: string): string {
  const names = archive.replace(LONE_SURROGATE, '\uFFFD').replaceAll('\\', '/').split('/');
  return names.filter((name) => name !== '' && name !== '.').join('/') || 'archive';
}

/** The same path as a relative URI reference (RFC 3986, section 4.2): a colon in it never begins a scheme. */
export function archiveUri(archive: string): string {
  return uriPath(archivePath(archive));
}

/** A path as the path of a URI, all but its slashes percent-encoded. */
export function uriPath(path: string): string {
  return path.replace(LONE_SURROGATE, '\uFFFD').split('/').map(encodeURIComponent).join('/');
}
