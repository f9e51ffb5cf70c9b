import { batch } from '@preact/signals-core';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import { MAX_PINS, type Atoms, type Pin } from './atoms.ts';
import type { Derived } from './derived.ts';

/** What a reader can do with designs that are kept beside the one on the stage. */
export function pinGestures({ pins }: Atoms, now: Derived, edit: (raw: RawDesign) => void) {
  const replace = (index: number, pin: Pin): void => {
    pins.value = pins.value.map((each, i) => (i === index ? pin : each));
  };
  return {
    /** Keeps a judged design beside the others: the one of now, or `other`. */
    pin: (other?: { readonly raw: RawDesign; readonly run: Run }) => {
      const run = other?.run ?? now.judged.value;
      if (!run || pins.value.length >= MAX_PINS) return;
      const raw = other?.raw ?? now.raw.value;
      pins.value = [...pins.value, { name: nameOf(raw), raw, run }];
    },
    unpin: (index: number) => {
      pins.value = pins.value.filter((_, i) => i !== index);
    },
    renamePin: (index: number, name: string) => {
      const pin = pins.value[index];
      if (pin && name !== '') replace(index, { ...pin, name });
    },
    /** The pinned design comes onto the stage and the one that stood there takes its place: one step of undo. */
    swapPin: (index: number) => {
      const [pin, run] = [pins.value[index], now.judged.value];
      if (!pin || !run || now.judgedIsOld.value) return;
      const raw = now.raw.value;
      batch(() => {
        replace(index, { name: nameOf(raw), raw, run });
        edit(pin.raw);
      });
    },
  };
}

const nameOf = (raw: RawDesign): string => String(rawAt(raw, '/name') ?? 'untitled');
