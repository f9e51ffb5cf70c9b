import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { unitOf } from '../../engine/design/schema/core.ts';
import type { SeveralFit } from '../../engine/fitting/jig/fit-several.ts';
import { textTable } from './table.ts';

/** A core fitted to several captures, for a reader: each parameter with its range, how each capture lies, what is open. */
export function severalFitText({ core, unknowns, shown, captures, rms, notes }: SeveralFit): string {
  const rows = unknowns.map((name) => {
    const { low, high, from } = core.range[name];
    const value = (at: number): string => formatQuantity(at, unitOf(name), 3);
    const origin = shown.includes(name) ? 'measured' : `${from}, not shown by the captures`;
    return [name, value(core.parameters[name]), `${value(low)} to ${value(high)}`, origin];
  });
  const lying = captures.map(({ name, rms: own, share, scale, start, gain }) => [
    name,
    formatQuantity(own, 'V', 2),
    `${(100 * share).toFixed(1)} %`,
    `× ${scale.toFixed(3)}`,
    formatQuantity(start, 's', 2),
    `× ${gain.toFixed(2).replace('-', '−')}`,
  ]);
  return [
    `${core.name}\n${core.source}\n`,
    `Parameters at 25 °C\n${textTable([['', 'value', 'range (95 %)', 'from'], ...rows])}`,
    `How the captures lie on the model: ${formatQuantity(rms, 'V', 2)} rms over all that is compared\n` +
      textTable([['', 'rms', 'of its peak', 'current', 'current later by', 'voltage'], ...lying]),
    notes.length === 0 ? '' : `To know before it is used\n${notes.map((note) => `  ${note}\n`).join('')}`,
  ].join('\n');
}
