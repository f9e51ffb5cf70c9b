import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { packFiles } from '../../engine/pack/build-pack.ts';
import type { BuildPack } from '../../engine/pack/pack.ts';
import { metresOf } from '../../engine/pack/threading.ts';
import { verdictSentence } from '../../engine/strobe/verdict-words.ts';

/** The pack in short for a terminal; the sheets themselves are files. */
export function packText(pack: BuildPack, folder: string | undefined): string {
  const { design, window, threading, timing, parts, plan, measuring } = pack;
  const readings = measuring.measurements.reduce((sum, { readings }) => sum + readings.length, 0);
  const q = (value: number, unit: Parameters<typeof formatQuantity>[1]): string =>
    formatQuantity(value, unit, 3);
  const sense = threading.wires.filter((wire) => wire.kind === 'sense');
  return [
    verdictSentence(design, window),
    '',
    `Threading: ${threading.wires.length} kinds of wire, ${q(metresOf(threading), 'm')} in all; ${sense.map((w) => `${w.name} ${q(w.cut, 'm')}, ${q(w.resistance, 'ohm')}`).join('; ')}.`,
    `Timing: ${timing.edges.length} edges in a cycle of ${q(timing.period, 's')}, strobe at ${q(timing.strobe, 's')}.`,
    `One core first: ${readings} readings in ${measuring.measurements.length} measurements, with what to expect of each.`,
    `First power-up: ${plan.length} steps, from ${plan[0]!.title.toLowerCase()} to ${plan.at(-1)!.title.toLowerCase()}.`,
    '',
    ...parts.map(({ count, what, value }) => `  ${count} × ${what}: ${value}`),
    '',
    folder === undefined
      ? 'With --output FOLDER the sheets are written as files.'
      : `Written to ${folder}: ${Object.keys(packFiles(pack)).join(', ')}.`,
    '',
  ].join('\n');
}
