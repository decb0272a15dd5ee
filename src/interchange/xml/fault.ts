type XmlLimit =
  | 'xmlDepth'
  | 'xmlAttributes'
  | 'xmlNameLength'
  | 'xmlValueLength'
  | 'xmlTagBytes'
  | 'readValueLength'
  | 'elementsRead';

/** What a scan cannot go on from; the reader of the document adds part and line. */
export class XmlFault extends Error {
  override readonly name = 'XmlFault';

  constructor(
    message: string,
    /** The limit that is exceeded; undefined where the document is malformed. */
    readonly limit?: XmlLimit,
  ) {
    super(message);
  }
}
