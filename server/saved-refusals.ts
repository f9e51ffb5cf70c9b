import { shorten } from './query.ts';
import { RequestError } from './request-error.ts';

export function unknownName(name: string, version: number | undefined): RequestError {
  const what = version === undefined ? shorten(name) : `${shorten(name)} in version ${version}`;
  return new RequestError(404, {
    code: 'not-found',
    message: `Nothing is saved as ${what}: the list says what is.`,
  });
}

export function otherVersion(expected: number, newest: number): RequestError {
  return new RequestError(412, {
    code: 'other-version',
    message: `Version ${expected} was to be followed, but ${newest} is the newest: read it, then save again.`,
    limit: newest,
  });
}

export function tooMany(limit: number): RequestError {
  return new RequestError(422, {
    code: 'too-many-saved',
    message: `At most ${limit} names may be saved and as many are: remove one first.`,
    limit,
  });
}

/** A disk that does not do its work, without a path. */
export function diskRefusal(code: string): RequestError {
  const full = code === 'ENOSPC' || code === 'EDQUOT';
  return new RequestError(507, {
    code: full ? 'disk-full' : 'disk-fault',
    message: `The folder of saved work cannot be read or written (${code || 'unknown fault'}) and what was saved before is as it was: ${full ? 'make room' : 'check the folder given with --data'}.`,
  });
}
