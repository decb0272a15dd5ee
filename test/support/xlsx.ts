import { pythonFed } from './python.js';

/**
 * A workbook read by Python's own zipfile and ElementTree, from the standard alone: ECMA-376 part 1, 12.3.23 (relations
 * of the workbook), 18.3.1.4 (cells: a shared string or a number), 18.4.8 (shared strings), 18.8.10 (formats of cells),
 * 18.3.1.66 (frozen panes), 22.9.2.19 (`_x0041_`).
 */
const READ_XLSX = `
import io, json, re, sys, zipfile, xml.etree.ElementTree as tree
book = zipfile.ZipFile(io.BytesIO(sys.stdin.buffer.read()))
assert book.testzip() is None
part = lambda name: tree.fromstring(book.read(name))
M = '{http://schemas.openxmlformats.org/spreadsheetml/2006/main}'
R = '{http://schemas.openxmlformats.org/officeDocument/2006/relationships}'
P = '{http://schemas.openxmlformats.org/package/2006/relationships}'
for name in book.namelist(): part(name)
unescaped = lambda text: re.sub('_x([0-9A-Fa-f]{4})_', lambda found: chr(int(found[1], 16)), text)
strings = [unescaped(''.join(one.itertext())) for one in part('xl/sharedStrings.xml')]
targets = {one.get('Id'): one.get('Target') for one in part('xl/_rels/workbook.xml.rels').iter(P + 'Relationship')}
styles = part('xl/styles.xml')
formats = {one.get('numFmtId'): one.get('formatCode') for one in styles.iter(M + 'numFmt')}
bold = [font.find(M + 'b') is not None for font in styles.find(M + 'fonts')]
looks = [(formats.get(one.get('numFmtId')), bold[int(one.get('fontId', 0))]) for one in styles.find(M + 'cellXfs')]
def column(place):
  number = 0
  for letter in re.match('[A-Z]+', place)[0]: number = number * 26 + ord(letter) - 64
  return number - 1
def cell(one):
  assert one.find(M + 'f') is None, 'a formula'
  value = one.find(M + 'v').text
  format, isBold = looks[int(one.get('s', 0))]
  return {'value': strings[int(value)] if one.get('t') == 's' else float(value), 'format': format, 'isBold': isBold}
def row(one):
  cells = {column(c.get('r')): cell(c) for c in one}
  return [cells.get(at) for at in range(max(cells, default=-1) + 1)]
def sheet(one):
  found = part('xl/' + targets[one.get(R + 'id')])
  panes = [[pane.get('state'), pane.get('ySplit'), pane.get('topLeftCell')] for pane in found.iter(M + 'pane')]
  return {'name': one.get('name'), 'panes': panes, 'rows': [row(r) for r in found.iter(M + 'row')]}
print(json.dumps({'sheets': [sheet(one) for one in part('xl/workbook.xml').iter(M + 'sheet')],
  'times': sorted({str(one.date_time) for one in book.infolist()}), 'parts': book.namelist()}))
`;

export interface ReadCell {
  readonly value: string | number;
  readonly format: string | null;
  readonly isBold: boolean;
}

export interface ReadSheet {
  readonly name: string;
  readonly panes: readonly (readonly (string | null)[])[];
  readonly rows: readonly (readonly (ReadCell | null)[])[];
}

interface ReadBook {
  readonly sheets: readonly ReadSheet[];
  readonly times: readonly string[];
  readonly parts: readonly string[];
}

export function readWorkbook(bytes: Uint8Array): ReadBook {
  return JSON.parse(pythonFed(bytes, '-c', READ_XLSX).toString());
}

/** The values of a sheet, without the empty cells at the end of a row. */
export function valuesOf({ rows }: ReadSheet): (string | number | null)[][] {
  return rows.map((row) => row.map((cell) => cell?.value ?? null));
}
