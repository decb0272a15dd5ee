import { parse } from 'csv-parse/sync';

/** A row of the list of what to measure, by its headings. */
export type ListRow = Readonly<Record<string, string>>;

export const rowsOf = (text: string): ListRow[] => parse(text, { columns: true });

/** The list with what somebody measured; undefined leaves the cell as it is. */
export function filledIn(
  text: string,
  measured: (row: ListRow, index: number) => number | undefined,
  separator = ',',
): string {
  const rows = rowsOf(text).map((row, index) => ({ ...row, measured: String(measured(row, index) ?? row.measured) }));
  const [header = []] = parse(text, { to: 1 }) as string[][];
  return [header, ...rows.map((row) => Object.values(row))]
    .map((cells) => `${cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(separator)}\r\n`)
    .join('');
}

/** For the house of the fixtures: its cable, and where things sit. */
export const HOUSE_SHEET = `
supplies: [{supply: Supply, terminalVoltage: 29.5 V, leastTerminalVoltage: 29 V}]
segments:
  - segment: "1.1"
    cable: 0.8 mm pair
    runs: [{from: board, to: hall, length: 20 m}, {from: hall, to: upstairs, length: 25 m}, {from: hall, to: garden, length: 40 m}]
    places:
      - {at: board, locations: [House / Ground floor / Utility room / Board H, House / Ground floor / Utility room]}
      - {at: hall, locations: [House / Ground floor / Hall, House / Ground floor / Kitchen, House / Ground floor / Living room]}
      - {at: upstairs, locations: [House / Upper floor]}
      - {at: garden, locations: [House / Garden]}
`;
