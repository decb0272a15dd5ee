import type { Balance } from '../electrical/balance.js';
import type { Installation, Origin, Project, Segment } from '../plant/plant.js';
import type { Basis, Policy } from '../policy/policy.js';

export const SEVERITIES = ['error', 'warning', 'note'] as const;

/** Worst first in {@link SEVERITIES}. */
export type Severity = (typeof SEVERITIES)[number];

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
}

interface Words<F extends Facts> {
  /** What is wrong, in a sentence or two. */
  readonly message: (facts: F) => string;
  /** What to do here, in a sentence or two. */
  readonly advice: (facts: F) => string;
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

export type Rule =
  | (RuleDoc & { readonly scope: 'segment' } & SegmentCheck<Facts> & { readonly words: Words<Facts> })
  | (RuleDoc & { readonly scope: 'installation' } & InstallationCheck<Facts> & { readonly words: Words<Facts> });

/** A rule that judges each segment by itself. */
export function segmentRule<F extends Facts>(rule: RuleDoc & SegmentCheck<F> & Words<F>): Rule {
  return { ...rule, scope: 'segment', words: wordsOf(rule) };
}

/** A rule that looks at an installation as a whole; its findings name the segments that they concern. */
export function installationRule<F extends Facts>(rule: RuleDoc & InstallationCheck<F> & Words<F>): Rule {
  return { ...rule, scope: 'installation', words: wordsOf(rule) };
}

/** The facts that a rule's words are given are always those of its own findings. */
function wordsOf<F extends Facts>({ message, advice }: Words<F>): Words<Facts> {
  return { message, advice } as unknown as Words<Facts>;
}

export function withWords(rule: Rule, found: Found<Facts>): RawFinding {
  return { ...found, message: rule.words.message(found.facts), remedy: rule.words.advice(found.facts) };
}
