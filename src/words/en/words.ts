import { diagnosis } from './diagnosis.js';
import { facts } from './facts.js';
import { missing } from './missing.js';
import { names } from './names.js';
import { page } from './page.js';
import { problems } from './problems.js';
import { proposals } from './proposals.js';
import { report } from './report.js';
import { loadRules } from './rules/load.js';
import { productRules } from './rules/products.js';
import { segmentRules } from './rules/segments.js';
import { siteRules } from './rules/site.js';
import { supplyRules } from './rules/supplies.js';
import { waiverRules } from './rules/waivers.js';
import { schedule } from './schedule.js';
import { figures } from './sentences.js';
import { site } from './site.js';
import { sizing } from './sizing.js';
import { upload } from './upload.js';

/** All texts in English. Machine formats are made with these, whatever language people ask for. */
export const EN = {
  language: 'en',
  figures,
  names,
  /** By the rule's id. */
  rules: { ...loadRules, ...supplyRules, ...segmentRules, ...siteRules, ...productRules, ...waiverRules },
  missing,
  facts,
  site,
  sizing,
  diagnosis,
  report,
  page,
  /** By the problem's code. */
  problems,
  upload,
  proposals,
  schedule,
};
