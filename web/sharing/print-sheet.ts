import { VERSION } from '../../engine/base/version.ts';
import { wordsOf } from '../model/words-of.ts';
import { h, put } from '../ui/dom.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import { certaintyText } from '../model/summaries.ts';

/** On paper only: every input as typed, version and seed. */
export function createPrintSheet(): {
  readonly node: HTMLElement;
  update(raw: RawDesign, run: Run, judged: Run | undefined): void;
} {
  const list = h('dl', {});
  const made = h('p', {});
  const certain = h('p', {});
  const node = h('section', { class: 'print-sheet' }, h('h2', {}, 'Inputs as typed'), list, certain, made);
  return {
    node,
    update(raw, run, judged) {
      put(
        list,
        ...leaves(raw)
          .filter(([name]) => name !== 'name' && name !== 'note')
          .map(([name, value]) => h('div', {}, h('dt', {}, name), h('dd', {}, value))),
      );
      put(certain, certaintyText(run, judged));
      put(
        made,
        `Everything else is a default of Strobewright ${VERSION}. Seed ${run.design.stored.seed}. An estimate: measure before trusting data to it.`,
      );
    },
  };
}

/** Every value of a design file with its path in words: ["drive x rise", "40 ns"]. */
export function leaves(value: unknown, path: readonly string[] = []): (readonly [string, string])[] {
  if (Array.isArray(value)) return [[path.join(' '), shorten(JSON.stringify(value))]];
  if (typeof value === 'object' && value !== null)
    return Object.entries(value).flatMap(([name, item]) =>
      leaves(item, [...path, wordsOf(name).toLowerCase()]),
    );
  return [[path.join(' '), shorten(String(value))]];
}

const shorten = (text: string): string => (text.length > 48 ? `${text.slice(0, 47)}…` : text);
