import { audit } from '../../src/audit.js';
import type { EffectivePolicy } from '../../src/policy/effective.js';
import type { Report } from '../../src/report/report.js';
import { fixtureParts, zip } from './archives.js';

/** What a test changes of a text. */
export type Edit = (text: string) => string;

const SCHOOL = 'P-05C0/0.xml';

/** The school with its topology changed. */
export function schoolWith(...edits: readonly Edit[]): Promise<Buffer> {
  const parts = fixtureParts('school');
  const before = String(parts[SCHOOL]);
  const after = edits.reduce((text, edit) => {
    const edited = edit(text);
    if (edited === text) throw new Error('the edit changes nothing');
    return edited;
  }, before);
  return zip({ ...parts, [SCHOOL]: after });
}

export async function schoolReport(edits: readonly Edit[] = [], policy?: EffectivePolicy): Promise<Report> {
  return audit(await schoolWith(...edits), policy === undefined ? {} : { policy });
}

/** Push button 1.4.10 of 5 mA is not there. */
export const withoutPushButton: Edit = (text) =>
  text.replace(/<DeviceInstance Id="P-05C0-0_DI-74"[\s\S]*?<\/DeviceInstance>/, '');

/** The supply of line 1.2, 320 mA, is one of 1280 mA. */
export const withLargerSupply: Edit = (text) =>
  text.replace(/(DI-23" Name="Supply 1.2" ProductRefId=")[^"]*/, '$1M-F0A1_H-AF.2DPS1280-1_P-AF.2DPS1280');

/** The export numbers everything anew, as after an import into another project. */
export const renumbered: Edit = (text) =>
  text.replace(/P-05C0-0_(DI|S|L)-(\d+)/g, (_, kind, number) => `P-05C0-0_${kind}-${Number(number) + 1000}`);

/** The whole project is called otherwise. */
export const renamed: Edit = (text) => text.replaceAll('P-05C0', 'P-0ABC');
