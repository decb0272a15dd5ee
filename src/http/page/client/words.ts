/** Texts of the page, which the service wrote into its form. */
export interface Texts {
  /** What the fields of the form are called. */
  readonly fields: Readonly<Record<string, string>>;
  readonly stages: Readonly<Record<string, string>>;
  readonly chosen: string;
  readonly ready: string;
  readonly open: string;
  readonly opensTab: string;
  readonly save: string;
  readonly others: string;
  readonly files: Readonly<Record<string, string>>;
  readonly making: string;
  readonly made: string;
  readonly problem: Readonly<Record<'where' | 'partAndLine' | 'what' | 'remedy' | 'code' | 'request', string>>;
  readonly found: Readonly<Record<Found, Said>>;
}

/** What is wrong, and what to do. */
export interface Said {
  readonly title: string;
  readonly remedy: string;
}

/** Both in a line. */
export function inALine({ title, remedy }: Said): string {
  return `${title}. ${remedy}`;
}

/** What the browser finds by itself. */
export type Found = 'nothing' | 'empty' | 'several' | 'unreadable' | 'tooLarge' | 'unreachable' | 'cut' | 'stopped';

/** A text with its blanks filled: `{name}` by the value of that name. */
export function filled(text: string, values: Readonly<Record<string, string | number>>): string {
  return text.replace(/\{(\w+)\}/g, (blank, name: string) => String(values[name] ?? blank));
}

/** How large a file is, as people say it. */
export function sizeText(bytes: number, language: string): string {
  const [value, unit] =
    bytes < 1024 ? [bytes, 'B'] : bytes < 1024 ** 2 ? [bytes / 1024, 'KiB'] : [bytes / 1024 ** 2, 'MiB'];
  return `${value.toLocaleString(language, { maximumFractionDigits: 1 })} ${unit}`;
}
