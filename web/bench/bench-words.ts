import type { MisfitCause } from '../../engine/fitting/comparison.ts';
import type { Comparison } from '../../engine/fitting/comparison.ts';

/** Causes that would remove at least half a per cent; a change of what is hardly there says nothing. */
export const worthTelling = ({ misfitLooksLike }: Comparison): readonly MisfitCause[] =>
  misfitLooksLike.filter(({ share }) => share >= 0.005);

/** Names of unknowns as words: coreFlux -> core flux, terminationA -> termination A. */
export const unknownWords = (name: string): string =>
  name.replaceAll(/[A-Z](?=[a-z])/gu, (letter) => ` ${letter.toLowerCase()}`).replace(/([A-Z])$/u, ' $1');

/** The same inside a sentence of the engine. */
export function withUnknownWords(sentence: string, names: readonly string[]): string {
  return [...names]
    .sort((a, b) => b.length - a.length)
    .reduce((text, name) => text.replaceAll(new RegExp(`\\b${name}\\b`, 'gu'), unknownWords(name)), sentence);
}

export const percent = (share: number): string => `${Math.round(share * 100)} %`;
