/** One of the reader's own cores: in a list that is moved by file. */
export interface OwnCore {
  readonly name: string;
  /** A handbook file: values as text with their units. */
  readonly handbook: Readonly<Record<string, unknown>>;
}

/** Cores kept at most. */
export const MOST_CORES = 100;

/** Cores of the text of a list, or of one handbook file; undefined when it is neither. */
export function readCores(text: string): readonly OwnCore[] | undefined {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return undefined;
  }
  if (typeof json !== 'object' || json === null) return undefined;
  const { cores, name, fullDrive } = json as Record<string, unknown>;
  if (Array.isArray(cores)) return cores.every(isCore) ? cores.slice(0, MOST_CORES) : undefined;
  if (typeof fullDrive !== 'string') return undefined;
  const own = typeof name === 'string' && name.trim() !== '' ? name : 'core without a name';
  return [{ name: own, handbook: json as OwnCore['handbook'] }];
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
