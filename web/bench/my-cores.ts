import { signal, type ReadonlySignal } from '@preact/signals-core';
import {
  readCores,
  withCore,
  withoutCore,
  writeCores,
  type OwnCore,
} from '../../engine/core/handbook/core-list.ts';
import { saveFile } from '../sharing/save.ts';
import type { Said } from '../ui/status.ts';
import { createCoreStore } from './core-store.ts';

/** Bytes: a core is some hundred. */
const MAX_CORE_LIST = 5_000_000;

/** The reader's own list of cores, which the browser keeps. */
export interface MyCores {
  readonly cores: ReadonlySignal<readonly OwnCore[]>;
  /** What came of the last thing that was done with them. */
  readonly said: ReadonlySignal<Said | undefined>;
  say(said: Said): void;
  add(core: OwnCore): void;
  remove(core: OwnCore): void;
  saveAsFile(): void;
  /** Adds the cores of a file. */
  openFile(file: File): Promise<void>;
}

export function createMyCores(): MyCores {
  const store = createCoreStore(() => localStorage);
  const cores = signal(store.load());
  const said = signal<Said | undefined>(undefined);
  const say = (next: Said): void => {
    said.value = next;
  };
  const keep = (next: readonly OwnCore[], words: string): void => {
    cores.value = next;
    if (store.save(next)) say({ sign: 'ok', text: words });
    else
      say({
        sign: 'warning',
        text: `${words} The browser does not keep it beyond this page: save the list as a file.`,
      });
  };
  return {
    cores,
    said,
    say,
    add: (core) => keep(withCore(cores.value, core), `${core.name} is in your list.`),
    remove: ({ name }) => keep(withoutCore(cores.value, name), `${name} was taken out of your list.`),
    saveAsFile: () => saveFile('my-cores.json', 'application/json', writeCores(cores.value)),
    async openFile(file) {
      const opened = await readFile(file);
      if (typeof opened === 'string')
        return say({ sign: 'error', text: `${opened} Your list was left as it is.` });
      keep(
        [...opened].reverse().reduce(withCore, cores.value),
        `${opened.length === 1 ? 'One core' : `${opened.length} cores`} of ${file.name} ${opened.length === 1 ? 'is' : 'are'} in your list.`,
      );
    },
  };
}

/** The cores of a file, or what is wrong with it. */
async function readFile(file: File): Promise<readonly OwnCore[] | string> {
  const { name, size } = file;
  if (size > MAX_CORE_LIST)
    return `${name} must be a list of cores of at most ${MAX_CORE_LIST / 1e6} MB; it has ${Math.round(size / 1e6)} MB.`;
  return (
    readCores(await file.text()) ??
    `${name} is not a list of cores: it must be a file saved here, or a handbook file of one core.`
  );
}
