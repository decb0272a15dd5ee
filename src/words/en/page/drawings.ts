/** The plant as strips, and the chart of utilisation. */

export const plant = {
  heading: 'The plant',
  intro:
    'A strip for each line, the worst first, all to one scale: the frame is as long as the supplies may give, the filled part is the load by the origin of its currents. The broken stroke is the target.',
  scale: (most: string) => `The widest strip is ${most} long.`,
  legend: 'How to read it',
  parts: {
    declared: 'declared by the product',
    overridden: 'overridden by the policy',
    assumed: 'assumed',
    auxiliary: 'drawn beside the bus',
    others: 'load of others on the same supplies',
    beyond: 'beyond what the supplies may give',
    planned: 'planned',
  },
  strip: (f: { segment: string; figures: string }) => `${f.segment}: ${f.figures}`,
  carried: (f: { load: string; capacity: string }) => `${f.load} of ${f.capacity}`,
  unrated: (load: string) => `${load}, rating not known`,
  rated: (f: { load: string; ratings: string }) => `${f.load}, ratings of ${f.ratings}`,
  noSupply: (load: string) => `${load}, no supply`,
  feedUnknown: (load: string) => `${load}, feed not known`,
  together: (load: string) => `${load} with others`,
  line: (f: { line: string; name: string }) => `Line ${f.line}${f.name === '' ? '' : ` ${f.name}`}`,
  table: 'The strips as a table',
};

export const chart = {
  heading: 'Utilisation',
  title: (f: { first: string; last: string }) =>
    `Utilisation of ${f.first === f.last ? f.first : `${f.first} to ${f.last}`}`,
  description: (target: string) =>
    `A column for each segment: its load as a share of what the supplies may give. The broken line is the target of ${target}, the solid one the whole rating. The table below has the figures.`,
  intro:
    'Load as a share of what the supplies may give, in the order of the plant. A cross stands for a segment without a supply, a question mark for one whose share nobody can tell, a dash for one that needs none.',
  target: (share: string) => `target ${share}`,
  rating: 'rating',
  table: 'The columns as a table',
};
