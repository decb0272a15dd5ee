import type { Archive, Part } from '../archive/archive.js';
import type { Limits } from '../limits.js';
import { children, element, readTree, text } from './tree.js';
import { readXml } from './xml.js';

const informationShape = element({
  Project: children(element({ ProjectInformation: children(element({ '@Name': text })) })),
});

/** The name of a project, from its information document. */
export async function readProjectName(archive: Archive, part: Part, limits: Limits): Promise<string | undefined> {
  const { Project } = await readTree(archive, part, limits, informationShape);
  return Project[0]?.ProjectInformation[0]?.['@Name'];
}

/**
 * Names of media and makers by id, from the master data. Streamed: two short lists are of use out of a document of a
 * megabyte and more.
 */
export async function readMasterNames(archive: Archive, part: Part, limits: Limits): Promise<Map<string, string>> {
  const names = new Map<string, string>();
  await readXml(archive.stream(part), part.name, limits, {
    open(name, { Id, Text, Name }, { parent }) {
      const isListed =
        (name === 'MediumType' && parent === 'MediumTypes') || (name === 'Manufacturer' && parent === 'Manufacturers');
      const label = name === 'MediumType' ? (Text ?? Name) : Name;
      if (isListed && Id !== undefined && label !== undefined) names.set(Id, label);
    },
  });
  return names;
}
