import type { Design, DesignWarning } from '../../engine/index.ts';
import { describeDesign } from './words.ts';

/** The warnings of a design, one paragraph each. */
export function checkText(design: Design, warnings: readonly DesignWarning[]): string {
  const head = describeDesign(design);
  if (warnings.length === 0) return `${head}\nThe design is valid and nothing is to be warned of.\n`;
  const items = warnings.map(({ message, remedy, field }) => `! ${message} ${remedy} (${field})\n`);
  const count = warnings.length === 1 ? 'one warning' : `${warnings.length} warnings`;
  return `${head}\nThe design is valid, with ${count}.\n\n${items.join('\n')}`;
}
