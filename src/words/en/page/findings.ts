/** The findings. */
export const findings = {
  heading: 'Findings',
  group: (f: { title: string; findings: number }) => `${f.title} (${f.findings})`,
  why: 'Why',
  limit: 'Limit',
  source: 'Source',
  figure: 'Figure',
  limitFrom: 'Limit from',
  remedy: 'What to do',
  concerns: 'Concerns',
  place: 'Found in',
  placeText: (f: { part: string; line: string }) => `${f.part}, line ${f.line}`,
  restsOn: 'Currents it rests on',
  since: 'Since the baseline',
  waived: 'Waived',
  fingerprint: 'Fingerprint',
};
