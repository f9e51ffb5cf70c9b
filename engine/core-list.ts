/** The reader's own cores, kept in the browser's storage and moved by file. */
export interface OwnCore {
  readonly name: string;
  /** A handbook file: values as text with their units. */
  readonly handbook: Readonly<Record<string, unknown>>;
}

const KEY = 'strobewright.cores';
/** Cores kept at most. */
export const MOST_CORES = 100;

/** Cores of a file or of the storage; undefined when it is not a list of cores. */
export function readCores(text: string): readonly OwnCore[] | undefined {
  try {
    const json: unknown = JSON.parse(text);
    const cores = typeof json === 'object' && json !== null ? (json as { cores?: unknown }).cores : undefined;
    if (!Array.isArray(cores)) return undefined;
    return cores.every(isCore) ? cores.slice(0, MOST_CORES) : undefined;
  } catch {
    return undefined;
  }
}

export const writeCores = (cores: readonly OwnCore[]): string => `${JSON.stringify({ cores }, null, 2)}\n`;

/** Newest first; a core of the same name is replaced. */
export function withCore(cores: readonly OwnCore[], core: OwnCore): readonly OwnCore[] {
  return [core, ...cores.filter(({ name }) => name !== core.name)].slice(0, MOST_CORES);
}

export const withoutCore = (cores: readonly OwnCore[], name: string): readonly OwnCore[] =>
  cores.filter((core) => core.name !== name);

function isCore(value: unknown): value is OwnCore {
  if (typeof value !== 'object' || value === null) return false;
  const { name, handbook } = value as Record<string, unknown>;
  return typeof name === 'string' && name !== '' && typeof handbook === 'object' && handbook !== null;
}

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
