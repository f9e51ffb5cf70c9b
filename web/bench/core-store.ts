import { readCores, writeCores, type OwnCore } from '../../engine/core/handbook/core-list.ts';

const KEY = 'strobewright.cores';

/** Storage that may be missing, full or forbidden: nothing is lost silently. */
export interface CoreStore {
  load(): readonly OwnCore[];
  /** False when the browser did not keep them. */
  save(cores: readonly OwnCore[]): boolean;
}

export function createCoreStore(storage: () => Pick<Storage, 'getItem' | 'setItem'>): CoreStore {
  return {
    load() {
      try {
        return readCores(storage().getItem(KEY) ?? '') ?? [];
      } catch {
        return [];
      }
    },
    save(cores) {
      try {
        storage().setItem(KEY, writeCores(cores));
        return true;
      } catch {
        return false;
      }
    },
  };
}
