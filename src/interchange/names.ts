import type { Archive, Part } from '../archive/archive.js';
import type { Limits } from '../limits.js';
import { readXml } from './xml/reader.js';

/** The name of a project, from its information document; undefined if it gives none. */
export async function readProjectName(archive: Archive, part: Part, limits: Limits): Promise<string | undefined> {
  let found: string | undefined;
  await readXml(archive.stream(part), part.name, limits, {
    wanted: new Map([['ProjectInformation', new Set(['Name'])]]),
    open(_name, { Name }, { parent }) {
      if (parent === 'Project') found ??= Name?.trim() || undefined;
    },
  });
  return found;
}

/** Names of media and makers by id, from the master data: two short lists out of a document of a megabyte and more. */
export async function readMasterNames(archive: Archive, part: Part, limits: Limits): Promise<Map<string, string>> {
  const names = new Map<string, string>();
  await readXml(archive.stream(part), part.name, limits, {
    wanted: new Map([
      ['MediumType', new Set(['Id', 'Text', 'Name'])],
      ['Manufacturer', new Set(['Id', 'Name'])],
    ]),
    open(name, { Id, Text, Name }, { parent }) {
      const isListed = parent === (name === 'MediumType' ? 'MediumTypes' : 'Manufacturers');
      const label = name === 'MediumType' ? (Text ?? Name) : Name;
      if (isListed && Id !== undefined && label !== undefined) names.set(Id, label);
    },
  });
  return names;
}
