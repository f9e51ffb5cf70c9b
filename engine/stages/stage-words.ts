import { formatQuantity } from '../base/format-quantity.ts';
import type { Design } from '../design/design.ts';
import { absentCores } from '../mat/populated.ts';
import { CAUSE_NAMES } from '../network/causes.ts';
import type { ChangeGroup, StageChange } from './change.ts';
import type { Stage, StageName } from './stage.ts';

const q = (value: number, unit: Parameters<typeof formatQuantity>[1], digits = 2): string =>
  formatQuantity(value, unit, digits);

/** What a stage can tell about the final design, and what it cannot. */
export interface StageTells {
  readonly tells: readonly string[];
  readonly not: readonly string[];
}

/** Cores that are there, in all mats. */
export const coresOf = (design: Design): number => {
  const { rows, columns, mats } = design.mat;
  return (rows * columns - absentCores(design).size) * mats;
};

/** What is built: cores, leads, amplifier and drivers in a sentence. */
export function stageSentence({ name, design }: Stage): string {
  const { mat } = design;
  const { length, distance, mutual } = mat.leads;
  const cores = coresOf(design);
  const leads = `Leads of ${q(length, 'm')} there and back, ${q(distance, 'm')} apart${mutual === 0 ? '' : `, ${q(mutual, 'H')} coupled to those of the sense wire`}.`;
  const there = {
    rig: `${cores} cores in the holes of ${mat.mats === 1 ? 'one frame' : `${mat.mats} frames, only the first with a sense wire: the others are dummies that load the lines`}: one X and one Y line populated.`,
    mat: `All ${cores} cores of one mat.`,
    word: `${cores} cores: those at one address, in all ${mat.mats} mats.`,
    whole: `All ${cores} cores.`,
  }[name];
  const amplifier =
    name === 'rig'
      ? 'Two probes and their difference in place of the amplifier; one X and one Y driver of the final kind, no inhibit driver.'
      : name === 'whole'
        ? 'Amplifiers and drivers as designed.'
        : `The final ${name === 'mat' ? 'amplifier' : 'amplifiers'} and drivers, on loose leads.`;
  return `${there} ${leads} ${amplifier}`;
}

export const tellsOf = (stage: Stage): StageTells => TELLS[stage.name](stage);

const TELLS: Readonly<Record<StageName, (stage: Stage) => StageTells>> = {
  rig: ({ design: { mat } }) => ({
    tells: [
      'peak, time and width of a ONE and a ZERO of your cores at your drivers’ own currents and edges',
      `what the ${mat.rows + mat.columns - 2} half-selected cores of one address add, and whether half a current switches any`,
      'volts that a driver needs into a line with cores on it',
    ],
    not: [
      'the size of the edge’s spike on the board: loose leads have a coupling of their own',
      'the inhibit, what is left of it, and a ZERO that was written',
      'delay and damping of a wire full of cores; other addresses; amplifier and detector',
    ],
  }),
  mat: ({ finalMats }) => ({
    tells: [
      'strobe window and threshold of one bit, every address and every pattern',
      'the inhibit, how long it rings, and the amplifier’s recovery from it',
      'coupling of the drive lines inside the mat, and how far cores differ',
    ],
    not: [
      finalMats === 1
        ? 'what the board’s own leads couple'
        : 'volts that X and Y need through all mats, and what the board’s own leads couple',
      'the supply with every driver at work, its peak and its sag',
      'warmth of the closed stack',
    ],
  }),
  word: ({ finalMats }) => ({
    tells: [
      `currents, edges and volts of X and Y through all ${finalMats} mats`,
      `whether one strobe suits all ${finalMats} bits; every amplifier and every inhibit driver`,
      'the supply with a whole word at work',
    ],
    not: [
      'half-select noise: there are no other cores',
      'other addresses, and delay and damping of a wire full of cores',
      'what the board’s own leads couple',
    ],
  }),
  whole: () => ({ tells: ['everything that is asked of it'], not: ['how it ages'] }),
};

/** Cores, mats and leads that a change begins and ends with. */
function groupWords(group: ChangeGroup, { before, after }: StageChange): string {
  const single = (design: Design): number => coresOf(design) / design.mat.mats;
  switch (group) {
    case 'cores':
      return `With ${single(after)} ${single(after) === 1 ? 'core' : 'cores'} in a mat in place of ${single(before)}`;
    case 'mats':
      return `With ${after.mat.mats} ${after.mat.mats === 1 ? 'mat' : 'mats'} on the lines in place of ${before.mat.mats}`;
    case 'leads': {
      const [from, to] = [before.mat.leads.length, after.mat.leads.length];
      const how = to < from ? 'shorter leads' : to > from ? 'longer leads' : 'other leads';
      return `With ${how}, ${q(to, 'm')} in place of ${q(from, 'm')}`;
    }
    case 'amplifier':
      return 'With the amplifier in place of the probes';
    case 'rest':
      return 'With all other values';
  }
}

/** V: less than this is not told. */
const TOLD = 0.1e-3;

/** The change from one stage to the next, a sentence for each thing that was changed: what it does to each cause. */
export function changeSentences(change: StageChange): readonly string[] {
  const groups = [...new Set(change.parts.map(({ group }) => group))];
  const sentences = groups.flatMap((group): string[] => {
    const moved = change.parts
      .filter((part) => part.group === group)
      .filter(({ atStrobe, greatest }) => Math.abs(atStrobe) >= TOLD || Math.abs(greatest) >= TOLD)
      .sort((a, b) => Math.abs(b.greatest) - Math.abs(a.greatest))
      .map(({ cause, atStrobe, greatest }) => {
        const strobe =
          Math.abs(atStrobe) >= TOLD
            ? `${Math.abs(greatest) >= TOLD ? ', ' : ' '}${signed(atStrobe)} at the strobe`
            : '';
        const peak =
          Math.abs(greatest) >= TOLD
            ? ` ${greatest < 0 ? 'loses' : 'gains'} ${q(Math.abs(greatest), 'V')} at its greatest`
            : ' changes by';
        return `${CAUSE_NAMES[cause].phrase}${peak}${strobe}`;
      });
    if (moved.length === 0)
      return group === 'rest' ? [] : [`${groupWords(group, change)}, nothing moves by ${q(TOLD, 'V')}.`];
    return [`${groupWords(group, change)}, ${moved.join('; ')}.`];
  });
  const { before, after } = change.total;
  return [
    ...sentences,
    `In all the ONE at the strobe goes from ${q(before.atStrobe, 'V', 3)} to ${q(after.atStrobe, 'V', 3)}, the greatest voltage of the read from ${q(before.greatest, 'V', 3)} to ${q(after.greatest, 'V', 3)}.`,
  ];
}

const signed = (volts: number): string => `${volts < 0 ? '−' : '+'}${q(Math.abs(volts), 'V')}`;
