import { assumptions, basis, check, unknowns } from './page/check.js';
import { columns } from './page/columns.js';
import { chart, plant } from './page/drawings.js';
import { findings } from './page/findings.js';
import { filter, frame, summary } from './page/frame.js';
import { names } from './page/names.js';
import { proposals, schedule } from './page/proposals.js';
import { segments } from './page/segments.js';
import { site } from './page/site.js';

/** What only the page says; what other formats say too it takes from there. */
export const page = {
  frame,
  summary,
  filter,
  plant,
  chart,
  columns,
  names,
  findings,
  segments,
  site,
  proposals,
  schedule,
  unknowns,
  check,
  assumptions,
  basis,
};
