import type { Language } from '../../state/atoms.ts';
import type { Words } from './shape.ts';

/** Languages that the lessons are told in, each under its own name. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = { en: 'English', de: 'Deutsch' };

/** The texts of a language, fetched when it is chosen. */
export async function loadWords(language: Language): Promise<Words> {
  switch (language) {
    case 'en':
      return (await import('./en/en.ts')).en;
    case 'de':
      return (await import('./de/de.ts')).de;
  }
}
