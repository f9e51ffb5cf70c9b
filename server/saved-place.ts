import { createHash } from 'node:crypto';
import { PART } from './disk.ts';
import { shorten } from './query.ts';
import { RequestError } from './request-error.ts';

export const ABOUT = 'about.json';
/** Who holds such a file beside a version may write that version, where names cannot be given exclusively. */
export const CLAIM = /\.claim$/;

/** A sub-folder of saved work as `placeOf` names it; whatever is named otherwise is somebody else's. */
export const isPlace = (name: string): boolean => /^[a-z0-9-]{0,40}-[0-9a-f]{16}$/.test(name);

/** How the files of a sub-folder are named. */
export function fileNames(extension: string) {
  const version = new RegExp(`^(\\d{6,15})\\.${extension}$`);
  const toVersion = (name: string): number | undefined => {
    const digits = version.exec(name)?.[1];
    return digits === undefined ? undefined : Number(digits);
  };
  return {
    ofVersion: (number: number): string => `${String(number).padStart(6, '0')}.${extension}`,
    /** Undefined for a file that is no version. */
    toVersion,
    /** Is it a file that is being written, or the claim of a version? */
    isTemporary: (name: string): boolean => {
      const target = name.replace(PART, '').replace(CLAIM, '');
      return target !== name && (target === ABOUT || toVersion(target) !== undefined);
    },
  };
}
export type FileNames = ReturnType<typeof fileNames>;

/** Letters and digits of the name for a reader, and a hash that tells names apart. Refuses what is no name. */
export function placeOf(name: string): string {
  // oxlint-disable-next-line no-control-regex -- control characters are what is refused
  if (name.trim() === '' || name.length > 100 || /[\u0000-\u001f\u007f]/.test(name)) {
    throw new RequestError(422, {
      code: 'bad-name',
      message: `A name must have 1 to 100 characters and no control characters; received ${shorten(name)}: give another.`,
      limit: 100,
    });
  }
  const normal = name.normalize('NFC');
  const words = normal
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-');
  const hash = createHash('sha256').update(normal).digest('hex').slice(0, 16);
  return `${words.replaceAll(/^-+|-+$/g, '').slice(0, 40)}-${hash}`;
}

/** The name that `about.json` of a place gives; undefined where it is damaged or tells of another place. */
export function nameIn(about: Buffer, place: string): string | undefined {
  try {
    const { name } = JSON.parse(about.toString()) as { readonly name?: unknown };
    return typeof name === 'string' && placeOf(name) === place ? name : undefined;
  } catch {
    return undefined;
  }
}

export const aboutText = (name: string): Buffer => Buffer.from(`${JSON.stringify({ name })}\n`);
