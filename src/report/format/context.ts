/** What a format is told beside the report, which knows no file names. */
export interface FormatContext {
  /** What the archive is called where the output is read, such as its path in a repository. */
  readonly archive: string;
}
