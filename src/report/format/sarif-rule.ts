import type { ReportingDescriptor } from 'sarif';
import { sourceText } from '../../rules/words.js';
import type { ReportRule } from '../report.js';
import { markdownText } from './markdown-text.js';

/** A rule as SARIF describes it (OASIS SARIF 2.1.0, 3.49): also one that is off or has found nothing. */
export function sarifRule(rule: ReportRule): ReportingDescriptor {
  const { id, title, severity, inForce, why, limit, basis, source } = rule;
  return {
    id,
    name: nameOf(id),
    shortDescription: { text: title },
    fullDescription: { text: why },
    help: helpOf(rule),
    defaultConfiguration: { level: inForce === 'off' ? severity : inForce, enabled: inForce !== 'off' },
    properties: { severity, limit, basis, source },
  };
}

/** `overloaded-segment` → `OverloadedSegment`. */
function nameOf(id: string): string {
  return id.replace(/(?:^|-)(.)/g, (_, letter: string) => letter.toUpperCase());
}

function helpOf(rule: ReportRule): { text: string; markdown: string } {
  const sections: readonly (readonly [heading: string, text: string])[] = [
    ['Why', rule.why],
    ['Limit', rule.limit],
    ['Source', sourceText(rule)],
    ['Do', rule.remedy],
  ];
  return {
    text: sections.map(([heading, text]) => `${heading}: ${text}`).join('\n'),
    markdown: sections.map(([heading, text]) => `**${heading}:** ${markdownText(text)}`).join('\n\n'),
  };
}
