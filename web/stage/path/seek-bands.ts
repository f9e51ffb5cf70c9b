import { signal } from '@preact/signals-core';
import { createSideClient } from '../../compute/side-client.ts';
import type { SideTasks } from '../../compute/side-messages.ts';
import { physicsKey } from '../../model/physics-key.ts';
import { rawAt, withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Page } from '../../state/page.ts';
import type { ReadingBand } from './part-bands.ts';
import type { PartField } from './part-fields.ts';
import type { SliderScale } from './slider-scale.ts';

type Found = ReadingBand | 'failed';

/** A slider whose band takes runs to find. */
export interface Wanted {
  readonly field: PartField;
  readonly scale: Pick<SliderScale, 'low' | 'high'>;
  /** SI */
  readonly value: number;
}

export interface SoughtBands {
  /** Works at the bands of these while nothing else is computed, the newest gesture first; of none: ends the work. */
  seek(wanted: readonly Wanted[]): void;
  /** What is known of one; undefined: nothing yet. */
  of(wanted: Wanted): Found | undefined;
}

/** Bands kept: undo brings back a design whose bands are known. */
const MOST = 60;

/** Where inputs may stand, found in a worker of its own. A band holds while its own input is moved and nothing else is. */
export function createSoughtBands({ atoms, now }: Page): SoughtBands {
  const client = createSideClient();
  const known = signal<ReadonlyMap<string, Found>>(new Map());
  let asked: string | undefined;

  const keep = (key: string, found: Found): void => {
    asked = undefined;
    const others = [...known.value].filter(([each]) => each !== key);
    known.value = new Map([...others.slice(1 - MOST), [key, found]]);
  };
  const next = (wanted: readonly Wanted[]): { key: string; ask: SideTasks['band']['ask'] } | undefined => {
    const ensemble = now.judged.value?.ensemble;
    if (!ensemble?.corners) return undefined;
    const raw = now.raw.value;
    const all = wanted.map((each) => ({
      each,
      key: keyOf(raw, each),
      found: known.value.get(keyOf(raw, each)),
    }));
    // What is quick to know of every slider comes before what is slow.
    const todo =
      all.find(({ found }) => found === undefined) ??
      all.find(({ found }) => found !== 'failed' && found?.corners === undefined);
    if (!todo) return undefined;
    const { each, key, found } = todo;
    const nominal = found === 'failed' ? undefined : found?.nominal;
    return { key, ask: { ...askOf(raw, each), ensemble, ...(nominal ? { nominal } : {}) } };
  };
  return {
    seek(wanted) {
      const free = atoms.work.value.kind === 'idle' && now.fullyJudged.value;
      const todo = free ? next(wanted) : undefined;
      if (asked !== undefined && asked === todo?.key) return;
      if (asked !== undefined) client.cancel();
      asked = todo?.key;
      if (!todo) return;
      const { key, ask } = todo;
      client.ask('band', ask, {
        onAnswer: (bands) =>
          keep(
            key,
            ask.nominal ? { nominal: ask.nominal, corners: bands } : { nominal: bands, corners: undefined },
          ),
        onFailed: () => keep(key, 'failed'),
      });
    },
    of(wanted) {
      return known.value.get(keyOf(now.raw.value, wanted));
    },
  };
}

const written = (raw: RawDesign, { pointers, also = [] }: PartField): readonly string[] => [
  ...pointers,
  ...also.filter((pointer) => rawAt(raw, pointer) !== undefined),
];

/** Of everything but the input itself. */
function keyOf(raw: RawDesign, { field, scale: { low, high } }: Wanted): string {
  const own = written(raw, field);
  const rest = own.reduce((next, pointer) => withValueAt(next, pointer, undefined), raw);
  const place = [rawAt(raw, '/strobe/time'), rawAt(raw, '/detector/threshold')];
  return JSON.stringify([physicsKey(rest), place, own, low, high]);
}

const askOf = (raw: RawDesign, { field, scale: { low, high }, value }: Wanted) => ({
  raw,
  pointers: written(raw, field),
  unit: field.unit!,
  now: value,
  range: [low, high] as const,
  ratio: field.reach!.kind === 'ratio',
});
