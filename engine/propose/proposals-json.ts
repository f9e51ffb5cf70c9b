import { VERSION } from '../base/version.ts';
import { toJsonDocument } from '../export/serialise.ts';
import type { Proposals } from './answer.ts';
import type { Proved } from './prove.ts';
import type { Needs } from './needs.ts';
import { combinationWords } from './build-words.ts';
import { coreWords, whyWords } from './proposal-words.ts';
import { proposalsSentence, rejectedWords, relaxedWords } from './answer-words.ts';

/** The answer to needs as a document: numbers in SI, each with its sentence beside it. The same bytes at every door. */
export function proposalsJson(needs: Needs, answer: Proposals): string {
  const { met, complete, proposals, rejected, nearest, relax } = answer;
  const cores = needs.cores.length;
  const named = <T extends Pick<Proved, 'combination'>>(item: T) => ({
    name: combinationWords(item.combination, cores),
    ...item,
  });
  return toJsonDocument({
    version: VERSION,
    needs: needs.raw,
    met,
    complete,
    sentence: proposalsSentence(answer),
    proposals: proposals.map((item) => ({
      ...named(item),
      limits: whyWords(item),
      unknown: coreWords(item) ?? null,
    })),
    rejected: rejected.map((item) => ({ ...named(item), reason: rejectedWords(item) })),
    nearest: nearest && named(nearest),
    relax: relax.map((item) => ({ ...item, sentence: relaxedWords(item) })),
  });
}
