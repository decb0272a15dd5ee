/** Names of attributes. */
export type AttributeNames = Pick<ReadonlySet<string>, 'has'>;

/** The elements that somebody wants to be told of, by local name, and the attributes that are of use of them. */
export type Wanted = Pick<ReadonlyMap<string, AttributeNames>, 'get'>;

/** A name of a document: as it is written, and as namespaces split it. One object per name, so that `===` compares. */
export interface Name {
  readonly bytes: Uint8Array;
  readonly text: string;
  readonly prefix: string;
  readonly local: string;
  /** `xmlns` or `xmlns:…`: a namespace declaration. */
  readonly isDeclaration: boolean;
  /** Neither a declaration nor prefixed: namespaces have nothing to say of such an attribute. */
  readonly isPlain: boolean;
  /** Attributes that are of use of elements of this name; undefined if nobody wants to be told of them at all. */
  readonly wanted: AttributeNames | undefined;
  /** The attributes that the last element of this name had: what the next one will most likely have. */
  readonly lastAttributes: Name[];
  /** The tag that had an attribute of this name last. */
  lastTag: number;
  /** Whether elements of this name have been offered for being passed over. */
  isTaught: boolean;
}

// Names with colons as namespaces allow them (Namespaces in XML 1.0, production 7; XML 1.0, productions 4 and 4a).
const START =
  'A-Z_a-z\\u{C0}-\\u{D6}\\u{D8}-\\u{F6}\\u{F8}-\\u{2FF}\\u{370}-\\u{37D}\\u{37F}-\\u{1FFF}\\u{200C}-\\u{200D}\\u{2070}-\\u{218F}\\u{2C00}-\\u{2FEF}\\u{3001}-\\u{D7FF}\\u{F900}-\\u{FDCF}\\u{FDF0}-\\u{FFFD}\\u{10000}-\\u{EFFFF}';
const MORE = `${START}\\-.0-9\\u{B7}\\u{300}-\\u{36F}\\u{203F}-\\u{2040}`;
const QUALIFIED = new RegExp(`^(?:([${START}][${MORE}]*):)?([${START}][${MORE}]*)$`, 'u');

/** More different names than any document of this kind has; beyond it the table starts anew, so that it stays small. */
const MOST_NAMES = 4096;

export class NameTable {
  readonly #names = new Map<string, Name>();

  constructor(readonly wanted: Wanted) {}

  /** The name that bytes stand for; undefined if they are none. */
  get(bytes: Buffer): Name | undefined {
    const key = bytes.toString('latin1');
    return this.#names.get(key) ?? this.#add(key, bytes);
  }

  #add(key: string, bytes: Buffer): Name | undefined {
    const text = bytes.toString('utf8');
    const match = QUALIFIED.exec(text);
    if (match === null) return undefined;
    const [, prefix = '', local = ''] = match;
    const isDeclaration = prefix === 'xmlns' || text === 'xmlns';
    const name: Name = {
      bytes: Uint8Array.from(bytes),
      text,
      prefix,
      local,
      isDeclaration,
      isPlain: prefix === '' && !isDeclaration,
      wanted: this.wanted.get(local),
      lastAttributes: [],
      lastTag: 0,
      isTaught: false,
    };
    this.#names.set(key, name);
    return name;
  }

  /**
   * Between elements, when nothing holds on to attribute names: keeps the table small whatever a document does.
   * @returns whether it starts anew
   */
  trim(): boolean {
    if (this.#names.size <= MOST_NAMES) return false;
    this.#names.clear();
    return true;
  }
}
