import type { Design } from '../../design/design.ts';
import type { WindowAnswer } from '../../strobe/window-result.ts';

/** Which limit is hit first at a strobe that lies in no window. `uncertainty`: V, of the threshold. */
export function closedWords(uncertainty: number, margin: WindowAnswer['margin']): string {
  if (margin.one < uncertainty && margin.zero < uncertainty) return 'false ZERO and false ONE';
  if (margin.one < uncertainty) return 'false ZERO: a ONE stays under the threshold';
  if (margin.zero < uncertainty) return 'false ONE: a ZERO is over the threshold';
  return 'strobe too near an edge of the window';
}

/** What a window that reads has less of than is required. */
export function shortWords({ requirement }: Design, margin: WindowAnswer['margin']): string {
  if (requirement.margin > 0 && margin.one < margin.zero) return 'less than the required margin of the ONE';
  return requirement.margin > 0
    ? 'less than the required margin of the ZERO'
    : 'window narrower than required';
}
