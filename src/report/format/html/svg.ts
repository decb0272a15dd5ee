import { type Content, html, type Markup } from './markup.js';

interface Picture {
  /** Unique on the page. */
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly width: number;
  readonly height: number;
}

/** A chart as a picture with a name and a description, which scrolls by itself where it is too wide. */
export function picture({ id, title, description, width, height }: Picture, content: Content): Markup {
  return html`<div class="scroll" role="group" tabindex="0" aria-label="${title}"><svg class="chart" role="img" aria-labelledby="${id}-t" aria-describedby="${id}-d" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}"><title id="${id}-t">${title}</title><desc id="${id}-d">${description}</desc>
${content}</svg></div>
`;
}

/** A coordinate to a tenth, so that no last digit depends on the machine. */
export function at(value: number): number {
  return Math.round(value * 10) / 10;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function box({ x, y, width, height }: Box, kind: string): Markup {
  return html`<rect class="${kind}" x="${at(x)}" y="${at(y)}" width="${at(width)}" height="${at(height)}"/>`;
}

export function line(x1: number, y1: number, x2: number, y2: number, kind: string): Markup {
  return html`<path class="${kind}" d="M${at(x1)} ${at(y1)}L${at(x2)} ${at(y2)}"/>`;
}

export type Anchor = 'start' | 'middle' | 'end';

export function label(x: number, y: number, content: string, anchor: Anchor = 'start', kind = 'label'): Markup {
  return html`<text class="${kind}" x="${at(x)}" y="${at(y)}"${anchor !== 'start' && html` text-anchor="${anchor}"`}>${content}</text>`;
}

export type Hatch = 'none' | 'rising' | 'falling' | 'crossed';

const STEP = 6;

/** Strokes over a box, so that it is told apart without its colour; drawn one by one, as a pattern needs a reference. */
export function hatched(area: Box, hatch: Hatch): Markup | false {
  const rising = hatch === 'rising' || hatch === 'crossed' ? strokes(area, false) : '';
  const falling = hatch === 'falling' || hatch === 'crossed' ? strokes(area, true) : '';
  return rising + falling !== '' && html`<path class="hatch" d="${rising}${falling}"/>`;
}

/** Points of a stroke are as far from one corner along both sides together; the box bounds them. */
function strokes({ x, y, width, height }: Box, isMirrored: boolean): string {
  const across = (offset: number) => at(isMirrored ? x + width - offset : x + offset);
  let path = '';
  for (let sum = STEP; sum < width + height; sum += STEP) {
    const right = Math.min(sum, width);
    const down = Math.min(sum, height);
    path += `M${across(right)} ${at(y + sum - right)}L${across(sum - down)} ${at(y + down)}`;
  }
  return path;
}

export function filled(area: Box, kind: string, hatch: Hatch): Markup {
  return html`${box(area, kind)}${hatched(area, hatch)}`;
}

const LONGEST_LABEL = 40;

/** A name as it fits beside a bar; the table behind has all of it. */
export function short(text: string, most = LONGEST_LABEL): string {
  const letters = [...text];
  return letters.length > most ? `${letters.slice(0, most - 1).join('')}…` : text;
}
