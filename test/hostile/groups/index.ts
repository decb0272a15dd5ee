import type { Group } from '../cases.js';
import { BOMBS } from './bombs.js';
import { ENCODINGS } from './encodings.js';
import { ENTITIES } from './entities.js';
import { ENTRY_NAMES } from './entry-names.js';
import { FORMS } from './forms.js';
import { GROWTH } from './growth.js';
import { HTTP_REQUESTS } from './http-requests.js';
import { HTTP_UPLOADS } from './http-uploads.js';
import { NUMBERS } from './numbers.js';
import { PACKING } from './packing.js';
import { REFERENCES } from './references.js';
import { SIZES } from './sizes.js';
import { LANGUAGE_WORDS } from './words.js';
import { XML_EXTENT } from './xml-extent.js';
import { ZIP_STRUCTURE } from './zip-structure.js';

/** All of the catalogue: from the archive over the documents in it to the request that brings it. */
export const GROUPS: readonly Group[] = [
  ZIP_STRUCTURE,
  SIZES,
  BOMBS,
  ENTRY_NAMES,
  PACKING,
  ENCODINGS,
  ENTITIES,
  XML_EXTENT,
  LANGUAGE_WORDS,
  NUMBERS,
  REFERENCES,
  GROWTH,
  FORMS,
  HTTP_REQUESTS,
  HTTP_UPLOADS,
];
