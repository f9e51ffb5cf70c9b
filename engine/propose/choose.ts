import type { Proof, Proved } from './prove.ts';
import type { Needs } from './needs.ts';

/** What a proposal is best at among the others. */
export type Merit =
  'widest margin' | 'least current' | 'fewest drivers and amplifiers' | 'shortest cycle' | 'easiest to wind';

/** A build that does all that is asked for, with what the strobe window of its file says. */
export interface Proposal extends Proved {
  readonly merits: readonly Merit[];
  readonly proof: Proof;
}

const MOST_PROPOSALS = 5;

/** What each merit compares, less is better. */
const MERITS: Readonly<Record<Merit, (proposal: Omit<Proposal, 'merits'>) => number>> = {
  'widest margin': ({ proof }) => -proof.margin,
  'least current': ({ proof }) => proof.supplyAverage,
  'fewest drivers and amplifiers': ({ proof }) => proof.drivers + proof.amplifiers,
  'shortest cycle': ({ proof }) => proof.shortestCycle,
  'easiest to wind': ({ combination, proof }) => proof.wires * 100 + windingEffort(combination.winding),
};

/** By what comes first for whoever asks. */
const PREFERRED: Readonly<Record<Needs['prefer'], Merit>> = {
  margin: 'widest margin',
  current: 'least current',
  drivers: 'fewest drivers and amplifiers',
  cycle: 'shortest cycle',
};

/** One run is wound straight through; two halves cross in the middle; diagonals and crossed columns take longest. */
const windingEffort = (kind: Proved['combination']['winding']): number =>
  ['shared-one-run', 'shared-two-halves', 'separate-rectangular', 'separate-diagonal'].indexOf(kind);

/** The builds that no other beats in everything, the preferred one first, each with what it is best at. */
export function nameProposals(needs: Needs, proved: readonly Proved[]): readonly Proposal[] {
  const all = proved.flatMap((item) => (item.proof ? [{ ...item, proof: item.proof }] : []));
  const measures = Object.values(MERITS);
  const beaten = (one: (typeof all)[number]): boolean =>
    all.some(
      (other) =>
        other !== one &&
        measures.every((measure) => measure(other) <= measure(one)) &&
        measures.some((measure) => measure(other) < measure(one)),
    );
  const front = all.filter((one) => !beaten(one));
  const first = MERITS[PREFERRED[needs.prefer]];
  return front
    .map((one) => ({
      ...one,
      merits: (Object.keys(MERITS) as Merit[]).filter((merit) =>
        front.every((other) => MERITS[merit](one) <= MERITS[merit](other)),
      ),
    }))
    .sort((a, b) => first(a) - first(b))
    .slice(0, MOST_PROPOSALS);
}
