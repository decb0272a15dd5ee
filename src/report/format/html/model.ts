import { EN } from '../../../words/en/words.js';
import type { Words } from '../../../words/words.js';
import type { Report, ReportFinding, ReportSegment } from '../../report.js';
import type { FormatContext } from '../context.js';
import { anchorsOf } from './anchors.js';
import { PageFigures } from './figures.js';
import { html, type Markup } from './markup.js';

/** So many segments stand open on a screen; of more all are folded, so that the page opens at once. */
const MOST_OPEN = 24;

/** So many segments that share supplies are named in a row. */
const MOST_NAMED = 4;

/** The report as the parts of the page ask for it, and what they say it with. */
export class Page {
  readonly words: Words;
  /** What only the page says. */
  readonly texts: Words['page'];
  readonly figures: PageFigures;
  readonly archive: string;
  readonly #anchors: ReadonlyMap<ReportSegment, string>;
  readonly #findingAnchors: ReadonlyMap<ReportFinding, string>;
  readonly #segments: ReadonlyMap<string, ReportSegment>;
  readonly #findings = new Map<string, ReportFinding[]>();
  readonly #installations: ReadonlyMap<string, string>;

  constructor(
    readonly report: Report,
    { archive, words = EN }: FormatContext,
  ) {
    this.archive = archive;
    this.words = words;
    this.texts = words.page;
    this.figures = new PageFigures(words);
    this.#anchors = anchorsOf('segment', report.segments, ({ id }) => id);
    this.#findingAnchors = anchorsOf('finding', report.findings, ({ fingerprint }) => fingerprint);
    this.#installations = installationNames(report);
    this.#segments = new Map(report.segments.map((segment) => [segment.id, segment]));
    for (const finding of report.findings) {
      for (const id of finding.segments) {
        const others = this.#findings.get(id);
        if (others === undefined) this.#findings.set(id, [finding]);
        else others.push(finding);
      }
    }
  }

  /** Whether it has so much to show that it opens at once only if most of it waits. */
  get isLarge(): boolean {
    return this.report.segments.length > MOST_OPEN;
  }

  anchorOf(segment: ReportSegment): string {
    return this.#anchors.get(segment) ?? '';
  }

  findingAnchorOf(finding: ReportFinding): string {
    return this.#findingAnchors.get(finding) ?? '';
  }

  /** Where its proposal is told. */
  proposalAnchorOf(segment: ReportSegment): string {
    return this.anchorOf(segment).replace(/^segment/, 'proposal');
  }

  segmentOf(id: string): ReportSegment | undefined {
    return this.#segments.get(id);
  }

  /** Findings that concern a segment, worst first. */
  findingsOf({ id }: ReportSegment): readonly ReportFinding[] {
    return this.#findings.get(id) ?? [];
  }

  /** What texts call a segment; where there are several installations with the one that it is of. */
  labelOf(id: string): string {
    const segment = this.#segments.get(id);
    const label = this.words.names.segment(segment?.label ?? id);
    const of = segment && this.#installations.get(installationKey(segment));
    return of ? `${label} (${of})` : label;
  }

  /** A link to the card of a segment, which says what texts call it; also where it is printed. */
  link(id: string): Markup {
    const segment = this.#segments.get(id);
    return segment === undefined ? html`${id}` : html`<a href="#${this.anchorOf(segment)}">${this.labelOf(id)}</a>`;
  }

  links(ids: readonly string[]): Markup {
    return html`${ids.map((id, index) => html`${index > 0 && ', '}${this.link(id)}`)}`;
  }

  /** The load that its share and its headroom are of, beside them, where that is not the load of its own row. */
  withOthers({ id, supply: { shared } }: ReportSegment): Markup | null {
    const others = shared?.judgedWith.filter((one) => one !== id) ?? [];
    if (shared === null || others.length === 0) return null;
    const { list } = this.words.figures;
    const told = this.texts.columns.withOthers({
      segments: list(
        others.map((other) => this.labelOf(other)),
        MOST_NAMED,
      ),
      load: this.figures.ma(shared.loadMa),
    });
    return html` <small>${told}</small>`;
  }

  /** What a filter looks at: the verdicts and severities that segments have to do with. */
  filterable(segments: readonly ReportSegment[]): Markup {
    const severities = segments.flatMap((segment) => this.findingsOf(segment).map(({ severity }) => severity));
    return filterable(
      segments.map(({ verdict }) => verdict),
      severities,
    );
  }
}

/** What tells each installation from the others of the report; blank where there is only one. */
function installationNames({ projects }: Report): ReadonlyMap<string, string> {
  const uses = new Map<string | null, number>();
  for (const { name } of projects) uses.set(name, (uses.get(name) ?? 0) + 1);
  return new Map(
    projects.flatMap(({ id, name, installations }) => {
      const project = uses.get(name) === 1 && name ? name : id;
      return installations.map(({ number, name: own }): [key: string, name: string] => [
        installationKey({ project: id, installation: number }),
        [...(projects.length > 1 ? [project] : []), ...(installations.length > 1 ? [own ?? String(number)] : [])].join(
          ', ',
        ),
      ]);
    }),
  );
}

function installationKey({ project, installation }: Pick<ReportSegment, 'project' | 'installation'>): string {
  return `${project} ${installation}`;
}

/** The name of a segment, else of its line. */
export function fullName({ name, lineName }: ReportSegment): string {
  return name ?? lineName ?? '';
}

/** What a filter looks at: the verdicts and severities that an item has to do with. */
export function filterable(verdicts: readonly string[], severities: readonly string[]): Markup {
  return html`data-item data-verdicts="${[...new Set(verdicts)].join(' ')}" data-severities="${[...new Set(severities)].join(' ')}"`;
}
