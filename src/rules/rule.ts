import type { Balance } from '../electrical/balance.js';
import type { InputPlace } from '../errors.js';
import type { Installation, Origin, Project, Segment } from '../plant/plant.js';
import type { Basis } from '../policy/basis.js';
import type { Policy, PolicyKey, Severity } from '../policy/policy.js';
import type { Site } from '../site/site.js';
import { EN } from '../words/en/words.js';
import type { Source } from '../words/facts.js';
import type { Words } from '../words/words.js';
import type { JudgedWaiver } from './judged-waiver.js';

/** What a rule tells of itself: printed in the README, on the command line, over HTTP and in the report. */
export interface RuleDoc {
  readonly id: string;
  readonly title: string;
  readonly severity: Severity;
  /** Why it matters on site. */
  readonly why: string;
  /** What to do about it, in general; a finding says it for its own case. */
  readonly remedy: string;
  /** The limit or fact that it holds the plant against. */
  readonly limit: string;
  readonly basis: Basis;
  readonly source: string;
}

/** What a finding is about. The id is the archive's, so that it outlasts a new address or name. */
export interface Subject {
  readonly kind: 'segment' | 'line' | 'device' | 'product' | 'address' | 'project';
  readonly id: string;
  readonly label: string;
  /** Where the archive has it; without a part, in the installation's. */
  readonly place: InputPlace;
}

/**
 * The figure that a finding hangs on, and what it is held against. Every finding has one, so that whoever waives it, or
 * compares it with an earlier one, knows when it is no longer the same.
 */
export interface Measure {
  /** What is counted or measured, in a word or two. */
  readonly quantity: string;
  readonly unit: string;
  /** Null where nobody knows it, which then is the finding. */
  readonly value: number | null;
  /** Null where nobody knows it. */
  readonly limit: number | null;
  /** Which side of the limit is right; the limit itself is, but for `below`. */
  readonly holds: 'at most' | 'at least' | 'below';
  /** The value of the policy that the limit is, or is made with; left out where it is the rule's own. */
  readonly setBy?: PolicyKey;
  /** What a share of 100 % is, in the unit, where a share is usual. */
  readonly whole?: number | null;
  /** The average that each assumed item could draw before the finding turns, mA, where it rests on such. */
  readonly breakEvenMa?: number | null;
}

/** Numbers with their unit in the name, ids and names: what the texts of a finding are made from. */
export type Fact = string | number | boolean | null | readonly Fact[] | { readonly [name: string]: Fact };
export type Facts = Readonly<Record<string, Fact>>;

/** What a rule finds: facts, and what they concern. */
export interface Found<F extends Facts> {
  readonly subject: Subject;
  readonly facts: F;
  /** Segments concerned; none where the finding is about the installation. */
  readonly segments: readonly Segment[];
  readonly measure: Measure;
  readonly restsOn: Origin;
  /** Where it is not the rule's own. */
  readonly severity?: Severity;
}

/** A finding with its words. */
export interface RawFinding extends Found<Facts> {
  readonly message: string;
  readonly remedy: string;
}

/** All that a rule may look at. */
export interface RuleContext {
  readonly project: Project;
  readonly installation: Installation;
  readonly balances: readonly Balance[];
  readonly policy: Policy;
  /** What the site sheet says; null where none was given. */
  readonly site: Site | null;
  /** What texts are made of. No judgement depends on them. */
  readonly words: Words;
}

/** What a rule says of a finding; of a plan it may have to say it in other words. */
interface Sentences {
  /** What is wrong, in a sentence or two. */
  readonly message: (facts: Facts, source?: Source) => string;
  /** What to do here, in a sentence or two. */
  readonly advice: (facts: Facts, source?: Source) => string;
}

/** The rules that there are texts for. */
type RuleId = keyof Words['rules'];

/** What the texts of a rule are made from, whatever the language: the facts of its findings have to give it. */
type FactsFor<Id extends RuleId> = ParameterOf<Words['rules'][Id]['message']> &
  ParameterOf<Words['rules'][Id]['advice']>;
type ParameterOf<T> = T extends (facts: infer F, source?: Source) => string ? F : never;

/** What a rule is, without its texts. */
interface RuleHead<Id extends RuleId> extends Pick<RuleDoc, 'severity' | 'basis'> {
  readonly id: Id;
}

interface SegmentCheck<F extends Facts> {
  /** The fact that is missing to judge a segment, null if none is. */
  readonly missing?: (balance: Balance, context: RuleContext) => string | null;
  readonly check: (balance: Balance, context: RuleContext) => Iterable<Found<F>>;
}

interface InstallationCheck<F extends Facts> {
  readonly missing?: (balance: Balance, context: RuleContext) => string | null;
  readonly check: (context: RuleContext) => Iterable<Found<F>>;
}

/** What a rule finds about a waiver. What the waiver is for, the finding takes over from there. */
export interface WaiverFound<F extends Facts> {
  readonly judged: JudgedWaiver;
  readonly measure: Measure;
  readonly facts: F;
}

interface WaiversCheck<F extends Facts> {
  readonly check: (judged: readonly JudgedWaiver[], words?: Words) => Iterable<WaiverFound<F>>;
}

/** A rule that judges the plant. */
export type PlantRule =
  | (RuleDoc & { readonly scope: 'segment' } & SegmentCheck<Facts> & { readonly words: Sentences })
  | (RuleDoc & { readonly scope: 'installation' } & InstallationCheck<Facts> & { readonly words: Sentences });

/** A rule that judges what was accepted, once the findings are there. */
export type WaiverRule = RuleDoc & { readonly scope: 'waivers' } & WaiversCheck<Facts> & {
    readonly words: Sentences;
  };

export type Rule = PlantRule | WaiverRule;

/** A rule that judges each segment by itself. */
export function segmentRule<Id extends RuleId, F extends Facts & FactsFor<Id>>(
  rule: RuleHead<Id> & SegmentCheck<F>,
): PlantRule {
  return { ...rule, ...textsOf(rule.id, EN), scope: 'segment' };
}

/** A rule that looks at an installation as a whole; its findings name the segments that they concern. */
export function installationRule<Id extends RuleId, F extends Facts & FactsFor<Id>>(
  rule: RuleHead<Id> & InstallationCheck<F>,
): PlantRule {
  return { ...rule, ...textsOf(rule.id, EN), scope: 'installation' };
}

/** A rule that judges waivers. */
export function waiverRule<Id extends RuleId, F extends Facts & FactsFor<Id>>(
  rule: RuleHead<Id> & WaiversCheck<F>,
): WaiverRule {
  return { ...rule, ...textsOf(rule.id, EN), scope: 'waivers' };
}

/** The same rule in another language. */
export function inWords<R extends Rule>(rule: R, words: Words): R {
  return { ...rule, ...textsOf(rule.id as RuleId, words) };
}

/** The facts that a rule's sentences are given are always those of its own findings. */
function textsOf(id: RuleId, words: Words) {
  const { message, advice, ...doc } = words.rules[id];
  return { ...doc, words: { message, advice } as unknown as Sentences };
}

export function withWords(rule: PlantRule, found: Found<Facts>, { project }: Pick<RuleContext, 'project'>): RawFinding {
  const source = project.schema === null ? 'plan' : 'archive'; // only an export has a schema
  return { ...found, message: rule.words.message(found.facts, source), remedy: rule.words.advice(found.facts, source) };
}
